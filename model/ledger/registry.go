package ledger

import (
	"slices"

	"brine/wrasse/model"
)

// registry keeps the latest definition of each id, in the order of first definition.
type registry[D model.Body] struct {
	order []model.ID
	byID  map[model.ID]D
	seqs  map[model.ID][]model.Seq // of the entries that defined it
}

// definitions is the part of a registry that does not depend on what it defines.
type definitions interface {
	own()                                     // makes a clone's its own, so that it can be written to
	has(id model.ID, before model.Seq) bool   // something was defined before an entry was written
	pack(*packer) error                       // writes it to a snapshot
	unpack(*unpacker) (decode []func() error) // reads it, and is what decodes the definitions
}

// definitions are those of a kind; nil of a kind that defines nothing under an id.
func (b *Book) definitions(kind model.Kind) definitions {
	switch kind {
	case model.KindPlace:
		return &b.places
	case model.KindComponent:
		return &b.components
	case model.KindCounter:
		return &b.counters
	case model.KindGauge:
		return &b.gauges
	case model.KindSpare:
		return &b.spares
	case model.KindVessel:
		return &b.vessels
	case model.KindChore:
		return &b.chores
	}
	return nil
}

func (r *registry[D]) own() {
	r.order, r.byID, r.seqs = slices.Clip(r.order), copied(r.byID), copied(r.seqs)
}

func (r *registry[D]) has(id model.ID, before model.Seq) bool {
	seqs := r.seqs[id]
	return len(seqs) > 0 && seqs[0] < before
}

// put takes in a definition written at a seq.
func (r *registry[D]) put(id model.ID, d D, seq model.Seq) {
	if _, ok := r.byID[id]; !ok {
		r.order = append(r.order, id)
	}
	r.byID[id] = d
	r.seqs[id] = append(slices.Clip(r.seqs[id]), seq)
}

// at is the definition that held when an entry was written: the latest itself, or the seq of an earlier one; ok is
// false when there was none yet.
func (r registry[D]) at(id model.ID, seq model.Seq) (latest bool, by model.Seq, ok bool) {
	seqs := r.seqs[id]
	n, _ := slices.BinarySearch(seqs, seq)
	if n == 0 {
		return false, 0, false
	}
	return n == len(seqs), seqs[n-1], true
}

func (r registry[D]) get(id model.ID) (D, bool) {
	d, ok := r.byID[id]
	return d, ok
}

// find gives the first definition, in the order they were made, that a test accepts.
func (r registry[D]) find(is func(D) bool) (d D, ok bool) {
	for _, id := range r.order {
		if d := r.byID[id]; is(d) {
			return d, true
		}
	}
	return d, false
}

func (r registry[D]) all() []D {
	out := make([]D, len(r.order))
	for i, id := range r.order {
		out[i] = r.byID[id]
	}
	return out
}

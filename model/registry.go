package model

import (
	"maps"
	"slices"
)

// registry keeps the latest definition of each id, in the order of first definition.
type registry[D any] struct {
	order []ID
	byID  map[ID]D
	seqs  map[ID][]Seq // of the entries that defined it
}

func (r registry[D]) clone() registry[D] {
	return registry[D]{slices.Clip(r.order), maps.Clone(r.byID), maps.Clone(r.seqs)}
}

// put takes in a definition written at a seq.
func (r *registry[D]) put(id ID, d D, seq Seq) {
	if r.byID == nil {
		r.byID, r.seqs = map[ID]D{}, map[ID][]Seq{}
	}
	if _, ok := r.byID[id]; !ok {
		r.order = append(r.order, id)
	}
	r.byID[id] = d
	r.seqs[id] = append(slices.Clip(r.seqs[id]), seq)
}

// place is the place of an id in the order of first definition.
func (r registry[D]) place(id ID) int {
	if n := len(r.order); n > 0 && r.order[n-1] == id {
		return n - 1
	}
	return slices.Index(r.order, id)
}

// load takes in an id with the seqs of its definitions, the latest of which is still to come.
func (r *registry[D]) load(id ID, seqs []Seq) {
	if r.byID == nil {
		r.byID, r.seqs = map[ID]D{}, map[ID][]Seq{}
	}
	r.order = append(r.order, id)
	r.seqs[id] = seqs
}

// at is the definition that held when an entry was written: the latest itself, or the seq of an earlier one; ok is
// false when there was none yet.
func (r registry[D]) at(id ID, seq Seq) (latest bool, by Seq, ok bool) {
	seqs := r.seqs[id]
	n := len(upTo(seqs, markOfSeq, Mark{Seq: seq}))
	if n == 0 {
		return false, 0, false
	}
	return n == len(seqs), seqs[n-1], true
}

func markOfSeq(s *Seq) Mark { return Mark{Seq: *s} }

func (r registry[D]) get(id ID) (D, bool) {
	d, ok := r.byID[id]
	return d, ok
}

func (r registry[D]) all() []D {
	out := make([]D, len(r.order))
	for i, id := range r.order {
		out[i] = r.byID[id]
	}
	return out
}

// Logged is an event as it reads today.
type Logged[B Body] struct {
	Happening
	What B
}

func headerOf[B Body](l *Logged[B]) *Happening { return &l.Happening }

func headerOfTick(t *TickRecord) *Happening { return &t.Happening }

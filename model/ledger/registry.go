package ledger

import (
	"slices"

	"brine/wrasse/model"
)

// registry keeps the latest definition of each id, in the order of first definition.
type registry[D any] struct {
	order []model.ID
	byID  map[model.ID]D
	seqs  map[model.ID][]model.Seq // of the entries that defined it
}

func (r registry[D]) clone() registry[D] {
	return registry[D]{slices.Clip(r.order), copied(r.byID), copied(r.seqs)}
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
	n := len(upTo(seqs, markOfSeq, model.Mark{Seq: seq}))
	if n == 0 {
		return false, 0, false
	}
	return n == len(seqs), seqs[n-1], true
}

func markOfSeq(s *model.Seq) model.Mark { return model.Mark{Seq: *s} }

func (r registry[D]) get(id model.ID) (D, bool) {
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

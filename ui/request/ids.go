package request

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// ids makes ids that are taken neither in the book nor by each other.
type ids struct {
	book  *ledger.Book
	taken map[model.Kind]map[model.ID]bool
}

func newIDs(b *ledger.Book) ids { return ids{b, map[model.Kind]map[model.ID]bool{}} }

func (n ids) of(kind model.Kind, name string) model.ID {
	id := model.MakeID(name, kind, func(id model.ID) bool { return n.taken[kind][id] || has(n.book, kind, id) })
	if n.taken[kind] == nil {
		n.taken[kind] = map[model.ID]bool{}
	}
	n.taken[kind][id] = true
	return id
}

// has tells whether the book defines an id of a kind.
func has(b *ledger.Book, kind model.Kind, id model.ID) bool {
	ok := false
	switch kind {
	case model.KindPlace:
		_, ok = b.Place(id)
	case model.KindComponent:
		_, ok = b.Component(id)
	case model.KindCounter:
		_, ok = b.Counter(id)
	case model.KindGauge:
		_, ok = b.Gauge(id)
	case model.KindSpare:
		_, ok = b.Spare(id)
	case model.KindVessel:
		_, ok = b.Vessel(id)
	case model.KindChore:
		_, ok = b.Chore(id)
	}
	return ok
}

// NewID is the id that a definition of a name gets.
func NewID(b *ledger.Book, kind model.Kind, name string) model.ID { return newIDs(b).of(kind, name) }

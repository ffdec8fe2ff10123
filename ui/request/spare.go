package request

import (
	"reflect"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// PutSpare writes a spare, new or changed, and what is on the shelf of it.
type PutSpare struct {
	Stamp
	Spare  model.Spare // without an id it is new, and gets one from its name
	OnHand *float64    // as counted; nil when it was not
}

// Entries is the spare, unless it is as the book has it, and the change that makes the
// book agree with the shelf.
func (r PutSpare) Entries(b *ledger.Book) ([]model.Entry, error) {
	var out []model.Entry
	if r.Spare.ID == "" {
		r.Spare.ID = NewID(b, model.KindSpare, r.Spare.Name)
	}
	old, ok := b.Spare(r.Spare.ID)
	old.Guess = r.Spare.Guess // it goes with the other fields
	if !ok || !reflect.DeepEqual(old, r.Spare) {
		out = append(out, r.entry(r.Spare))
	}
	if r.OnHand != nil {
		if change := *r.OnHand - b.OnHand(r.Spare.ID, r.On); change != 0 || !b.Counted(r.Spare.ID, r.On) {
			out = append(out, r.entry(model.Stock{Spare: r.Spare.ID, Change: change}))
		}
	}
	return out, nil
}

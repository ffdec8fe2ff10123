package act

import (
	"errors"
	"slices"
	"strings"

	"brine/wrasse/model"
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
}

// Entries is one tick for each chore done. A tick that closes its chore's latest
// cycle carries the date the book had planned for it.
func (r Tick) Entries(b *model.Book) ([]model.Entry, error) {
	if len(r.Done) == 0 {
		return nil, errors.New("nothing to tick off; name a chore")
	}
	s := newStamper(b)
	var out []model.Entry
	for _, d := range r.Done {
		t, err := s.stamp(out, d)
		if err != nil {
			return nil, err
		}
		out = append(out, Stamp{d.On, r.By}.entry(t))
	}
	return checked(b, out)
}

func checkFound(c model.Chore, found model.Found) error {
	words := model.FoundWords(c.Work)
	switch {
	case found == "" || slices.Contains(words, found):
		return nil
	case words == nil:
		return &model.FieldError{Field: "found", Value: string(found), Want: "no word: " + string(c.ID) + " is read, not found in a state"}
	}
	texts := make([]string, len(words))
	for i, w := range words {
		texts[i] = string(w)
	}
	return &model.FieldError{Field: "found", Value: string(found), Want: "one of " + strings.Join(texts, ", ") + " for " + string(c.ID)}
}

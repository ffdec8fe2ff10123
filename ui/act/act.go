package act

import "brine/wrasse/model"

// Stamp is when an act happened, and who did it where that was said.
type Stamp struct {
	On model.Date
	By string
}

func (s Stamp) entry(body model.Body) model.Entry {
	e := model.NewEntry(s.On, body)
	e.By = s.By
	return e
}

func (s Stamp) entries(bodies ...model.Body) []model.Entry {
	out := make([]model.Entry, len(bodies))
	for i, body := range bodies {
		out[i] = s.entry(body)
	}
	return out
}

// numbered is entries as they would be written after the last of b.
func numbered(b *model.Book, entries []model.Entry) []model.Entry {
	out := make([]model.Entry, len(entries))
	for i, e := range entries {
		e.Seq = b.Last() + model.Seq(i) + 1
		out[i] = e
	}
	return out
}

// checked returns entries when the book would take them, so that a wrong request
// is refused with the field it got wrong and not with a number in the log.
func checked(b *model.Book, entries []model.Entry) ([]model.Entry, error) {
	if _, err := b.Extend(numbered(b, entries)); err != nil {
		return nil, plain(b, err)
	}
	return entries, nil
}

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
	if _, err := extended(b, numbered(b, entries)); err != nil {
		return nil, err
	}
	return entries, nil
}

// checkedAct is checked for what is written as one act.
func checkedAct(b *model.Book, entries []model.Entry) ([]model.Entry, error) {
	if _, err := extended(b, oneAct(b, entries)); err != nil {
		return nil, err
	}
	return entries, nil
}

// extended is a book with numbered entries after its last one.
func extended(b *model.Book, entries []model.Entry) (*model.Book, error) {
	next, err := b.Extend(entries)
	if err != nil {
		return nil, plain(b, err)
	}
	return next, nil
}

package request

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Stamp is when an act happened, and who did it where that was said.
type Stamp struct {
	On model.Date
	By string
}

func (s Stamp) entry(body model.Body) model.Entry {
	e := model.NewEntry(s.On, body)
	if e.Kind != model.KindNeed { // whose by is a date
		e.By = s.By
	}
	return e
}

func (s Stamp) entries(bodies ...model.Body) []model.Entry {
	out := make([]model.Entry, len(bodies))
	for i, body := range bodies {
		out[i] = s.entry(body)
	}
	return out
}

// extended is a book with the entries of an act after its last one, for requests that ask what holds once part of them is
// written. Whether the book takes an act is for the store to say.
func extended(b *ledger.Book, entries []model.Entry) (*ledger.Book, error) {
	out := make([]model.Entry, len(entries))
	for i, e := range entries {
		e.Seq = b.Last() + model.Seq(i) + 1
		if len(entries) > 1 {
			e.Act = b.Last() + 1
		}
		out[i] = e
	}
	next, err := b.Extend(out)
	return next, b.Refused(err)
}

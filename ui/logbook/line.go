package logbook

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// line is all that is drawn of an entry, in its row and in its detail, and what striking it takes. A command prepares it,
// so that drawing reads nothing of the file.
type line struct {
	ledger.Row
	shown *model.Entry
	date  model.Date // of the row; of a definition older than all that has a date, the day it was written
	says  string
	heads bool // it is the first of several that were set up in one act

	facts   []string
	atFirst string // what an amended entry said
	amends  []amended
	origin  string

	target   model.Seq // what a strike of it amends: it or, when it is struck, the amend that strikes it
	standing int       // how many entries of the target's act are not struck
}

// shown is how an entry reads or, when it is struck or an amend, as it was written.
func shown(r ledger.Row) *model.Entry {
	if r.Reads != nil {
		return r.Reads
	}
	return r.Written
}

// mark is the word that stands behind a row that was struck or amended.
func mark(r ledger.Row) string {
	switch {
	case r.Struck:
		return "struck"
	case r.Amended:
		return "amended"
	}
	return ""
}

// prepared are the lines of rows of a book. Some of what they say is read from its file.
func prepared(b *ledger.Book, rows []ledger.Row) ([]line, error) {
	out, acts := make([]line, len(rows)), actsOf(b, rows)
	for i, r := range rows {
		var err error
		if out[i], err = acts.line(r); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// acts are the seqs of the last entries of acts, by those of the first.
type acts struct {
	book *ledger.Book
	last map[model.Seq]model.Seq
}

// actsOf are the acts of a book that end among rows: the entry after an entry of another act is most often there too.
func actsOf(b *ledger.Book, rows []ledger.Row) acts {
	a := acts{b, map[model.Seq]model.Seq{}}
	written := make([]*model.Entry, len(rows))
	for i, r := range rows {
		written[i] = r.Written
	}
	slices.SortFunc(written, func(a, b *model.Entry) int { return cmp.Compare(a.Seq, b.Seq) })
	for i, e := range written {
		if e.Seq == b.Last() || i+1 < len(written) && written[i+1].Seq == e.Seq+1 && written[i+1].Act != e.Act {
			a.last[e.Act] = e.Seq
		}
	}
	return a
}

// of is the first and the last entry of the act that holds an entry.
func (a acts) of(e *model.Entry) (first, last model.Seq, err error) {
	if e.Act == 0 {
		return e.Seq, e.Seq, nil
	}
	if last, ok := a.last[e.Act]; ok {
		return e.Act, last, nil
	}
	act, err := a.book.Act(e.Seq)
	if err == nil {
		a.last[e.Act] = act[len(act)-1].Seq
	}
	return e.Act, a.last[e.Act], err
}

func (a acts) line(r ledger.Row) (l line, err error) {
	b := a.book
	l = line{Row: r, shown: shown(r), date: r.On, target: r.Seq}
	if l.date.IsZero() {
		l.date = r.Written.Written()
	}
	l.says, l.facts = say(b, l.shown), facts(b, l.shown)
	if r.Amended && r.Reads != nil {
		l.atFirst = say(b, r.Written)
	}
	for _, by := range b.Amends(r.Seq) {
		back := b.Struck(by.Seq)
		l.amends = append(l.amends, amended{by.On, by.By, by.What.Strike, replaced(by.What.With), back})
		if r.Struck && by.What.Strike && !back {
			l.target = by.Seq
		}
	}
	first, last, err := a.of(r.Written)
	if err != nil {
		return l, err
	}
	l.origin = origin(r.Written, first, last)
	l.heads = r.Written.Kind.Defines() && r.Seq == first && last > first
	if l.target != r.Seq {
		by, err := b.Written(l.target)
		if err != nil {
			return l, err
		}
		if first, last, err = a.of(by); err != nil {
			return l, err
		}
	}
	for seq := first; seq <= last; seq++ {
		if !b.Struck(seq) {
			l.standing++
		}
	}
	return l, nil
}

// folded is what an entry says in a row behind which others may be folded away.
func (v *View) folded(l *line) string {
	if l.heads && v.query.empty() {
		return l.says + ", and what came with it"
	}
	return l.says
}

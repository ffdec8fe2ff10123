package logbook

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/ui/parse"
)

// line is all that is drawn of an entry, in its row and in its detail, and what striking
// it takes. It is prepared in a command, so that drawing needs nothing of the file.
type line struct {
	shown   *model.Entry // as it reads or, when it is struck, as it was written
	date    model.Date   // it stands under
	says    string
	struck  bool
	amended bool

	facts   []string
	atFirst string // what an amended entry said
	amends  []amended
	origin  string

	target   model.Seq // what a strike of it amends: it or, when it is struck, what holds it so
	standing int       // how many entries of the act of that stand
}

// lines are the entries around the cursor, prepared.
type lines struct {
	of map[model.Seq]*line
	as stamp
}

// stamp tells what an index knew, as far as a line depends on it.
type stamp struct {
	book  *model.Book
	top   model.Seq
	whole bool
}

func (x *index) stamp() stamp { return stamp{x.book, x.top, x.whole()} }

// prepare makes the lines of some rows, and of entries besides, wherever their rows are.
func (x *index) prepare(rows []key, besides []model.Seq) (lines, error) {
	for _, seq := range besides {
		if slices.ContainsFunc(rows, func(k key) bool { return k.seq() == seq }) {
			continue
		}
		if k, ok := x.find(seq); ok {
			rows = append(rows, k)
		}
	}
	out := lines{map[model.Seq]*line{}, x.stamp()}
	r := &reader{book: x.book, amends: x.amends}
	if err := r.load(seqsOf(rows)); err != nil {
		return out, err
	}
	for _, k := range rows {
		l, err := x.line(r, k)
		if err != nil {
			return out, err
		}
		out.of[k.seq()] = l
	}
	return out, nil
}

func seqsOf(rows []key) []model.Seq {
	out := make([]model.Seq, len(rows))
	for i, k := range rows {
		out[i] = k.seq()
	}
	return out
}

func (x *index) line(r *reader, k key) (*line, error) {
	seq, b := k.seq(), x.book
	g, err := r.reading(seq)
	if err != nil {
		return nil, err
	}
	l := &line{shown: g.shown(), date: k.date(), struck: g.struck, amended: g.amended(), target: seq}
	l.says, l.facts = say(b, l.shown), facts(b, l.shown)
	if fact, err := x.metered(r, l.shown); err != nil {
		return nil, err
	} else if fact != "" {
		l.facts = append(l.facts, fact)
	}
	if l.amended {
		l.atFirst = say(b, g.written)
	}
	first, last, err := r.act(g.written)
	if err != nil {
		return nil, err
	}
	l.origin = origin(g.written, first, last)
	if err := l.changed(x, r, seq); err != nil {
		return nil, err
	}
	if l.target != seq {
		e, err := r.entry(l.target)
		if err != nil {
			return nil, err
		}
		if first, last, err = r.act(e); err != nil {
			return nil, err
		}
	}
	l.standing = int(last-first) + 1 - len(x.struck.span(key(first), key(last+1)))
	return l, nil
}

// changed is what amends have done to an entry, and which of them holds it struck.
func (l *line) changed(x *index, r *reader, seq model.Seq) error {
	for _, by := range amendsOf(x.amends, seq) {
		e, err := r.entry(by)
		if err != nil {
			return err
		}
		a := e.Body.(model.Amend)
		if a.Entry != seq {
			continue // made to amend it, by another
		}
		date, err := r.date(by)
		if err != nil {
			return err
		}
		back := x.struck.has(key(by))
		l.amends = append(l.amends, amended{date, e.By, a.Strike, replaced(a.With), back})
		if l.struck && a.Strike && !back {
			l.target = by
		}
	}
	return nil
}

// date is the day an entry stands under.
func (r *reader) date(seq model.Seq) (model.Date, error) {
	for ; seq > 0; seq-- {
		g, err := r.reading(seq)
		if err != nil {
			return 0, err
		}
		if d := dated(g.shown()); !d.IsZero() {
			return d, nil
		}
	}
	return 0, nil
}

// metered is what a value of a running meter adds to the one before. As long as older
// entries are unread the book is asked, which may not hold it any more.
func (x *index) metered(r *reader, e *model.Entry) (string, error) {
	w, ok := e.Body.(model.Usage)
	if !ok || w.Meter == nil {
		return "", nil
	}
	qty, ok, err := x.added(r, e, w)
	if err != nil || !ok {
		return "", err
	}
	c, _ := x.book.Counter(w.Counter)
	return "since the reading before: " + parse.Quantity(qty, c.Unit, x.book.Def().Units), nil
}

func (x *index) added(r *reader, e *model.Entry, w model.Usage) (qty float64, ok bool, err error) {
	if !x.whole() {
		for _, a := range x.book.Amounts(w.Counter) {
			if a.Seq == e.Seq {
				return a.Qty, true, nil
			}
		}
		return 0, false, nil
	}
	of, at := x.meters[w.Counter], rowKey(e.On, e.Seq)
	i := of.rank(at)
	if i == 0 || !of.has(at) { // the first of all; or a struck one, that counts nothing
		return 0, of.has(at), nil
	}
	before, err := r.reading(of.at(i - 1).seq())
	if err != nil {
		return 0, false, err
	}
	if u, ok := before.shown().Body.(model.Usage); ok {
		qty = *w.Meter - *u.Meter
	}
	return qty, true, nil
}

package logbook

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/parse"
)

// reference is the Log as it is made of a full book, all at once.
type reference struct {
	book  *ledger.Book
	seqs  []model.Seq // newest first
	dates map[model.Seq]model.Date
}

func newReference(full *ledger.Book) *reference {
	r := &reference{book: full, dates: map[model.Seq]model.Date{}}
	last := model.Date(0) // of the nearest entry before that was written with one
	for seq := model.Seq(1); seq <= full.Last(); seq++ {
		r.dates[seq] = last
		if on := r.reads(seq).On; !on.IsZero() {
			r.dates[seq] = on
		}
		if on := must(full.Written(seq)).On; !on.IsZero() {
			last = on
		}
		r.seqs = append(r.seqs, seq)
	}
	slices.SortFunc(r.seqs, func(p, q model.Seq) int {
		return cmp.Or(cmp.Compare(r.dates[q], r.dates[p]), cmp.Compare(q, p))
	})
	return r
}

func (r *reference) reads(seq model.Seq) *model.Entry {
	if e := r.book.Reads(seq); e != nil {
		return e
	}
	return must(r.book.Written(seq))
}

// line is what is to be said of an entry; of amends all, in one text.
func (r *reference) line(seq model.Seq) string {
	b, e, w := r.book, r.reads(seq), must(r.book.Written(seq))
	struck := b.Struck(seq)
	amended := b.Reads(seq) != nil && e != w
	out := []string{fmt.Sprint(seq), r.dates[seq].String(), string(e.Kind), say(b, e), e.By, fmt.Sprint(struck, amended)}
	if u, ok := e.Body.(model.Usage); !ok {
		out = append(out, facts(b, e)...)
	} else if u.Meter != nil {
		for _, a := range b.Amounts(u.Counter) {
			if a.Seq == seq {
				c, _ := b.Counter(u.Counter)
				out = append(out, "since the reading before: "+parse.Quantity(a.Qty, c.Unit, b.Def().Units))
			}
		}
	}
	if amended {
		out = append(out, "at first "+say(b, w))
	}
	target := seq
	for by := seq + 1; by <= b.Last(); by++ {
		if a, ok := must(b.Written(by)).Body.(model.Amend); ok && a.Entry == seq {
			out = append(out, fmt.Sprint(must(b.Written(by)).On, must(b.Written(by)).By, a.Strike, replaced(a.With), b.Struck(by)))
			if struck && a.Strike && !b.Struck(by) {
				target = by
			}
		}
	}
	act := must(b.Act(seq))
	out = append(out, origin(w, act[0].Seq, act[len(act)-1].Seq))
	standing := 0
	for _, of := range must(b.Act(target)) {
		if !b.Struck(of.Seq) {
			standing++
		}
	}
	return strings.Join(append(out, fmt.Sprint(target, standing)), "\n")
}

// text is a prepared line as the reference has it.
func (l *line) text() string {
	e := l.shown
	out := []string{fmt.Sprint(e.Seq), l.On.String(), string(e.Kind), l.says, e.By, fmt.Sprint(l.Struck, l.Amended && l.Reads != nil)}
	out = append(out, l.facts...)
	if l.atFirst != "" {
		out = append(out, "at first "+l.atFirst)
	}
	for _, a := range l.amends {
		out = append(out, fmt.Sprint(a.date, a.by, a.strike, a.with, a.takenBack))
	}
	return strings.Join(append(out, l.origin, fmt.Sprint(l.target, l.standing)), "\n")
}

// found are the entries that pass a filter, newest first.
func (r *reference) found(q query) []model.Seq {
	var out []model.Seq
	for _, seq := range r.seqs {
		if d := r.dates[seq]; d < q.first || !q.last.IsZero() && d > q.last {
			continue
		}
		if q.takes(r.book, must(r.book.RowOf(seq))) {
			out = append(out, seq)
		}
	}
	return out
}

// shownBy is the entries that a view holds, newest first.
func shownBy(v *View) (out []model.Seq) {
	for _, l := range v.Shown() {
		out = append(out, l.Seq)
	}
	return out
}

// must is what can't fail here.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

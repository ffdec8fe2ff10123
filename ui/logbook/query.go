package logbook

import (
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/table"
)

// query is a filter as typed: words that all have to stand in an entry, and a span
// of dates it has to lie in.
type query struct {
	words       string
	first, last model.Date // none: open
}

func (q query) empty() bool { return q.words == "" && q.first.IsZero() && q.last.IsZero() }

// parseQuery reads `impeller heavy`, `2026`, `2026-03`, `2026-03-14`, a span of two
// of them such as `2026-03..2026-06-10`, open at either end, and `30d`, `6w`, `3mo`
// or `1y` for the latest so long. What is no date is a word to look for.
func parseQuery(s string, today model.Date) query {
	var q query
	var words []string
	for word := range strings.FieldsSeq(s) {
		first, last, ok := dates(word, today)
		if !ok {
			words = append(words, word)
			continue
		}
		q.first, q.last = max(q.first, first), model.Earlier(q.last, last)
	}
	q.words = strings.Join(words, " ")
	return q
}

// dates are the first and the last day a word names.
func dates(word string, today model.Date) (first, last model.Date, ok bool) {
	if from, to, span := strings.Cut(word, ".."); span {
		first, _, okFrom := period(from)
		_, last, okTo := period(to)
		okFrom, okTo = okFrom || from == "", okTo || to == ""
		return first, last, okFrom && okTo && word != ".."
	}
	if first, last, ok := period(word); ok {
		return first, last, true
	}
	if strings.HasSuffix(word, "d") || strings.HasSuffix(word, "w") || strings.HasSuffix(word, "o") || strings.HasSuffix(word, "y") {
		if span, err := model.ParseSpan(word); err == nil {
			return today.AddDays(1 - span.Days(today)), today, true
		}
	}
	return 0, 0, false
}

// period is the days of a year, a month or a day.
func period(s string) (first, last model.Date, ok bool) {
	const year, month, day = len("2006"), len("2006-01"), len("2006-01-02")
	switch len(s) {
	case year:
		first, err := model.ParseDate(s + "-01-01")
		return first, first.AddMonths(12).AddDays(-1), err == nil
	case month:
		first, err := model.ParseDate(s + "-01")
		return first, first.AddMonths(1).AddDays(-1), err == nil
	case day:
		d, err := model.ParseDate(s)
		return d, d, err == nil
	}
	return 0, 0, false
}

// takes tells whether an entry has the words of the filter in it. Without a filter what was set up in one act, as a new book
// is, is folded into the first of it.
func (q query) takes(b *ledger.Book, r ledger.Row) bool {
	switch {
	case q.empty():
		return !r.Written.Kind.Defines() || r.Written.Act == 0 || r.Written.Act == r.Seq
	case q.words == "":
		return true
	}
	e := shown(r)
	return table.Matches(q.words, string(e.Kind), say(b, e), about(b, e), e.By, mark(r))
}

// about is the component an entry is about where its text does not name it.
func about(b *ledger.Book, e *model.Entry) string {
	var id model.ID
	switch w := e.Body.(type) {
	case model.Reading:
		g, _ := b.Gauge(w.Gauge)
		id = g.Component
	case model.Chore:
		id = w.Component
	case model.Gauge:
		id = w.Component
	case model.Note:
		return w.OnWhat
	}
	c, _ := b.Component(id)
	return c.Name
}

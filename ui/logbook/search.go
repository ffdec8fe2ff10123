package logbook

import (
	"context"
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"

	tea "github.com/charmbracelet/bubbletea"
)

// lookedAt is how many rows a filter looks at in one go: none takes longer than an act may wait.
const lookedAt = 2048

// older are up to n rows before a place that pass the filter, the newest first; all tells that there are no more.
func (q query) older(ctx context.Context, b *ledger.Book, before model.Mark, n int) (rows []ledger.Row, all bool, err error) {
	if end := model.EndOf(q.last); !q.last.IsZero() && end.Before(before) {
		before = end
	}
	return q.rows(ctx, b, b.Newest, before, n)
}

// newer are up to n rows after a place that pass the filter, the oldest first; all tells that there are no more.
func (q query) newer(ctx context.Context, b *ledger.Book, after model.Mark, n int) (rows []ledger.Row, all bool, err error) {
	if start := (model.Mark{On: q.first}); after.Before(start) {
		after = start
	}
	return q.rows(ctx, b, b.Oldest, after, n)
}

// rows are up to n rows that pass the filter, as next reads them from a place on.
func (q query) rows(ctx context.Context, b *ledger.Book, next func(model.Mark, int) ([]ledger.Row, error), from model.Mark, n int) (out []ledger.Row, all bool, err error) {
	size := n + 1 // one more tells whether there are more
	if q.words != "" {
		size = lookedAt
	}
	for {
		rows, err := next(from, size)
		if err != nil {
			return nil, false, err
		}
		for _, r := range rows {
			switch {
			case r.On < q.first || !q.last.IsZero() && r.On > q.last:
				return out, true, nil
			case !q.takes(b, r):
			case len(out) == n:
				return out, false, nil
			default:
				out = append(out, r)
			}
		}
		if len(rows) < size {
			return out, true, nil
		}
		if err := ctx.Err(); err != nil {
			return nil, false, err
		}
		from = rows[len(rows)-1].Mark
	}
}

// count is how many rows of a book pass a filter, as far as they have been counted.
type count struct {
	book  *ledger.Book
	query query
	place model.Mark // counted are the rows from here on
	n     int
	all   bool
}

// counted is the message of the command that counts on.
type counted struct {
	was, is count
	err     error
}

// countOn is the command that counts on, where not all rows that pass the filter are held.
func (v *View) countOn() tea.Cmd {
	if v.looking() {
		return nil // its page counts on
	}
	if v.held.first && v.held.last {
		v.count = count{book: v.held.book, query: v.query, n: len(v.held.lines), all: true}
	}
	if v.count.book != v.held.book || v.count.query != v.query {
		v.count = count{book: v.held.book, query: v.query, place: newest}
	}
	if v.query.empty() || v.counting || v.count.all || v.failed != nil {
		return nil
	}
	v.counting = true
	was := v.count
	return func() tea.Msg {
		msg := counted{was: was, is: was}
		msg.err = ui.Guard("looking through the log", func() error {
			rows, all, err := was.query.older(context.Background(), was.book, was.place, lookedAt)
			if len(rows) > 0 {
				msg.is.place = rows[len(rows)-1].Mark
			}
			msg.is.n, msg.is.all = was.n+len(rows), all
			return err
		})
		return msg
	}
}

// tookCount takes in what was counted, unless another book or filter has come since.
func (v *View) tookCount(msg counted) tea.Cmd {
	v.counting = false
	if v.count == msg.was {
		if msg.err != nil {
			v.fail(msg.err)
			return nil
		}
		v.count = msg.is
	}
	return v.countOn()
}

// looking tells whether the rows held are still those of another filter.
func (v *View) looking() bool { return v.held.query != v.query && v.failed == nil }

// found says how many rows pass the filter.
func (v *View) found() string {
	c := v.count
	switch {
	case v.query.empty():
		return "words, kind, component, 2026-03, 2026-03..2026-06, 30d"
	case v.looking():
		return "looking ..."
	}
	s := fmt.Sprintf("%d found", max(c.n, len(v.held.lines)))
	if !c.all && v.failed == nil {
		s += ", looking ..."
	}
	return s
}

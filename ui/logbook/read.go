package logbook

import (
	"context"
	"errors"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"

	tea "github.com/charmbracelet/bubbletea"
)

// page is the rows around a place of a book, as a command read them.
type page struct {
	book        *ledger.Book
	query       query  // what the lines pass
	lines       []line // newest first
	first, last bool   // nothing newer, or older, passes the filter
	above       int    // lines that are newer than the place
	opened      *line  // of the entry whose page is open, wherever its row is
}

// want is what a command is to read: the rows of a book that pass a filter, around a place.
type want struct {
	book  *ledger.Book
	query query
	place model.Mark
	seq   model.Seq // the entry there; 0 for none
	open  model.Seq // an entry to read besides; 0 for none
	each  int       // rows on either side
	to    end       // the cursor is sent there
}

// end is an end of the log that the cursor is sent to.
type end int

const (
	toNeither end = iota // it stays on its entry
	toFirst              // the newest
	toLast
)

// pageRead is the message of the command that reads a page.
type pageRead struct {
	want want
	page page
	err  error
}

// eachSide is how many rows are held on either side of the cursor, at least.
const eachSide = 300

// side is how many rows are read on either side of the cursor: a window shows fewer, also after the cursor has come near
// the end of those.
func (v *View) side() int {
	_, h := v.session.Root.Body()
	return max(v.each, 3*h)
}

// here wants the rows around the cursor. A cursor at the top stays at the top, where what was just written comes in.
func (v *View) here() want {
	l := v.Current()
	if l == nil || v.atTop() {
		return want{place: newest}
	}
	return want{place: l.Mark, seq: l.Seq}
}

// newest is a place after all entries.
var newest = model.EndOf(model.LastDate)

func (v *View) atTop() bool { return v.At() == 0 && v.held.first }

// ask is the command that reads what is wanted. When another one runs, it is ended, and what is wanted is read after it.
func (v *View) ask(w want) tea.Cmd {
	if w.to == toNeither && v.wanted != nil {
		w.to = v.wanted.to // whoever asked for an end gets there
	}
	switch w.to {
	case toFirst:
		w.place = newest
	case toLast:
		w.place = model.Mark{}
	}
	w.book, w.query, w.open, w.each = v.session.Book, v.query, v.open, v.side()
	v.wanted = &w
	if v.stop != nil {
		v.stop()
		return nil
	}
	return v.read()
}

// read is the command that reads what is wanted.
func (v *View) read() tea.Cmd {
	if v.failed != nil {
		v.failed = nil
		v.session.Root.Unsay(v.told)
	}
	w := *v.wanted
	ctx, stop := context.WithCancel(context.Background())
	v.stop = stop
	return func() tea.Msg {
		msg := pageRead{want: w}
		msg.err = ui.Guard("reading the log", func() (err error) {
			msg.page, err = w.read(ctx)
			return err
		})
		return msg
	}
}

// took takes in a page, unless something else is wanted by now.
func (v *View) took(msg pageRead) tea.Cmd {
	v.stop()
	v.stop = nil
	switch {
	case *v.wanted != msg.want, errors.Is(msg.err, context.Canceled):
		return v.read()
	case msg.err != nil:
		v.fail(msg.err)
		return nil
	}
	v.wanted = nil
	seq, top := msg.want.seq, v.atTop()
	if l := v.Current(); l != nil {
		seq = l.Seq // it may have moved meanwhile
	}
	v.held = msg.page
	v.Renew()
	switch n := len(v.held.lines); {
	case msg.want.to == toLast:
		v.State.Put(n - 1)
	case msg.want.to == toFirst || top:
		v.State.Put(0)
	case v.Put(seq) || v.Put(msg.want.seq):
	default:
		v.State.Put(min(v.held.above, n-1))
	}
	return tea.Batch(v.readOn(), v.countOn())
}

// fail tells why the log can't be read. Nothing more of it is read before the book, the filter or an end is asked for.
func (v *View) fail(err error) {
	v.failed = err
	v.told = v.session.Root.Fail(err)
}

// readOn reads the rows around the cursor when it has come near the first or the last of those held.
func (v *View) readOn() tea.Cmd {
	near, below := v.side()/3, len(v.held.lines)-v.At()
	if v.stop != nil || v.failed != nil || (v.held.first || v.At() >= near) && (v.held.last || below > near) {
		return nil
	}
	return v.ask(v.here())
}

// renew reads the rows around the cursor of the book that the session has now.
func (v *View) renew() tea.Cmd {
	v.filter() // today may be another day
	if !v.session.Loaded() {
		return nil
	}
	w := v.here()
	if v.held.book != nil && !v.session.Book.Continues(v.held.book) {
		v.held, w = page{}, want{to: toFirst}
		v.Renew()
	}
	return v.ask(w)
}

// read reads a page.
func (w want) read(ctx context.Context) (page, error) {
	older, last, err := w.query.older(ctx, w.book, model.Mark{On: w.place.On, Seq: w.place.Seq + 1}, w.each)
	if err != nil {
		return page{}, err
	}
	newer, first, err := w.query.newer(ctx, w.book, w.place, w.each)
	if err != nil {
		return page{}, err
	}
	slices.Reverse(newer)
	rows := append(newer, older...)
	if w.seq != 0 && !slices.ContainsFunc(rows, func(r ledger.Row) bool { return r.Seq == w.seq }) {
		r, err := w.book.RowOf(w.seq)
		if err != nil {
			return page{}, err
		}
		if r.Mark != w.place { // it was amended to another date
			w.place = r.Mark
			return w.read(ctx)
		}
	}
	p := page{book: w.book, query: w.query, first: first, last: last, above: len(newer)}
	if p.lines, err = prepared(w.book, rows); err != nil || w.open == 0 {
		return p, err
	}
	r, err := w.book.RowOf(w.open)
	if err != nil {
		return p, err
	}
	opened, err := prepared(w.book, []ledger.Row{r})
	if err != nil {
		return p, err
	}
	p.opened = &opened[0]
	return p, nil
}

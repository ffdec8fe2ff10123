// Package logbook is the Log view: everything that was ever written in the book,
// newest first, with what was struck or amended shown as such. Entries are found by
// typing, and amended or struck with a look at what that does to the dates.
//
// The log may be far longer than should be held. The view holds an index, which says in
// what order the entries stand (index.go), and the lines around the cursor (lines.go);
// both are made in commands that read the log a stretch at a time (reading.go), and so
// is what a filter finds (search.go).
package logbook

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/preview"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Log. Make one with New.
type View struct {
	table.State
	session *session.Session

	book   *model.Book // to be shown
	stride model.Seq   // how many entries a step of the index takes in
	index  *index      // as far as it has been read
	lines  lines
	search search
	before order // what is shown until a search has begun

	stepping, preparing bool  // a command is at it
	age                 int   // how often the log has been begun anew
	failed              error // why no more of the log is read
	stuck               int   // the place of the cursor around which lines could not be prepared, or -1
	told                int   // the id under which the status line says so

	open model.Seq // the entry whose page was opened last
	stay model.Seq // where the cursor belongs as soon as it is found; 0 where it is
	wish wish
}

// wish is what was asked of an entry whose line wasn't there yet.
type wish struct {
	action keys.Action
	seq    model.Seq
}

// New is the Log of a window.
func New(d *session.Session) ui.Screen {
	return &View{State: table.NewState(d, keys.Log), session: d, book: d.Book, index: newIndex(d.Book, stretch), stride: stretch, stuck: -1}
}

// rows are the entries shown, the oldest first.
func (v *View) rows() order {
	switch {
	case v.search.query.empty():
		return v.index.rows
	case !v.search.begun:
		return v.before
	}
	return v.search.found
}

// row is the i-th entry shown, newest first.
func (v *View) row(i int) key {
	rows := v.rows()
	return rows.at(rows.n - 1 - i)
}

// selected is the entry at the cursor, 0 when there is none.
func (v *View) selected() key {
	if v.At() < v.rows().n {
		return v.row(v.At())
	}
	return 0
}

// Act moves, and acts on the entry at the cursor.
func (v *View) Act(a keys.Action) tea.Cmd {
	seq := v.selected().seq()
	if seq != 0 && a == keys.Open {
		v.open = seq
		v.session.Root.Push(table.NewPage(v.session, keys.Log, func(w int) []string {
			switch {
			case v.pending():
				return v.reading(w)
			case seq > v.index.top:
				return nil // of another book, left for this one
			}
			return v.detail(seq, w)
		}, func(a keys.Action) (tea.Cmd, bool) { return v.change(a, seq) }))
		return v.read()
	}
	if cmd, used := v.change(a, seq); used {
		return cmd
	}
	at := v.At()
	w, h := v.session.Root.Body()
	cmd := v.State.Act(a, v.rows().n, v.session.Root.LayPanes(w, h).ListH)
	if v.At() != at {
		v.stay = 0
	}
	return tea.Batch(cmd, v.read())
}

// change amends or strikes an entry, and reports whether that was asked for.
func (v *View) change(a keys.Action, seq model.Seq) (cmd tea.Cmd, used bool) {
	if seq == 0 || seq > v.index.top || a != keys.Strike && a != keys.Amend {
		return nil, false
	}
	l := v.lines.of[seq]
	switch {
	case l == nil:
		v.wish = wish{a, seq}
		return v.read(), true
	case a == keys.Strike:
		return v.strike(l), true
	}
	return v.amend(l), true
}

// Msg takes in a new book, a typed filter, and what commands have read of the log.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case session.BookChanged:
		v.renew()
	case stepped:
		v.stepped(msg)
	case prepared:
		cmd = v.prepared(msg)
	case looked:
		v.looked(msg)
	case preview.Ready:
		msg.Deliver()
	case tea.KeyMsg:
		if v.Type(msg) {
			v.Put(0)
			v.stay = 0
			v.filter()
		}
	}
	return tea.Batch(cmd, v.read())
}

// pending tells that there are entries and none can be shown yet.
func (v *View) pending() bool {
	return !v.session.Book.Empty() && (v.index.rows.n == 0 || v.lines.of == nil && v.stuck < 0)
}

// filter starts the search for what is typed.
func (v *View) filter() {
	v.before = v.rows()
	v.search = newSearch(parseQuery(v.Query(), v.session.Today()), v.search.id+1)
}

// Close gives up the filter first.
func (v *View) Close() (tea.Cmd, bool) {
	if v.State.Close() {
		return nil, true
	}
	at := v.selected()
	v.filter()
	v.put(at)
	return v.read(), false
}

// put puts the cursor on a row or, when that is not there, on the one after it. No key
// leaves it where it is, among the rows there are.
func (v *View) put(k key) {
	rows := v.rows()
	at := v.At()
	if k != 0 {
		at = rows.n - rows.rank(k)
		if rows.has(k) {
			at--
		}
	}
	v.Put(min(at, max(rows.n-1, 0)))
}

// Aside is how much there is.
func (v *View) Aside(room int) string {
	n := v.index.top
	s := fmt.Sprintf("%d entries", n)
	if n == 1 {
		s = "1 entry"
	}
	switch {
	case !v.index.whole() && v.failed != nil:
		s += ", not all read"
	case !v.index.whole():
		s += ", reading ..."
	case v.index.struck.n > 0:
		s += fmt.Sprintf(", %d struck", v.index.struck.n)
	}
	return text.Longest(room, s)
}

// Click puts the cursor on the row under the mouse.
func (v *View) Click(x, y int) tea.Cmd {
	p := v.session.Root.LayPanes(v.session.Root.Body())
	top := 0
	if v.Filtering() {
		top = 1
	}
	if x < p.ListW && y < p.ListH {
		if i := v.drawn(p.ListW, p.ListH-top).RowAt(p.ListH-top, y-top); i >= 0 {
			v.Put(i)
		}
	}
	v.stay = 0
	return v.read()
}

// Package logbook is the Log view: everything that was ever written in the book,
// newest first, with what was struck or amended shown as such. Entries are found by
// typing, and amended or struck with a look at what that does to the dates.
//
// Only the entries in sight are drawn, and a filter looks through a long log in
// commands, a stretch at a time.
package logbook

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/foresee"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/list"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Log. Make one with New.
type View struct {
	list.State
	desk   *desk.Desk
	asked  *model.Book // whose index was asked for last
	index  *index
	search search
	maker  *schedule.Maker // for looking ahead, apart from the desk's
}

// New is the Log of a window.
func New(d *desk.Desk) ui.Screen {
	return &View{State: list.New(d, keys.Log), desk: d, index: newIndex(d.Book), maker: schedule.NewMaker()}
}

// Needs is the full book.
func (v *View) Needs() desk.Grade { return desk.Full }

// rows are the entries shown, newest first.
func (v *View) rows() []model.Seq {
	if v.search.query.empty() {
		return v.index.seqs
	}
	return v.search.found
}

// selected is the entry at the cursor, 0 when there is none.
func (v *View) selected() model.Seq {
	if rows := v.rows(); v.At() < len(rows) {
		return rows[v.At()]
	}
	return 0
}

// Act moves, and acts on the entry at the cursor.
func (v *View) Act(a keys.Action) tea.Cmd {
	seq := v.selected()
	if seq != 0 && a == keys.Open {
		v.desk.Root.Push(list.NewPage(v.desk, keys.Log, func(w int) []string {
			switch {
			case v.pending():
				return v.desk.Reading(w)
			case seq > v.index.book.Last():
				return nil // of another book, left for this one
			}
			return v.detail(seq, w)
		}, func(a keys.Action) (tea.Cmd, bool) { return v.change(a, seq) }))
		return nil
	}
	if cmd, used := v.change(a, seq); used {
		return cmd
	}
	w, h := v.desk.Root.Body()
	return v.State.Act(a, len(v.rows()), v.desk.Root.LayPanes(w, h).ListH)
}

// change amends or strikes an entry, and reports whether that was asked for.
func (v *View) change(a keys.Action, seq model.Seq) (cmd tea.Cmd, used bool) {
	switch {
	case seq == 0 || seq > v.index.book.Last():
	case a == keys.Strike:
		return v.strike(seq), true
	case a == keys.Amend:
		return v.amend(seq), true
	}
	return nil, false
}

// Msg takes in a new book, a typed filter, and what a search has found.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case desk.Fresh:
		return v.renew()
	case desk.Forget:
		v.asked, v.index, v.search = nil, newIndex(new(model.Book)), search{id: v.search.id + 1}
	case *index:
		return v.took(msg)
	case foresee.Seen:
		msg.Deliver()
	case part:
		if msg.id == v.search.id {
			v.search.take(msg)
			return v.lookOn()
		}
	case tea.KeyMsg:
		if v.Type(msg) {
			v.Put(0)
			return v.filter()
		}
	}
	return nil
}

// pending tells that there are entries and none is known yet.
func (v *View) pending() bool { return v.index.book.Empty() && !v.desk.Book.Empty() }

// renew puts the desk's full book in order in a command: of a long one it takes longer
// than a key may.
func (v *View) renew() tea.Cmd {
	full := v.desk.Full()
	if full == nil || v.asked == full {
		return nil
	}
	v.asked = full
	return ui.Guarded("putting the log in order", func() (tea.Msg, error) { return newIndex(full), nil })
}

// took takes in the index asked for last. The cursor stays on its entry, but at the top it
// stays at the top, where what was just written comes in.
func (v *View) took(x *index) tea.Cmd {
	if x.book != v.asked {
		return nil
	}
	at := v.selected()
	v.index = x
	cmd := v.filter()
	if v.At() > 0 {
		for i, seq := range v.rows() {
			if seq == at {
				v.Put(i)
			}
		}
	}
	v.Put(min(v.At(), max(len(v.rows())-1, 0)))
	return cmd
}

// filter starts the search for what is typed.
func (v *View) filter() tea.Cmd {
	v.search = search{query: parseQuery(v.Query(), v.desk.Today()), id: v.search.id + 1}
	if v.search.query.empty() {
		return nil
	}
	v.search.take(v.search.look(v.index, lookNow))
	return v.lookOn()
}

// lookOn looks through the next stretch of the log in a command.
func (v *View) lookOn() tea.Cmd {
	if v.search.looked == len(v.index.seqs) {
		return nil
	}
	s, x := v.search, v.index
	return func() tea.Msg { return s.look(x, lookMore) }
}

// Close gives up the filter first.
func (v *View) Close() (tea.Cmd, bool) {
	if v.State.Close() {
		return nil, true
	}
	at := v.selected()
	cmd := v.filter()
	for i, seq := range v.rows() {
		if seq == at {
			v.Put(i)
		}
	}
	return cmd, false
}

// Aside is how much there is.
func (v *View) Aside(room int) string {
	n := len(v.index.seqs)
	s := fmt.Sprintf("%d entries", n)
	if n == 1 {
		s = "1 entry"
	}
	if v.index.struck > 0 {
		s += fmt.Sprintf(", %d struck", v.index.struck)
	}
	if len(s) > room {
		return ""
	}
	return s
}

// Click puts the cursor on the row under the mouse.
func (v *View) Click(x, y int) tea.Cmd {
	p := v.desk.Root.LayPanes(v.desk.Root.Body())
	top, n := v.Top(0), len(v.rows())
	if v.desk.Root.Theme().Plain {
		v.State.Click(v.said().RowAt(p.ListW, p.ListH-top, y-top), n)
		return nil
	}
	if x < p.ListW && y >= top && y < p.ListH {
		v.State.Click(ui.Window(v.At(), n, p.ListH-top)+y-top, n)
	}
	return nil
}

// Package logbook is the Log view: everything that was ever written in the book, newest first, with what was struck or
// amended shown as such. Entries are found by typing, and amended or struck with a look at what that does to the dates.
//
// The view holds the rows around the cursor. When the cursor comes near the first or the last of them, a command reads the
// rows around it from the book's table of dates, and they take the place of those held (read.go).
package logbook

import (
	"context"
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/preview"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Log. Make one with New.
type View struct {
	table.View[model.Seq, line]
	session *session.Session
	query   query

	each   int // rows wanted on either side of the cursor, at least
	held   page
	open   model.Seq          // the entry whose page was opened last
	wanted *want              // what is to be read; nil when nothing is
	stop   context.CancelFunc // ends the command that reads; nil when none does
	failed error              // why the log can't be read
	told   int                // the id under which the status line says so

	count    count
	counting bool // a command is at it
}

// New is the Log of a window.
func New(d *session.Session) ui.Screen {
	v := &View{session: d, each: eachSide}
	v.View = table.New(d, keys.Log, table.Spec[model.Seq, line]{
		Rows: func(string) []line { return v.held.lines }, Key: func(l *line) model.Seq { return l.Seq },
		Lead: v.lead, Row: v.row, Sentence: v.sentence, Nothing: v.nothing, Found: v.found,
		Detail: v.detail, Brief: func(l *line) ([]string, string) { return []string{l.says}, l.origin }, Width: func(int) int { return enough }, Act: v.change, Find: v.find,
	})
	return v
}

// Act moves, and acts on the entry at the cursor.
func (v *View) Act(a keys.Action) tea.Cmd {
	switch {
	case a == keys.Open && v.Current() != nil:
		v.open = v.Current().Seq
	case a == keys.First && !v.held.first:
		return v.ask(want{to: toFirst})
	case a == keys.Last && !v.held.last:
		return v.ask(want{to: toLast})
	}
	cmd := v.View.Act(a)
	return tea.Batch(cmd, v.readOn())
}

// Click puts the cursor on the row under the mouse.
func (v *View) Click(x, y int) tea.Cmd {
	cmd := v.View.Click(x, y)
	return tea.Batch(cmd, v.readOn())
}

// change amends or strikes an entry, and reports whether that was asked for.
func (v *View) change(a keys.Action, l *line) (cmd tea.Cmd, used bool) {
	switch a {
	case keys.Strike, keys.Amend:
		if v.looking() { // typed fast, it would be about a row of the filter before
			v.session.Root.Say("still looking; press it again on the entry it is for")
			return nil, true
		}
	}
	switch a {
	case keys.Strike:
		return v.strike(l), true
	case keys.Amend:
		return v.amend(l), true
	}
	return nil, false
}

// find is the line of an entry, nil when it isn't held.
func (v *View) find(seq model.Seq) *line {
	for i := range v.held.lines {
		if v.held.lines[i].Seq == seq {
			return &v.held.lines[i]
		}
	}
	if o := v.held.opened; o != nil && o.Seq == seq {
		return o
	}
	return nil
}

// Msg takes in a new book, a typed filter, and what commands have read of the log.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case session.BookChanged:
		return v.renew()
	case pageRead:
		return v.took(msg)
	case counted:
		return v.tookCount(msg)
	case preview.Ready:
		msg.Deliver()
	case tea.KeyMsg:
		if v.Type(msg) {
			v.filter()
			return v.ask(want{to: toFirst})
		}
	}
	return nil
}

// filter takes what is typed for the filter.
func (v *View) filter() { v.query = parseQuery(v.Query(), v.session.Today()) }

// Close gives up the filter first; the cursor stays on its entry.
func (v *View) Close() (tea.Cmd, bool) {
	if v.State.Close() {
		return nil, true
	}
	v.filter()
	return v.ask(v.here()), false
}

// Aside is how much there is.
func (v *View) Aside(room int) string {
	s := phrase.Count(int(v.session.Book.Last()), "entry")
	if n := v.session.Book.StruckEntries(); n > 0 {
		s += fmt.Sprintf(", %d struck", n)
	}
	return text.Longest(room, s)
}

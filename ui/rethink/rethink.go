// Package rethink is the Rethink view: the components by the minutes a year their
// placing costs, those on the list first, with what is to be done about them and
// what a rebuilding has saved.
package rethink

import (
	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/act"
	"brine/wrasse/ui/ask"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/list"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Rethink list. Make one with New.
type View struct {
	list.State
	desk  *desk.Desk
	round *schedule.Round // that all is made from
	book  *model.Book     // likewise: the wide one, as visits and delays are counted over all there were
	all   []schedule.Awkward
	rows  []schedule.Awkward // all that the filter leaves
}

// New is the Rethink list of a window.
func New(d *desk.Desk) ui.Screen { return &View{State: list.New(d, keys.Rethink), desk: d} }

// The sections, in order.
const (
	sectionListed  = "to be rethought"
	sectionRest    = "what placing costs"
	sectionRebuilt = "rebuilt"
)

// section is where a component stands: what is flagged or planned comes first, what
// was rebuilt last.
func section(a *schedule.Awkward) string {
	switch state(a) {
	case model.FlagFlagged, model.FlagPlanned:
		return sectionListed
	case model.FlagRebuilt:
		return sectionRebuilt
	}
	return sectionRest
}

// state is how far a component has come on the list; empty when it was never on it.
func state(a *schedule.Awkward) model.FlagState {
	if a.Flag == nil {
		return ""
	}
	return a.Flag.What.State
}

// Needs is the wide book.
func (v *View) Needs() desk.Grade { return desk.Wide }

// renew ranks the desk's round and keeps the cursor on its component. It waits for a wide
// book that is as new as the round.
func (v *View) renew() {
	wide := v.desk.Wide()
	if wide == nil || wide.Last() < v.desk.Book.Last() || v.round == v.desk.Round && v.book == wide {
		return
	}
	v.round, v.book = v.desk.Round, wide
	v.all = nil
	ranked := v.desk.Make(wide).Rethink()
	for _, s := range []string{sectionListed, sectionRest, sectionRebuilt} {
		for i := range ranked {
			if section(&ranked[i]) == s {
				v.all = append(v.all, ranked[i])
			}
		}
	}
	v.filter()
}

// filter takes in what is typed, and keeps the cursor on its component.
func (v *View) filter() {
	at := v.component()
	v.rows = nil
	for _, a := range v.all {
		if list.Matches(v.Query(), a.Component.Name, a.Place.Name, string(state(&a)), act.CauseText(cause(&a)), idea(&a)) {
			v.rows = append(v.rows, a)
		}
	}
	v.Put(min(v.At(), max(len(v.rows)-1, 0)))
	for i, a := range v.rows {
		if a.Component.ID == at {
			v.Put(i)
		}
	}
}

// cause is the latest cause given, idea the latest note: moving a component along
// the list need not say them again.
func cause(a *schedule.Awkward) model.Cause {
	c := model.Cause("")
	for _, f := range a.Flags {
		if f.What.Cause != "" {
			c = f.What.Cause
		}
	}
	return c
}

func idea(a *schedule.Awkward) string {
	s := ""
	for _, f := range a.Flags {
		if f.What.Note != "" {
			s = f.What.Note
		}
	}
	return s
}

// selected is the row of the cursor, nil when there is none.
func (v *View) selected() *schedule.Awkward {
	if v.At() < len(v.rows) {
		return &v.rows[v.At()]
	}
	return nil
}

// component is the id of the component at the cursor.
func (v *View) component() model.ID {
	if a := v.selected(); a != nil {
		return a.Component.ID
	}
	return ""
}

// Act moves, and acts on the component at the cursor.
func (v *View) Act(a keys.Action) tea.Cmd {
	if row := v.selected(); row != nil {
		id := row.Component.ID
		if a == keys.Open {
			v.desk.Root.Push(list.NewPage(v.desk, keys.Rethink, func(w int) []string {
				if v.book == nil {
					return v.desk.Reading(w)
				}
				return v.detail(v.find(id), w)
			},
				func(a keys.Action) (tea.Cmd, bool) { return v.change(a, v.find(id)) }))
			return nil
		}
		if cmd, used := v.change(a, row); used {
			return cmd
		}
	}
	w, h := v.desk.Root.Body()
	return v.State.Act(a, len(v.rows), v.desk.Root.LayPanes(w, h).ListH)
}

// find is a component of the ranking, nil when it has gone.
func (v *View) find(id model.ID) *schedule.Awkward {
	for i := range v.all {
		if v.all[i].Component.ID == id {
			return &v.all[i]
		}
	}
	return nil
}

// change flags a component or moves it along, and reports whether that was asked for.
func (v *View) change(a keys.Action, row *schedule.Awkward) (cmd tea.Cmd, used bool) {
	if row == nil {
		return nil, false
	}
	switch a {
	case keys.Flag:
		return ask.Flag(v.desk, row.Component.ID), true
	case keys.Edit:
		return v.edit(row), true
	case keys.Advance:
		return v.advance(row), true
	}
	return nil, false
}

// Msg takes in a new round and a typed filter.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case desk.Fresh:
		v.renew()
	case desk.Forget:
		v.round, v.book, v.all = nil, nil, nil
		v.filter()
	case tea.KeyMsg:
		if v.Type(msg) {
			v.filter()
		}
	}
	return nil
}

// Close gives up the filter first.
func (v *View) Close() (tea.Cmd, bool) {
	if v.State.Close() {
		return nil, true
	}
	v.filter()
	return nil, false
}

// Click puts the cursor on the row under the mouse.
func (v *View) Click(x, y int) tea.Cmd {
	p := v.desk.Root.LayPanes(v.desk.Root.Body())
	if v.desk.Root.Theme().Plain {
		top := v.Top(0)
		v.State.Click(v.said().RowAt(p.ListW, p.ListH-top, y-top), len(v.rows))
		return nil
	}
	top := v.Top(1)
	if x < p.ListW && y >= top && y < p.ListH {
		v.State.Click(list.SectionRowAt(len(v.rows), v.At(), p.ListH-top, y-top, func(i int) string { return section(&v.rows[i]) }), len(v.rows))
	}
	return nil
}

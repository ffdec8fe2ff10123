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
	asked source // that a ranking was asked of last
	all   []schedule.Awkward
	known bool               // there is a ranking
	rows  []schedule.Awkward // all that the filter leaves
}

// source is what a ranking is made from: a wide book, as visits and delays are counted over
// all there were, and the desk's round as new as it.
type source struct {
	book  *model.Book
	round *schedule.Round
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

// ranked is a ranking as a command made it.
type ranked struct {
	of  source
	all []schedule.Awkward
}

// renew ranks anew in a command, once there is a wide book as new as the desk's. In a long
// one it takes longer than a key may.
func (v *View) renew() tea.Cmd {
	of := source{v.desk.Wide(), v.desk.Round}
	if of.book == nil || of.book.Last() < v.desk.Book.Last() || of == v.asked {
		return nil
	}
	v.asked = of
	return ui.Guarded("ranking what placing costs", func() (tea.Msg, error) {
		return ranked{of, of.round.Rethink(of.book)}, nil
	})
}

// took takes in the ranking asked for last, and keeps the cursor on its component.
func (v *View) took(r ranked) {
	if r.of != v.asked {
		return
	}
	v.all, v.known = nil, true
	for _, s := range []string{sectionListed, sectionRest, sectionRebuilt} {
		for i := range r.all {
			if section(&r.all[i]) == s {
				v.all = append(v.all, r.all[i])
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
				if !v.known {
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
		return v.renew()
	case desk.Forget:
		v.asked, v.all, v.known = source{}, nil, false
		v.filter()
	case ranked:
		v.took(msg)
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

// Package rethink is the Rethink view: the components by the minutes a year their
// placing costs, those on the list first, with what is to be done about them and
// what a rebuilding has saved.
package rethink

import (
	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/prompt"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Rethink list. Make one with New.
type View struct {
	table.View[model.ID, schedule.Awkward]
	session *session.Session
	round   *schedule.Round // that all is ranked in
	all     []schedule.Awkward
	drawn   [][]string // the cells of all rows
}

// New is the Rethink list of a window.
func New(d *session.Session) ui.Screen {
	v := &View{session: d}
	v.View = table.New(d, keys.Rethink, table.Spec[model.ID, schedule.Awkward]{
		Rows: v.rows, Key: func(a *schedule.Awkward) model.ID { return a.Component.ID }, Find: v.find,
		Section: section, Row: v.row, Sentence: v.sentence, Top: v.heads, Nothing: v.nothing, Found: v.found,
		Detail: v.detail, Brief: func(a *schedule.Awkward) ([]string, string) { return []string{costs(v.session.Book, a)}, record(a) }, Act: v.change,
	})
	return v
}

// The sections, in order.
const (
	sectionListed  = "to be rethought"
	sectionRest    = "what a move would save"
	sectionEasy    = "no move would save time"
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
	if a.Score < 0.5 {
		return sectionEasy
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

// rank ranks the components, unless it is the round that was ranked.
func (v *View) rank() {
	if v.round == v.session.Round {
		return
	}
	v.round, v.all = v.session.Round, nil
	ranked := v.round.Rethink()
	for _, s := range []string{sectionListed, sectionRest, sectionEasy, sectionRebuilt} {
		for i := range ranked {
			if section(&ranked[i]) == s {
				v.all = append(v.all, ranked[i])
			}
		}
	}
	v.Renew()
}

// rows are the components that a filter leaves.
func (v *View) rows(query string) []schedule.Awkward {
	var out []schedule.Awkward
	v.drawn = nil
	for _, a := range v.all {
		if table.Matches(query, a.Component.Name, a.Place.Name, string(state(&a)), request.CauseText(cause(&a)), idea(&a)) {
			out = append(out, a)
			v.drawn = append(v.drawn, v.cells(&a))
		}
	}
	return out
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
	switch a {
	case keys.Flag:
		return prompt.Flag(v.session, row.Component.ID), true
	case keys.Edit:
		return v.edit(row), true
	case keys.Advance:
		return v.advance(row), true
	}
	return nil, false
}

// Msg takes in a new round, and a typed filter.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	if _, fresh := msg.(session.BookChanged); fresh {
		v.rank()
		return nil
	}
	return v.View.Msg(msg)
}

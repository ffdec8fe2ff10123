package rethink

import (
	"fmt"

	"brine/wrasse/schedule"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"
)

const gap = 1

var columns = table.Columns{Most: 44, Rest: []table.Column{
	{Head: "place", Width: 20, From: 104},
	{Head: "reach", Width: 5, Right: true},
	{Head: "access", Width: 7, Right: true, From: 48},
	{Head: "visits", Width: 6, Right: true, From: 78},
	{Head: "saves", Width: 7, Right: true},
	{Head: "late", Width: 5, Right: true, From: 66},
	{Head: "heavy", Width: 5, Right: true, From: 56},
	{Width: 7}, // how far it has come on the list
}}

func (v *View) heads(w int) []string {
	return columns.Sized(w, v.drawn).Heads(v.session.Root.Theme(), w)
}

// row draws components in a list w cells wide.
func (v *View) row(w int) func(*schedule.Awkward) string {
	row := columns.Sized(w, v.drawn).Row(w)
	return func(a *schedule.Awkward) string { return row(v.cells(a)...) }
}

// sentence is one component in plain words.
func (v *View) sentence(a *schedule.Awkward) string {
	s := a.Component.Name + ", " + a.Place.Name + ": "
	if state(a) != "" {
		s += string(state(a)) + ", "
	}
	s += costs(v.session.Book, a)
	if r := record(a); r != "" {
		s += "; " + r
	}
	return s
}

// cells is one component in columns.
func (v *View) cells(a *schedule.Awkward) []string {
	th := v.session.Root.Theme()
	late, heavy := "", ""
	if a.SlipTicks > 0 {
		late = percent(a.Slip)
	}
	if a.Ticks > 0 {
		heavy = percent(a.Spent)
	}
	visits := fmt.Sprintf("%.0f", a.Visits)
	if a.Projected {
		visits = "~" + visits
	}
	access, save := fmt.Sprintf("%d min", a.AccessMinutes), hours(a.Score)
	if a.Score < 0.5 {
		save = ""
	}
	if a.Component.OpensWith != "" { // an opening counts once, for the part that is opened
		access, visits, save = "with it", "", ""
	}
	word := string(state(a))
	switch section(a) {
	case sectionListed:
		word = th.Soon.Render(word)
	case sectionRebuilt:
		word = th.Good.Render(word)
	}
	return []string{text.Clean(a.Component.Name), text.Clean(a.Place.Name), phrase.ReachCell(phrase.Grade(a.Component), phrase.Flagged(v.session.Book, a.Component.ID) != nil),
		access, visits, save, late, heavy, word}
}

// found is how many components the filter leaves.
func (v *View) found() string {
	return fmt.Sprintf("%d of %s", len(v.Shown()), phrase.Count(len(v.all), "part"))
}

// nothing says why no component is shown.
func (v *View) nothing(w int) []string {
	switch {
	case len(v.all) == 0:
		return v.Remark("No component yet. 3 goes to Gear, a adds one.")
	}
	return v.Remark("No part has all of that.")
}

// Aside is what has been saved, or could be.
func (v *View) Aside(room int) string {
	if len(v.all) == 0 {
		return ""
	}
	if minutes, parts := v.saved(); parts > 0 {
		return text.Longest(room, "rebuilt parts save "+hours(minutes)+" a year")
	}
	return text.Longest(room, "moving parts could save "+hours(v.cost().save)+" a year")
}

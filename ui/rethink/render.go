package rethink

import (
	"fmt"

	"brine/wrasse/schedule"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/words"
)

// Render draws the components around the cursor, and the one at it beside or below.
func (v *View) Render(w, h int) string {
	if !v.desk.Loaded() {
		return text.Block(nil, w, h)
	}
	return v.desk.Root.LayPanes(w, h).Draw(v.desk.Root.Theme(), v.list, func(w, h int) string {
		return text.Block(v.detail(v.selected(), w), w, h)
	})
}

const gap = 1

// Widths from which a row says more.
const (
	accessFrom = 48
	heavyFrom  = 56
	slipFrom   = 66
	visitFrom  = 78
	placeFrom  = 104
)

// nameMost is the widest a name may be: figures stay near their names.
const nameMost = 44

// columns are those of the list in w cells: name, place, reach, minutes to get at
// it, visits, minutes a year, slip, heavy or failed, state.
func columns(w int) []text.Column {
	c := []text.Column{{}, {Width: 20}, {Width: 5, Right: true}, {Width: 6, Right: true}, {Width: 6, Right: true},
		{Width: 7, Right: true}, {Width: 5, Right: true}, {Width: 5, Right: true}, {Width: 7}}
	if w < placeFrom {
		c[1].Width = 0
	}
	if w < visitFrom {
		c[4].Width = 0
	}
	if w < slipFrom {
		c[6].Width = 0
	}
	if w < heavyFrom {
		c[7].Width = 0
	}
	if w < accessFrom {
		c[3].Width = 0
	}
	c[0].Width = min(max(w-2-text.RowWidth(gap, c)-gap, 8), nameMost)
	return c
}

// list draws the filter, where there is one, the heads of the columns and the rows.
func (v *View) list(w, h int) string {
	th := v.desk.Root.Theme()
	var lines []string
	if !v.known {
		return text.Block(v.desk.Reading(w), w, h)
	}
	if v.Filtering() {
		lines = append(lines, v.FilterLine(th, fmt.Sprintf("%d of %s", len(v.rows), words.Count(len(v.all), "part")), w))
	}
	if len(v.rows) == 0 {
		lines = append(lines, "", "  "+th.Dim.Render(v.nothing()))
		return text.Block(lines, w, h)
	}
	if th.Plain {
		return text.Block(append(lines, v.said().Lines(th, w, h-len(lines))...), w, h)
	}
	cols := columns(w)
	lines = append(lines, th.Dim.Render("  "+text.Row(gap, cols, "", "place", "reach", "access", "visits", "a year", "slip", "heavy", "")))
	lines = append(lines, list.Sections(th, len(v.rows), v.At(), h-len(lines),
		func(i int) string { return section(&v.rows[i]) },
		func(i int) string { return list.Row(th, i == v.At(), v.row(&v.rows[i], cols), w) })...)
	return text.Block(lines, w, h)
}

// said is the rows in plain words.
func (v *View) said() list.Said {
	return list.Said{
		N: len(v.rows), At: v.At(),
		Section: func(i int) string { return section(&v.rows[i]) },
		Row: func(i int) string {
			a := &v.rows[i]
			s := a.Component.Name + ", " + a.Place.Name + ": "
			if state(a) != "" {
				s += string(state(a)) + ", "
			}
			s += costs(v.desk.Book, a)
			if r := record(a); r != "" {
				s += "; " + r
			}
			return s
		},
	}
}

// row is one component in columns.
func (v *View) row(a *schedule.Awkward, cols []text.Column) string {
	th := v.desk.Root.Theme()
	slip, heavy := "", ""
	if a.SlipTicks > 0 {
		slip = percent(a.Slip)
	}
	if a.Ticks > 0 {
		heavy = percent(a.Spent)
	}
	visits := fmt.Sprintf("%.0f", a.Visits)
	if a.Projected {
		visits = "~" + visits
	}
	word := string(state(a))
	switch section(a) {
	case sectionListed:
		word = th.Soon.Render(word)
	case sectionRebuilt:
		word = th.Good.Render(word)
	}
	return text.Row(gap, cols, text.Clean(a.Component.Name), text.Clean(a.Place.Name), grade(a.Component),
		fmt.Sprintf("%d min", a.AccessMinutes), visits, hours(a.MinutesAYear), slip, heavy, word)
}

// nothing says why no component is shown.
func (v *View) nothing() string {
	if len(v.all) == 0 {
		return "No component yet. 3 goes to Gear, a adds one."
	}
	return "No part has all of that."
}

// Aside is what has been saved, or what placing costs.
func (v *View) Aside(room int) string {
	all, _ := v.cost()
	s := "placing costs " + hours(all) + " a year"
	if minutes, parts := v.saved(); parts > 0 {
		s = "rebuilt parts save " + hours(minutes) + " a year"
	}
	if len(v.all) == 0 || text.Width(s) > room {
		return ""
	}
	return s
}

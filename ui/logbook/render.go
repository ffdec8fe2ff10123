package logbook

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"
)

// Widths from which more is said in a row.
const (
	yearFrom    = 64
	byFrom      = 90
	weekdayFrom = 100
	kindFrom    = 110
)

// Render draws the entries around the cursor, and the one at it beside or below.
func (v *View) Render(w, h int) string {
	if !v.session.Loaded() {
		return text.Block(nil, w, h)
	}
	return v.session.Root.LayPanes(w, h).Draw(v.session.Root.Theme(), v.listed, func(w, h int) string {
		if k := v.selected(); k != 0 && !v.pending() {
			return text.Block(v.detail(k.seq(), w), w, h)
		}
		return text.Block(nil, w, h)
	})
}

// listed draws the filter, where there is one, and the entries around the cursor.
func (v *View) listed(w, h int) string {
	th := v.session.Root.Theme()
	var lines []string
	if v.pending() {
		return text.Block(v.reading(w), w, h)
	}
	if v.Filtering() {
		lines = append(lines, v.FilterLine(th, v.foundWords(), w))
	}
	if v.rows().n == 0 {
		return text.Block(append(lines, "", "  "+th.Dim.Render(v.nothing())), w, h)
	}
	return text.Block(append(lines, v.drawn(w, h-len(lines)).Lines(th, w, h-len(lines))...), w, h)
}

// drawn is the entries as they are drawn in h lines of w cells: a date stands in the first
// of them and where a new one begins.
func (v *View) drawn(w, h int) table.Rows {
	th, top := v.session.Root.Theme(), ui.Window(v.At(), v.rows().n, h)
	row := func(i int) string { return table.Said(th, v.sentence(v.row(i)), w) }
	if !th.Plain {
		row = func(i int) string {
			k := v.row(i)
			return v.columns(k, i == top || i > 0 && v.row(i-1).date() != k.date(), w)
		}
	}
	return table.Rows{N: v.rows().n, At: v.At(), Section: func(int) string { return "" }, Row: row}
}

// unread stands for what an entry says as long as that is being read.
const unread = "..."

// sentence is one entry in words, after its date.
func (v *View) sentence(k key) string {
	l := v.lines.of[k.seq()]
	if l == nil {
		l = &line{shown: new(model.Entry), says: unread}
	}
	s := l.says
	if d := k.date(); !d.IsZero() {
		s = phrase.Day(d, v.session.Today()) + ": " + s
	}
	if l.shown.By != "" {
		s += ", by " + l.shown.By
	}
	switch {
	case l.struck:
		s = "struck, " + s
	case l.amended:
		s += ", amended"
	}
	return s
}

// columns draws one entry in a list of w cells.
func (v *View) columns(k key, dated bool, w int) string {
	th := v.session.Root.Theme()
	l := v.lines.of[k.seq()]
	if l == nil {
		l = &line{shown: new(model.Entry), says: unread}
	}
	layout := "2 Jan 06"
	switch {
	case w >= weekdayFrom:
		layout = "Mon 2 Jan 2006"
	case w >= yearFrom:
		layout = "2 Jan 2006"
	}
	columns := []text.Column{{Width: len(layout) + 1}, {Width: 9}, {}, {Width: 10}, {Width: 7}}
	if w < kindFrom {
		columns[1].Width = 0
	} else {
		columns[3].Width = 20
	}
	if w < byFrom {
		columns[3].Width = 0
	}
	const gap = 1
	mark := ""
	switch {
	case l.struck:
		mark = "struck"
	case l.amended:
		mark = "amended"
	default:
		columns[4].Width = 0 // room for the text instead
	}
	columns[2].Width = max(w-2-text.RowWidth(gap, columns)-gap, 1)
	date := ""
	if d := k.date(); dated && !d.IsZero() {
		date = d.Format(layout)
	}
	said := text.Clean(l.says)
	switch {
	case l.says == unread:
		said = th.Dim.Render(said)
	case l.struck:
		said = th.Dim.Strikethrough(true).Render(text.Fit(said, min(text.Width(said), columns[2].Width)))
	}
	return " " + text.Row(gap, columns,
		th.Dim.Render(date), th.Dim.Render(string(l.shown.Kind)), said, th.Dim.Render(text.Clean(l.shown.By)), mark)
}

// foundWords says how many entries a filter has found so far.
func (v *View) foundWords() string {
	s := fmt.Sprintf("%d found", v.search.found.n)
	switch {
	case v.search.query.empty():
		return "words, kind, component, 2026-03, 2026-03..2026-06, 30d"
	case v.looking():
		return s + ", looking ..."
	}
	return s
}

// looking tells that more may be found.
func (v *View) looking() bool {
	return v.failed == nil && (!v.index.complete() || v.search.behind(v.index))
}

// nothing says why no entry is shown.
func (v *View) nothing() string {
	switch {
	case v.index.rows.n == 0:
		return "Nothing has been written yet."
	case v.looking():
		return "Looking ..."
	}
	return "No entry has all of that. Words, a kind such as tick, and dates such as 2026-03 narrow it down."
}

package logbook

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/words"
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
	if !v.desk.Loaded() {
		return text.Block(nil, w, h)
	}
	return v.desk.Root.LayPanes(w, h).Draw(v.desk.Root.Theme(), v.list, func(w, h int) string {
		if seq := v.selected(); seq != 0 {
			return text.Block(v.detail(seq, w), w, h)
		}
		return text.Block(nil, w, h)
	})
}

// list draws the filter, where there is one, and the entries around the cursor.
func (v *View) list(w, h int) string {
	th := v.desk.Root.Theme()
	var lines []string
	if v.pending() {
		return text.Block(v.desk.Reading(w), w, h)
	}
	if v.Filtering() {
		lines = append(lines, v.FilterLine(th, v.foundWords(), w))
	}
	rows := v.rows()
	room := h - len(lines)
	if th.Plain && len(rows) > 0 {
		return text.Block(append(lines, v.said().Lines(th, w, room)...), w, h)
	}
	from := ui.Window(v.At(), len(rows), room)
	above := model.Date(0)
	for i := from; i < min(len(rows), from+room); i++ {
		date := v.index.date(rows[i])
		lines = append(lines, v.row(rows[i], date != above, i == v.At(), w))
		above = date
	}
	if len(rows) == 0 {
		lines = append(lines, "", "  "+th.Dim.Render(v.nothing()))
	}
	return text.Block(lines, w, h)
}

// said is the entries in plain words.
func (v *View) said() list.Said {
	rows := v.rows()
	return list.Said{
		N: len(rows), At: v.At(),
		Section: func(int) string { return "" },
		Row:     func(i int) string { return v.sentence(rows[i]) },
	}
}

// sentence is one entry in words, after its date.
func (v *View) sentence(seq model.Seq) string {
	b := v.index.book
	e := reads(b, seq)
	s := say(b, e)
	if d := v.index.date(seq); !d.IsZero() {
		s = words.Day(d, v.desk.Today()) + ": " + s
	}
	if e.By != "" {
		s += ", by " + e.By
	}
	switch {
	case b.Struck(seq):
		s = "struck, " + s
	case amended(b, seq):
		s += ", amended"
	}
	return s
}

// row draws one entry in w cells, its date only where a new one begins.
func (v *View) row(seq model.Seq, dated, selected bool, w int) string {
	th, b := v.desk.Root.Theme(), v.index.book
	e := reads(b, seq)
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
	case b.Struck(seq):
		mark = "struck"
	case amended(b, seq):
		mark = "amended"
	default:
		columns[4].Width = 0 // room for the text instead
	}
	columns[2].Width = max(w-2-text.RowWidth(gap, columns)-gap, 1)
	date := ""
	if d := v.index.date(seq); dated && !d.IsZero() {
		date = d.Format(layout)
	}
	said := text.Clean(say(b, e))
	if b.Struck(seq) {
		said = th.Dim.Strikethrough(true).Render(text.Fit(said, min(text.Width(said), columns[2].Width)))
	}
	return list.Row(th, selected, text.Row(gap, columns,
		th.Dim.Render(date), th.Dim.Render(string(e.Kind)), said, th.Dim.Render(text.Clean(e.By)), mark), w)
}

// foundWords says how many entries a filter has found so far.
func (v *View) foundWords() string {
	s := fmt.Sprintf("%d found", len(v.search.found))
	switch {
	case v.search.query.empty():
		return "words, kind, component, 2026-03, 2026-03..2026-06, 30d"
	case v.search.looked < len(v.index.seqs):
		return s + ", looking ..."
	}
	return s
}

// nothing says why no entry is shown.
func (v *View) nothing() string {
	switch {
	case len(v.index.seqs) == 0:
		return "Nothing has been written yet."
	case v.search.looked < len(v.index.seqs):
		return "Looking ..."
	}
	return "No entry has all of that. Words, a kind such as tick, and dates such as 2026-03 narrow it down."
}

package logbook

import (
	"strings"

	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// Widths of the list from which more is said in a row.
const (
	yearFrom    = 64
	byFrom      = 90
	weekdayFrom = 100
	kindFrom    = 110
	enough      = 132 // the rest is the detail's
)

// layout is how dates are written in a list of w cells.
func layout(w int) string {
	switch {
	case w >= weekdayFrom:
		return "Mon 2 Jan 2006"
	case w >= yearFrom:
		return "2 Jan 2006"
	}
	return "2 Jan 06"
}

// lead draws the dates that entries stand under in a list of w cells.
func (v *View) lead(w int) func(*line) string {
	layout, th := layout(w), v.session.Root.Theme()
	return func(l *line) string {
		date := ""
		if !l.date.IsZero() {
			date = l.date.Format(layout)
		}
		return " " + th.Dim.Render(text.Fit(date, len(layout)+1))
	}
}

// row draws what stands behind the dates.
func (v *View) row(w int) func(*line) string {
	const gap = 1
	th := v.session.Root.Theme()
	kind, by := 0, 0
	switch {
	case w >= kindFrom:
		kind, by = 9, 20
	case w >= byFrom:
		by = 10
	}
	room := w - 4 - len(layout(w)) // for the mark of the cursor, the date, and a cell on either side of that
	return func(l *line) string {
		mark := mark(l.Row)
		columns := []text.Column{{Width: kind}, {Width: 1}, {Width: by}, {}}
		if mark != "" {
			columns[3].Width = len("amended")
		}
		says := &columns[1].Width
		*says += max(room-text.RowWidth(gap, columns), 0)
		said := text.Clean(v.folded(l))
		if note := strings.Index(said, " ("); note > 0 && text.Width(said) > *says { // the detail has it
			said = said[:note]
		}
		const failed = ", found failed"
		if check, _, off := strings.Cut(said, failed+", "); off && text.Width(said) > *says { // and by how much
			said = check + failed
		}
		if l.Struck {
			said = th.Dim.Strikethrough(true).Render(text.Fit(said, min(text.Width(said), *says)))
		}
		return " " + text.Row(gap, columns, th.Dim.Render(string(l.shown.Kind)), said, th.Dim.Render(text.Clean(l.shown.By)), mark)
	}
}

// sentence is an entry in words, after its date.
func (v *View) sentence(l *line) string {
	s := v.folded(l)
	if !l.date.IsZero() {
		s = phrase.Day(l.date, v.session.Today()) + ": " + s
	}
	if l.shown.By != "" {
		s += ", by " + l.shown.By
	}
	switch {
	case l.Struck:
		s = "struck, " + s
	case l.Amended:
		s += ", amended"
	}
	return s
}

// nothing says why no entry is shown.
func (v *View) nothing(w int) []string {
	switch {
	case v.failed != nil:
		return v.remark(w, "the log can't be read: "+v.failed.Error())
	case v.session.Book.Empty():
		return v.remark(w, "Nothing has been written yet.")
	case v.held.book == nil:
		return v.remark(w, "reading the log ...")
	case v.stop != nil:
		return v.remark(w, "Looking ...")
	}
	return v.remark(w, "No entry has all of that. Words, a kind such as tick, and dates such as 2026-03 narrow it down.")
}

// remark is lines of w cells that stand where there are no rows.
func (v *View) remark(w int, s string) []string {
	return append([]string{""}, text.Para(w, "  ", "  ", v.session.Root.Theme().Dim.Render, s)...)
}

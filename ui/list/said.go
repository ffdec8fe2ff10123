package list

import (
	"brine/wrasse/ui"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
)

// Said is a list in plain words: every row a sentence that goes on below where it is
// long, with the cursor's mark always in the first column. Only the rows in sight are
// asked for.
type Said struct {
	N, At   int
	Section func(i int) string // a heading stands where it changes; "" is none
	Row     func(i int) string // one sentence, as the book has it
}

// saidLine is a line of such a list: a heading, or a part of a row.
type saidLine struct {
	row, part int // row is -1 of a heading
	text      string
}

// mostSaid is how many lines a sentence may take: a low window holds several rows.
const mostSaid = 4

// Lines draws the rows around the cursor in at most h lines of w cells.
func (s Said) Lines(th theme.Theme, w, h int) []string {
	var out []string
	for _, l := range s.shown(w, h) {
		switch {
		case l.row < 0:
			out = append(out, th.Title.Render(text.Fit(l.text, w)))
		case l.row != s.At:
			out = append(out, text.Fit("  "+l.text, w))
		case l.part == 0:
			out = append(out, theme.Over(th.Cursor, text.Fit(th.Mark+" "+l.text, w)))
		default:
			out = append(out, theme.Over(th.Cursor, text.Fit("  "+l.text, w)))
		}
	}
	return out
}

// RowAt is the row drawn at line y, or -1.
func (s Said) RowAt(w, h, y int) int {
	all := s.shown(w, h)
	if y < 0 || y >= len(all) {
		return -1
	}
	return all[y].row
}

// shown is the lines in sight, so that the row at the cursor is among them. It looks at
// no more rows above and below than fill the window.
func (s Said) shown(w, h int) []saidLine {
	if s.N == 0 || h < 1 {
		return nil
	}
	at := min(s.At, s.N-1)
	var above, below []saidLine
	for i := at - 1; i >= 0 && len(above) < h; i-- {
		above = append(s.row(i, w), above...)
	}
	for i := at; i < s.N && len(below) < h; i++ {
		below = append(below, s.row(i, w)...)
	}
	all := append(above, below...)
	cursor := len(above)
	if all[cursor].row < 0 {
		cursor++ // its heading stands before it
	}
	from := ui.Window(cursor, len(all), h)
	return all[from:min(len(all), from+h)]
}

// row is the lines of a row, below its heading where one begins.
func (s Said) row(i, w int) []saidLine {
	var out []saidLine
	if section := s.Section(i); section != "" && (i == 0 || s.Section(i-1) != section) {
		out = append(out, saidLine{-1, 0, text.Clean(section)})
	}
	lines := text.Wrap(text.Clean(s.Row(i)), max(w-2, 1))
	if len(lines) > mostSaid {
		lines = append(lines[:mostSaid-1], text.Fit(lines[mostSaid-1]+" "+text.Ellipsis, w-2))
	}
	for part, l := range lines {
		out = append(out, saidLine{i, part, l})
	}
	return out
}

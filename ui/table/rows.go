package table

import (
	"slices"
	"strings"

	"brine/wrasse/ui"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	"github.com/charmbracelet/x/ansi"
)

// Rows draws n rows around the one the cursor is at. A heading stands above each row
// whose section is another than that of the row before.
type Rows struct {
	N, At   int
	Section func(i int) string // "" is none
	Lead    func(i int) string // stands before a row, and blank below another with the same; nil is none
	Row     func(i int) string // its lines, without the cell of the cursor's mark before them
}

// line is a line of them: a heading, or a part of a row.
type line struct {
	row, part int // row is -1 of a heading
	text      string
}

// Lines draws the rows in at most h lines of w cells.
func (r Rows) Lines(th theme.Theme, w, h int) []string {
	var out []string
	lines := r.inSight(h)
	for n, l := range lines {
		if r.Lead != nil && l.row >= 0 {
			l.text = r.lead(l, n == 0) + l.text
		}
		switch {
		case l.row < 0 && n == len(lines)-1: // the rows of the last heading are out of sight
			out = append(out, text.Fit(th.Title.Render(th.Words(l.text))+th.Dim.Render(" (more below)"), w))
		case l.row < 0:
			out = append(out, th.Title.Render(text.Fit(th.Words(l.text), w)))
		case l.row != r.At:
			out = append(out, text.Fit(" "+l.text, w))
		case l.part == 0:
			out = append(out, th.Cursor.Render(text.Fit(th.Mark+ansi.Strip(l.text), w))) // hues would stand as blocks in the bar
		default:
			out = append(out, th.Cursor.Render(text.Fit(" "+ansi.Strip(l.text), w)))
		}
	}
	return out
}

// lead is what stands before a part of a row, which may be the first in sight.
func (r Rows) lead(l line, first bool) string {
	s := r.Lead(l.row)
	if l.part > 0 || !first && l.row > 0 && r.Lead(l.row-1) == s {
		return strings.Repeat(" ", text.Width(s))
	}
	return s
}

// RowAt is the row that is drawn at line y of h, or -1.
func (r Rows) RowAt(h, y int) int {
	lines := r.inSight(h)
	if y < 0 || y >= len(lines) {
		return -1
	}
	return lines[y].row
}

// inSight is the lines that are drawn in h. It asks for no more rows above and below the
// cursor than fill them.
func (r Rows) inSight(h int) []line {
	if r.At < 0 || r.At >= r.N || h < 1 {
		return nil
	}
	var above, below []line
	for i := r.At - 1; i >= 0 && len(above) < h; i-- {
		above = slices.Insert(above, 0, r.lines(i)...)
	}
	for i := r.At; i < r.N && len(below) < h; i++ {
		below = append(below, r.lines(i)...)
	}
	all := append(above, below...)
	cursor := len(above)
	if all[cursor].row < 0 {
		cursor++ // its heading stands before it
	}
	from := ui.Window(cursor, len(all), h)
	return all[from:min(len(all), from+h)]
}

// lines is the lines of a row, below its heading where one begins.
func (r Rows) lines(i int) []line {
	var out []line
	if s := r.Section(i); s != "" && (i == 0 || r.Section(i-1) != s) {
		out = append(out, line{-1, 0, text.Clean(s)})
	}
	for part, l := range strings.Split(r.Row(i), "\n") {
		out = append(out, line{i, part, l})
	}
	return out
}

// The most lines that one row takes, so that a window holds several: in words, and of a
// text that is read in full.
const (
	mostSaid    = 4
	mostWrapped = 8
)

// Wrapped is a text as a row of w cells, which goes on in the lines below.
func Wrapped(render func(...string) string, s string, w int) string {
	return wrapped(render, s, w, mostWrapped)
}

func wrapped(render func(...string) string, s string, w, most int) string {
	lines := text.Wrap(text.Clean(s), max(w-2, 1))
	if len(lines) > most {
		lines = append(lines[:most-1], text.Fit(lines[most-1]+" "+text.Ellipsis, w-2))
	}
	for i, l := range lines {
		lines[i] = " " + render(l)
	}
	return strings.Join(lines, "\n")
}

// Said is a sentence as a row of w cells, where plain words are wanted.
func Said(th theme.Theme, sentence string, w int) string {
	return wrapped(th.Text.Render, text.Spoken(sentence), w, mostSaid)
}

// Package text turns strings into terminal cells: cleaning what came from a
// book, fitting a line to an exact width, wrapping, columns. It is pure and
// knows nothing of screens, colours or keys.
//
// Two rules hold everywhere. A width is measured on the finished string,
// because widths do not add up: a combining mark at the start of one cell joins
// the end of the one before. And the only measure is Width, so that no two
// parts of the program can disagree about a character.
//
// Start at Clean for anything a person or a file supplied, then Fit or Row.
// Clean expects raw text; the others expect cleaned text and leave colour
// sequences in it alone.
package text

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Ellipsis ends a text that was cut.
const Ellipsis = "…"

// Fit returns s in exactly w cells: cut with an ellipsis, or padded with
// spaces on the right. Line breaks and tabs become spaces, so the result is
// always one line. A width of zero or less gives the empty string.
func Fit(s string, w int) string {
	if w <= 0 {
		return ""
	}
	if n, ok := simpleWidth(s); ok && n <= w {
		return s + strings.Repeat(" ", w-n)
	}
	s = flat.Replace(s)
	n := Width(s)
	if n > w {
		s = ansi.Truncate(s, w, Ellipsis)
		n = Width(s)
	}
	return pad(s, n, w)
}

// Right is Fit with the padding on the left. A text that is too long loses its
// end, as in Fit: a name stays recognisable by its start.
func Right(s string, w int) string {
	if w <= 0 {
		return ""
	}
	if n, ok := simpleWidth(s); ok && n <= w {
		return strings.Repeat(" ", w-n) + s
	}
	s = flat.Replace(s)
	if Width(s) > w {
		s = ansi.Truncate(s, w, Ellipsis)
	}
	for lead := w - Width(s); lead > 0; lead-- {
		if whole := strings.Repeat(" ", lead) + s; Width(whole) <= w {
			return pad(whole, Width(whole), w)
		}
	}
	return pad(s, Width(s), w)
}

// Spread puts left at the left edge and right at the right edge of exactly w
// cells. When both do not fit with a space between, left is cut first; a right
// part wider than the line leaves no room for left at all.
func Spread(left, right string, w int) string {
	rw := Width(right)
	if rw == 0 || w <= 0 {
		return Fit(left, w)
	}
	room := w - rw - 1
	if room < 1 {
		return Fit(right, w)
	}
	return Fit(Fit(left, room)+" "+right, w)
}

// Block returns exactly h lines of exactly w cells, joined by line breaks:
// missing lines are blank, lines too many are dropped from the end. A height
// of zero or less gives the empty string.
func Block(lines []string, w, h int) string {
	if h <= 0 {
		return ""
	}
	out := make([]string, h)
	blank := strings.Repeat(" ", max(w, 0))
	for i := range out {
		out[i] = blank
		if i < len(lines) {
			out[i] = Fit(lines[i], w)
		}
	}
	return strings.Join(out, "\n")
}

// flat keeps a line one line; see Clean for text that came from outside.
var flat = strings.NewReplacer("\r\n", " ", "\n", " ", "\r", " ", "\t", " ")

// pad fills s, which is n cells wide, up to w cells. One pass is not always
// enough: the last character may swallow the first space added to it.
func pad(s string, n, w int) string {
	for ; n < w; n = Width(s) {
		s += strings.Repeat(" ", w-n)
	}
	return s
}

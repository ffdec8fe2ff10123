package text

import (
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
	"golang.org/x/text/unicode/norm"
)

// ASCII draws a line again in ASCII, for terminals and fonts that have nothing else: what
// the program draws in signs of its own, letters without their accents, and a question
// mark a cell for whatever is left. The line stays as wide as it was. A sign that needs
// more cells than it had takes them from the next gap in the line, so that the columns
// behind the gap stay where they are; a line without a gap has the shorter of two ways to
// write the sign.
func ASCII(s string) string {
	if ascii(s) {
		return s
	}
	if out, ok := respelt(s, true); ok {
		return out
	}
	out, _ := respelt(s, false)
	return out
}

// ascii tells of a line with nothing to respell.
func ascii(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// spelt is what a sign becomes: in full, and in as many cells as it had.
type spelt struct{ full, short string }

// signs are those the program draws. Braille and what a keeper has typed are not among them.
var signs = map[rune]spelt{
	'·': {"-", "-"}, '°': {"deg", " "}, 'µ': {"u", "u"}, '−': {"-", "-"}, '–': {"-", "-"}, '—': {"-", "-"}, '×': {"x", "x"},
	'─': {"-", "-"}, '│': {"|", "|"}, '┼': {"+", "+"}, '└': {"+", "+"}, '├': {"+", "+"}, '┴': {"+", "+"},
	'━': {"~", "~"}, '╌': {"-", "-"}, '┊': {":", ":"}, '█': {"#", "#"}, '▄': {"#", "#"},
}

// respelt is a line in ASCII. It fails where signs in full leave the line too wide.
func respelt(s string, full bool) (string, bool) {
	out := make([]byte, 0, len(s))
	owed := 0         // cells too many so far
	last := byte(' ') // the sign drawn last, in ASCII
	behind := false   // it is the last byte of out, and a character of its own
	for i := 0; i < len(s); {
		if end := colourEnd(s, i); end >= 0 {
			out = append(out, s[i:end+1]...)
			i, behind = end+1, false
			continue
		}
		char, cells := ansi.FirstGraphemeCluster(s[i:], ansi.GraphemeWidth)
		i += len(char)
		if c := char[0]; len(char) == 1 && c < utf8.RuneSelf {
			if c == ' ' && last == ' ' && owed > 0 {
				owed--
				continue
			}
			out, last, behind = append(out, c), c, true
			continue
		}
		r, _ := utf8.DecodeRuneInString(char)
		known, ok := signs[r]
		drawn := known.short
		switch {
		case char == Ellipsis && behind && last != ' ' && last != '|':
			out, drawn = out[:len(out)-1], ".."
		case char == Ellipsis:
			drawn = "."
		case ok && full:
			drawn = known.full
			owed += len(drawn) - cells
		case r >= brailleFirst && r <= brailleLast:
			drawn = dots(r)
		case !ok:
			drawn = bare(char, cells)
		}
		out, last, behind = append(out, drawn...), '.', len(drawn) == 1
	}
	return string(out), owed == 0
}

// The patterns of braille, and the dots of one that lie in the upper half of its cell.
const (
	brailleFirst = '\u2800'
	brailleLast  = '\u28ff'
	upperDots    = 0x1b
)

// dots is a cell of dots by its halves.
func dots(r rune) string {
	set := r - brailleFirst
	switch up, down := set&upperDots != 0, set&^upperDots != 0; {
	case up && down:
		return ":"
	case up:
		return "'"
	case down:
		return "."
	}
	return " "
}

// bare is a character without what ASCII has no sign for, in as many cells.
func bare(char string, cells int) string {
	var b strings.Builder
	for _, r := range norm.NFKD.String(char) {
		if r > ' ' && r < utf8.RuneSelf && b.Len() < cells {
			b.WriteRune(r)
		}
	}
	b.WriteString(strings.Repeat("?", max(cells-b.Len(), 0)))
	return b.String()
}

package text

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// marksPerBase is how many combining marks one character may carry. Living
// scripts need three; a tower of them paints over the lines above.
const marksPerBase = 4

// Clean makes a text from a book, a file or the keyboard harmless to draw. The
// stored text is not changed; only what reaches the terminal is.
//
// It removes terminal sequences, control characters and broken bytes;
// direction overrides, zero-width characters and tags, which can make a text
// read as something else; joiners, variation selectors and skin tones, about
// whose width terminals disagree; and marks with nothing to sit on. Line
// breaks and tabs become spaces. Some scripts are shaped less well without
// their joiners: that is the price of a steady grid.
//
// Clean(Clean(s)) == Clean(s), and a result never spans lines.
func Clean(s string) string {
	if plain(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	marks := 0
	for _, r := range ansi.Strip(s) {
		switch {
		case r == '\n' || r == '\r' || r == '\t' || unicode.In(r, unicode.Zl, unicode.Zp):
			b.WriteByte(' ')
			marks = 0
		case dropped(r):
		case unicode.Is(unicode.M, r):
			if marks++; marks <= marksPerBase && b.Len() > 0 {
				b.WriteRune(r)
			}
		case b.Len() == 0 && joins(r):
		default:
			b.WriteRune(r)
			marks = 0
		}
	}
	return b.String()
}

// plain reports whether s is printable ASCII, the common case, which needs no
// work and no memory.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// dropped reports whether r has no place on the grid.
func dropped(r rune) bool {
	return r == utf8.RuneError ||
		unicode.In(r, unicode.Cc, unicode.Cf, unicode.Cs, unicode.Variation_Selector) ||
		r >= 0x1f3fb && r <= 0x1f3ff // skin tones
}

// joins reports whether r would merge with the cell before it, and so spoil a
// column that starts with it.
func joins(r rune) bool {
	s := string(r)
	return Width(" "+s) != 1+Width(s)
}

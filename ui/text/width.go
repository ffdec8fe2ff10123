package text

import (
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// Width is the number of terminal cells s takes on one line.
func Width(s string) int {
	if n, ok := simpleWidth(s); ok {
		return n
	}
	return ansi.StringWidth(s)
}

// simpleWidth measures what takes a cell for each character, with colour sequences
// between them. That is nearly all the program draws, and several times as fast as
// looking for character clusters. Anything else it leaves alone.
func simpleWidth(s string) (n int, ok bool) {
	for i := 0; i < len(s); i++ {
		c := s[i]
		switch {
		case c >= ' ' && c <= '~':
			n++
		case c >= utf8.RuneSelf:
			r, size := utf8.DecodeRuneInString(s[i:])
			if !single(r) {
				return 0, false
			}
			n++
			i += size - 1
		default:
			end := colourEnd(s, i)
			if end < 0 {
				return 0, false
			}
			i = end
		}
	}
	return n, true
}

// single tells of a character beyond ASCII that it takes one cell and joins none of its
// like: European letters, the signs beside them, dashes to ellipsis, and what rules, bars
// and charts are drawn with.
func single(r rune) bool {
	const softHyphen = '\u00ad'
	return r >= '\u00a1' && r <= '\u024f' && r != softHyphen || r >= '\u2010' && r <= '\u2027' ||
		r >= '\u2500' && r <= '\u259f' || r >= brailleFirst && r <= brailleLast
}

// colourEnd is the index of the last byte of the colour sequence that starts at
// s[i], or -1 if none does.
func colourEnd(s string, i int) int {
	if i+1 >= len(s) || s[i] != '\x1b' || s[i+1] != '[' {
		return -1
	}
	for i += 2; i < len(s); i++ {
		switch c := s[i]; {
		case c == 'm':
			return i
		case c != ';' && (c < '0' || c > '9'):
			return -1
		}
	}
	return -1
}

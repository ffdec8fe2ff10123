package text

import "github.com/charmbracelet/x/ansi"

// Width is the number of terminal cells s takes on one line.
func Width(s string) int {
	if n, ok := asciiWidth(s); ok {
		return n
	}
	return ansi.StringWidth(s)
}

// asciiWidth measures printable ASCII with colour sequences, which is nearly
// all the program draws, without looking for character clusters; several times
// as fast as the general way. Anything else it leaves alone.
func asciiWidth(s string) (n int, ok bool) {
	for i := 0; i < len(s); i++ {
		if s[i] >= ' ' && s[i] <= '~' {
			n++
			continue
		}
		end := colourEnd(s, i)
		if end < 0 {
			return 0, false
		}
		i = end
	}
	return n, true
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

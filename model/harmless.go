package model

import (
	"bytes"
	"fmt"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// unseen are the characters that JSON may hold bare and that are not for the eye: DEL and the
// eight-bit controls, which some terminals act on, those that turn text around or have no
// width, and the other line ends.
var unseen = []*unicode.RangeTable{unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp}

// Harmless is a line of JSON with every character escaped that is not for the eye; the encoder
// escapes those below space only. They can stand inside strings alone, and it reads back the
// same.
func Harmless(line []byte) []byte {
	acts := func(r rune) bool { return r > '~' && unicode.In(r, unseen...) }
	if bytes.IndexFunc(line, acts) < 0 {
		return line
	}
	var out []byte
	for _, r := range string(line) {
		switch {
		case !acts(r):
			out = utf8.AppendRune(out, r)
		case r > 0xffff:
			high, low := utf16.EncodeRune(r)
			out = fmt.Appendf(out, `\u%04x\u%04x`, high, low)
		default:
			out = fmt.Appendf(out, `\u%04x`, r)
		}
	}
	return out
}

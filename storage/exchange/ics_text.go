package exchange

import (
	"strings"
	"unicode/utf8"
)

// maxFolded is how many octets a physical line of a calendar has at most, its line
// break not counted (RFC 5545, section 3.1).
const maxFolded = 75

// fold breaks a content line into physical lines, never inside a character, so that
// each is readable by itself. It takes no line breaks.
func fold(line string) string {
	if len(line) <= maxFolded {
		return line
	}
	var b strings.Builder
	room := maxFolded
	for len(line) > room {
		end := room
		for end > room-utf8.UTFMax && !utf8.RuneStart(line[end]) {
			end--
		}
		b.WriteString(line[:end])
		b.WriteString("\r\n ")
		line = line[end:]
		room = maxFolded - 1 // the space counts
	}
	b.WriteString(line)
	return b.String()
}

// escaping is what TEXT writes differently (RFC 5545, section 3.3.11).
var escaping = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`, "\r", `\n`)

// escape makes text a value of a content line. Control characters, which TEXT has no
// way to hold, are left out.
func escape(text string) string { return harmless(escaping.Replace(text)) }

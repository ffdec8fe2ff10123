package list

import (
	"brine/wrasse/ui"
	"brine/wrasse/ui/theme"
)

// Sections draws n rows around the one at, in at most h lines, with a heading above
// each row whose section is another than that of the row before. Rows without a
// section stand under no heading.
func Sections(th theme.Theme, n, at, h int, section func(i int) string, row func(i int) string) []string {
	var lines []string
	cursor, last := 0, ""
	for i := range n {
		if s := section(i); s != last {
			if s != "" {
				lines = append(lines, th.Title.Render(s))
			}
			last = s
		}
		if i == at {
			cursor = len(lines)
		}
		lines = append(lines, row(i))
	}
	from := ui.Window(cursor, len(lines), h)
	return lines[from:min(len(lines), from+max(h, 0))]
}

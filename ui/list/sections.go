package list

import (
	"strings"

	"brine/wrasse/ui"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	"github.com/charmbracelet/lipgloss"
)

// Sections draws n rows around the one at, in at most h lines, with a heading above
// each row whose section is another than that of the row before. Rows without a
// section stand under no heading; a row may be several lines.
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
		lines = append(lines, strings.Split(row(i), "\n")...)
	}
	from := ui.Window(cursor, len(lines), h)
	return lines[from:min(len(lines), from+max(h, 0))]
}

// mostWrapped is how many lines a wrapped row may take: a screen holds several.
const mostWrapped = 8

// Wrapped is Row for a text that is read in full: it goes on in as many lines as it
// needs, up to a limit.
func Wrapped(th theme.Theme, selected bool, style lipgloss.Style, s string, w int) string {
	lines := text.Wrap(s, w-2)
	if len(lines) > mostWrapped {
		lines = append(lines[:mostWrapped-1], text.Fit(lines[mostWrapped-1]+" "+text.Ellipsis, w-2))
	}
	for i, l := range lines {
		lines[i] = "  " + style.Render(text.Fit(l, w-2))
		if selected {
			mark := " "
			if i == 0 {
				mark = th.Mark
			}
			lines[i] = theme.Over(th.Cursor, mark+" "+text.Fit(l, w-2))
		}
	}
	return strings.Join(lines, "\n")
}

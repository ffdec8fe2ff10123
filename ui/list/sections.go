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
	from, to := around(n, at, h)
	parts := make([][]string, to-from)
	for i := range parts {
		parts[i] = strings.Split(row(from+i), "\n")
	}
	var lines []string
	for _, l := range shown(n, at, h, section, func(i int) int { return len(parts[i-from]) }) {
		if l.row < 0 {
			lines = append(lines, th.Title.Render(l.heading))
			continue
		}
		lines = append(lines, parts[l.row-from][l.part])
	}
	return lines
}

// SectionRowAt is the row that Sections draws at line y, or -1. Rows are one line
// each.
func SectionRowAt(n, at, h, y int, section func(i int) string) int {
	all := shown(n, at, h, section, func(int) int { return 1 })
	if y < 0 || y >= len(all) {
		return -1
	}
	return all[y].row
}

// sectionLine is a line of a list in sections: a heading, or a part of a row.
type sectionLine struct {
	heading   string
	row, part int // row is -1 of a heading
}

// around is the rows from and before which are all that h lines around a row can show: a
// row takes a line at least.
func around(n, at, h int) (from, to int) {
	if at < 0 || at >= n {
		at = 0
	}
	return max(at-max(h, 0), 0), min(at+max(h, 0)+1, n)
}

// shown is the lines in sight of n rows, so that the one at is among them.
func shown(n, at, h int, section func(i int) string, height func(i int) int) []sectionLine {
	var all []sectionLine
	cursor, last := 0, ""
	first, end := around(n, at, h)
	if first > 0 {
		last = section(first - 1)
	}
	for i := first; i < end; i++ {
		if s := section(i); s != last {
			if s != "" {
				all = append(all, sectionLine{s, -1, 0})
			}
			last = s
		}
		if i == at {
			cursor = len(all)
		}
		for part := range height(i) {
			all = append(all, sectionLine{"", i, part})
		}
	}
	from := ui.Window(cursor, len(all), h)
	return all[from:min(len(all), from+max(h, 0))]
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

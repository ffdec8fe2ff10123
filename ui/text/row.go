package text

import "strings"

// Column is one column of a table: its width in cells, and whether its texts
// sit at the right edge, as figures should. A width of zero or less hides it.
type Column struct {
	Width int
	Right bool
}

// Row lays cells out in columns with gap spaces between those that are shown.
// Cells missing at the end are blank; the result is exactly RowWidth wide.
func Row(gap int, columns []Column, cells ...string) string {
	var b strings.Builder
	space := strings.Repeat(" ", max(gap, 0))
	for i, c := range columns {
		if c.Width <= 0 {
			continue
		}
		if b.Len() > 0 {
			b.WriteString(space)
		}
		cell := ""
		if i < len(cells) {
			cell = cells[i]
		}
		if c.Right {
			b.WriteString(Right(cell, c.Width))
		} else {
			b.WriteString(Fit(cell, c.Width))
		}
	}
	return Fit(b.String(), RowWidth(gap, columns))
}

// RowWidth is the number of cells Row takes for these columns.
func RowWidth(gap int, columns []Column) int {
	total, shown := 0, 0
	for _, c := range columns {
		if c.Width > 0 {
			total += c.Width
			shown++
		}
	}
	return total + max(gap, 0)*max(shown-1, 0)
}

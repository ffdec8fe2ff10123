package command

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/ui/text"
)

// page is lines of plain text on their way to standard output. Every line is
// cleaned, so that nothing in a book can act on a terminal.
type page struct{ lines []printed }

// printed is a line, or a table that is laid out when it is known how wide it may be.
type printed struct {
	line string
	grid *grid
}

// grid is rows in columns.
type grid struct {
	rows    [][]string
	columns []text.Column
	drops   []int // columns that may go where there is no room, the first first
	cuts    int   // the column that is then shortened; none below 0
}

func (p *page) line(format string, args ...any) {
	p.lines = append(p.lines, printed{line: strings.TrimRight(text.Clean(fmt.Sprintf(format, args...)), " ")})
}

// table adds rows in columns as wide as their widest cell, indented by two. The
// columns named in right are set to the right.
func (p *page) table(rows [][]string, right ...int) *grid {
	t := &grid{rows: rows, cuts: -1}
	for _, row := range rows {
		for i, cell := range row {
			if i == len(t.columns) {
				t.columns = append(t.columns, text.Column{})
			}
			row[i] = text.Clean(cell)
			t.columns[i].Width = max(t.columns[i].Width, text.Width(row[i]))
		}
	}
	for _, i := range right {
		if i < len(t.columns) {
			t.columns[i].Right = true
		}
	}
	p.lines = append(p.lines, printed{grid: t})
	return t
}

// fits says how a table is made to fit: which columns go, and which is shortened then.
func (t *grid) fits(cut int, drop ...int) { t.cuts, t.drops = cut, drop }

// What stands before a row and between its cells.
const (
	tableIndent = 2
	tableGap    = 2
)

// leastCut is how short a cell may become; where that is not enough the row is folded.
const leastCut = 12

// lines are the rows of a table, in at most width cells if it can be; in as many as it takes
// where width is 0.
func (t *grid) lines(width int) []string {
	columns := slices.Clone(t.columns)
	over := func() int {
		if width == 0 {
			return 0
		}
		return max(0, tableIndent+text.RowWidth(tableGap, columns)-width)
	}
	for _, i := range t.drops {
		if over() > 0 && i < len(columns) {
			columns[i].Width = 0
		}
	}
	if t.cuts >= 0 && t.cuts < len(columns) {
		columns[t.cuts].Width -= min(over(), max(0, columns[t.cuts].Width-leastCut))
	}
	out := make([]string, len(t.rows))
	for i, row := range t.rows {
		out[i] = strings.TrimRight(strings.Repeat(" ", tableIndent)+text.Row(tableGap, columns, row...), " ")
	}
	return out
}

func (p *page) print(w io.Writer) error {
	if len(p.lines) == 0 {
		return nil
	}
	n, limited := w.(narrow)
	var lines []string
	for _, l := range p.lines {
		rows := []string{l.line}
		if l.grid != nil {
			rows = l.grid.lines(n.columns)
		}
		for _, line := range rows {
			if limited {
				lines = append(lines, n.fold(line)...)
			} else {
				lines = append(lines, line)
			}
		}
	}
	_, err := io.WriteString(w, strings.Join(lines, "\n")+"\n")
	return err
}

// printJSON writes v as one line of JSON.
func (p *program) printJSON(v any) error { return writeJSON(p.Stdout, v) }

// orNull is a date for JSON, null when there is none.
func orNull(d model.Date) *model.Date {
	if d.IsZero() {
		return nil
	}
	return &d
}

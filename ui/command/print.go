package command

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"brine/wrasse/ui/text"
)

// page is lines of plain text on their way to standard output. Every line is
// cleaned, so that nothing in a book can act on a terminal.
type page struct{ lines []printed }

// printed is a line, or a table that is laid out when it is known how wide it may be.
type printed struct {
	line string
	item bool // one of a list of sentences
	grid *grid
}

// lines are a line as it is printed at a width, or in plain words.
func (l printed) lines(n narrow) []string {
	switch {
	case l.grid != nil && n.plain:
		return l.grid.said()
	case l.grid != nil:
		return l.grid.lines(n.columns)
	case l.item && !n.plain:
		out := text.Wrap(l.line, factWidth)
		for i, line := range out {
			out[i] = []string{"  - ", "    "}[min(i, 1)] + line
		}
		return out
	}
	return []string{l.line}
}

// factWidth is the measure that sentences are wrapped to.
const factWidth = 76

// marks stand before a line for the eye.
var marks = map[string]string{"~ ": "", "? ": "open: ", "! ": "caution: "}

var flaggedReach = regexp.MustCompile(`\b(reach [1-5])f\b`)

// inWords is a line as it is said.
func inWords(line string) string {
	line = strings.TrimSpace(line)
	line = flaggedReach.ReplaceAllString(line, "$1") // a flag has its own words
	for mark, word := range marks {
		if rest, ok := strings.CutPrefix(line, mark); ok {
			line = word + rest
		}
	}
	return text.Spoken(strings.ReplaceAll(line, " · ", ", "))
}

// sentences adds sentences as a list.
func (p *page) sentences(list []string) {
	for _, s := range list {
		p.lines = append(p.lines, printed{line: text.Clean(s), item: true})
	}
}

// grid is rows in columns.
type grid struct {
	rows    [][]string
	columns []text.Column
	drops   []int // columns that may go where there is no room, the first first
	cuts    int   // the column that is then shortened; none below 0
	names   int   // the cell that a row begins with in plain words; an id before it ends the row
	headed  bool  // the first row has heads
}

// head begins a part, below a blank line.
func (p *page) head(title string) {
	p.line("")
	p.line("%s", title)
}

// each adds lines to the page, unchanged.
func (p *page) each(lines []string) {
	for _, line := range lines {
		p.line("%s", line)
	}
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

// says tells how a table is said in plain words: which cell names a row, and whether the first
// row has heads.
func (t *grid) says(names int, headed bool) *grid {
	t.names, t.headed = names, headed
	return t
}

// said are the rows as sentences: "Impeller: on hand 0 pieces, order by 2026-11-20; id impeller".
func (t *grid) said() []string {
	rows, heads := t.rows, []string(nil)
	if t.headed {
		heads, rows = rows[0], rows[1:]
	}
	var out []string
	name := ""
	for _, row := range rows {
		var parts []string
		if row[t.names] != "" { // else it goes on with the one above
			name = row[t.names]
		}
		for i, cell := range row {
			cell = strings.TrimSpace(cell)
			if i == t.names || i == 0 || cell == "" || cell == "-" {
				continue
			}
			if i < len(heads) && heads[i] != "" {
				cell = heads[i] + " " + cell
			}
			unit, _, _ := strings.Cut(cell, " ")
			switch last := len(parts) - 1; {
			case text.Unit(unit) == "":
				parts = append(parts, cell)
			case last >= 0:
				parts[last] += " " + cell
			default:
				parts = append(parts, text.Unit(unit))
			}
		}
		line := name
		if len(parts) > 0 {
			line += ": " + strings.Join(parts, ", ")
		}
		if t.names > 0 {
			line += "; id " + row[0]
		}
		out = append(out, line)
	}
	return out
}

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
		for _, line := range l.lines(n) {
			if n.plain {
				line = inWords(line)
			}
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

// print prints what a command has to say: with --json its facts, else its text.
func (p *program) print(text *page, facts any) error {
	if p.json {
		return p.printJSON(facts)
	}
	return text.print(p.Stdout)
}

// printJSON writes v as one line of JSON.
func (p *program) printJSON(v any) error { return writeJSON(p.Stdout, v) }

// orNull is a value for JSON, null when there is none.
func orNull[T comparable](v T) *T {
	if v == *new(T) {
		return nil
	}
	return &v
}

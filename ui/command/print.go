package command

import (
	"fmt"
	"io"
	"strings"

	"github.com/go-json-experiment/json"

	"brine/wrasse/model"
	"brine/wrasse/ui/text"
)

// page is lines of plain text on their way to standard output. Every line is
// cleaned, so that nothing in a book can act on a terminal.
type page struct{ lines []string }

func (p *page) line(format string, args ...any) {
	p.lines = append(p.lines, strings.TrimRight(text.Clean(fmt.Sprintf(format, args...)), " "))
}

// table adds rows in columns as wide as their widest cell, indented by two. The
// columns named in right are set to the right.
func (p *page) table(rows [][]string, right ...int) {
	var columns []text.Column
	for _, row := range rows {
		for i, cell := range row {
			if i == len(columns) {
				columns = append(columns, text.Column{})
			}
			row[i] = text.Clean(cell)
			columns[i].Width = max(columns[i].Width, text.Width(row[i]))
		}
	}
	for _, i := range right {
		if i < len(columns) {
			columns[i].Right = true
		}
	}
	for _, row := range rows {
		p.line("  %s", text.Row(2, columns, row...))
	}
}

func (p *page) print(w io.Writer) error {
	if len(p.lines) == 0 {
		return nil
	}
	lines := p.lines
	if n, ok := w.(narrow); ok {
		lines = nil
		for _, line := range p.lines {
			lines = append(lines, n.fold(line)...)
		}
	}
	_, err := io.WriteString(w, strings.Join(lines, "\n")+"\n")
	return err
}

// printJSON writes v as one line of JSON.
func (p *program) printJSON(v any) error { return writeJSON(p.Stdout, v) }

func writeJSON(to io.Writer, v any) error {
	data, err := json.Marshal(v, json.Deterministic(true))
	if err != nil {
		return fmt.Errorf("writing JSON: %w", err)
	}
	_, err = to.Write(append(model.Harmless(data), '\n'))
	return err
}

// orNull is a date for JSON, null when there is none.
func orNull(d model.Date) *model.Date {
	if d.IsZero() {
		return nil
	}
	return &d
}

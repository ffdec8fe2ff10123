package columns

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/parse"
)

// Row is a line of a table.
type Row struct {
	Line  int // in the file, from 1
	Cells []string
}

// cell is the cell of a column, "" where the row is shorter or there is no such column.
func (r Row) cell(column int) string {
	if column < 0 || column >= len(r.Cells) {
		return ""
	}
	return r.Cells[column]
}

// columns are where a table has what, -1 where it has not.
type columns struct {
	date, name, id, kind, value, unit, about, minutes, note, by, seq, offset int

	things []thing // of a table with a column for each thing instead of a name and a value
}

// thing is a column of values of one thing.
type thing struct {
	column int
	head   string
	kind   model.Kind
	id     model.ID
	unit   string // in brackets in the head
}

// heads are the words a column may be headed by. A head is matched without what
// stands in brackets.
var heads = sync.OnceValue(func() map[string][]string {
	return map[string][]string{
		"date":    {"date", "day", "on", "when"},
		"name":    {"name", "what", "thing", "chore", "gauge", "counter", "item", "task", "job"},
		"id":      {"id"},
		"kind":    {"kind", "type"},
		"value":   {"value", "found", "as found", "reading", "amount", "result", "quantity"},
		"unit":    {"unit", "units"},
		"about":   {"about", "guess"},
		"minutes": {"minutes", "min"},
		"note":    {"note", "notes", "remark", "remarks", "comment", "comments"},
		"by":      {"by", "who"},
		"seq":     {"seq"},
		"offset":  {"offset", "shows too much"},
	}
})

// field is where a kind of column is kept.
func (c *columns) field(kind string) *int {
	return map[string]*int{
		"date": &c.date, "name": &c.name, "id": &c.id, "kind": &c.kind, "value": &c.value, "unit": &c.unit,
		"about": &c.about, "minutes": &c.minutes, "note": &c.note, "by": &c.by, "seq": &c.seq, "offset": &c.offset,
	}[kind]
}

func noColumns() columns { return columns{-1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, nil} }

// readColumns finds the columns by the first row, and tells whether that is a row of
// heads. Without heads they are date, name, value, note.
func readColumns(b *ledger.Book, first Row, today model.Date) (c columns, headed bool, err error) {
	c = noColumns()
	if _, err := dateCell(first.Line, first.cell(0), today); err == nil {
		c.date, c.name, c.value, c.note = 0, 1, 2, 3
		return c, false, nil
	}
	var others []int
	for i, text := range first.Cells {
		kind := headKind(text)
		switch at := c.field(kind); {
		case kind == "" && text != "":
			others = append(others, i)
		case kind != "" && *at >= 0:
			return c, true, lineError(first.Line, fmt.Errorf("two columns for the %s, %q and %q; leave one", kind, first.Cells[*at], text))
		case kind != "":
			*at = i
		}
	}
	switch {
	case c.date < 0:
		return c, true, lineError(first.Line, fmt.Errorf("no column is headed date, and %q is no date; head the columns date, name, value", first.cell(0)))
	case c.name >= 0 || c.id >= 0:
		if c.value < 0 {
			return c, true, lineError(first.Line, fmt.Errorf("no column is headed value; head the one with values and as-found words so"))
		}
		return c, true, nil
	}
	return c, true, c.wide(b, first, others)
}

// wide takes the columns nothing else is known of for things of the book.
func (c *columns) wide(b *ledger.Book, first Row, others []int) error {
	for _, i := range others {
		name, unit := headUnit(first.Cells[i])
		kind, id, err := parse.Loggable(b, name)
		if err != nil {
			return lineError(first.Line, fmt.Errorf("column %w; or head the columns date, name, value", err))
		}
		if j := slices.IndexFunc(c.things, func(t thing) bool { return t.kind == kind && t.id == id }); j >= 0 {
			return lineError(first.Line, fmt.Errorf("the columns %q and %q are both %s:%s; leave one", c.things[j].head, first.Cells[i], kind, id))
		}
		c.things = append(c.things, thing{i, first.Cells[i], kind, id, unit})
	}
	if len(c.things) == 0 {
		return lineError(first.Line, fmt.Errorf("no column is headed name, and none by a thing of the book; head the columns date, name, value"))
	}
	return nil
}

func headKind(text string) string {
	bare, _ := headUnit(text)
	bare = strings.ToLower(bare)
	for kind, words := range heads() {
		if slices.Contains(words, bare) {
			return kind
		}
	}
	return ""
}

// headUnit splits "TDS at the tap (ppm)".
func headUnit(text string) (name, unit string) {
	name = strings.Join(strings.Fields(text), " ")
	open := strings.LastIndexAny(name, "([")
	if open < 0 || !strings.HasSuffix(name, ")") && !strings.HasSuffix(name, "]") {
		return name, ""
	}
	return strings.TrimSpace(name[:open]), strings.TrimSpace(name[open+1 : len(name)-1])
}

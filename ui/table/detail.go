package table

import (
	"slices"
	"strings"

	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
)

// Detail gathers what there is to say about a row, in lines of one width: a heading, sentences behind heads, and small
// tables. Begin with NewDetail.
type Detail struct {
	Lines []string
	ends  []int // how many lines there were after each sentence and row
	th    theme.Theme
	w     int
}

// NewDetail is an empty detail in lines of w cells.
func NewDetail(th theme.Theme, w int) *Detail { return &Detail{th: th, w: w} }

// Whole is the lines in at most h: no sentence ends half way, where one fits at all.
func (d *Detail) Whole(h int) []string {
	if len(d.Lines) <= h {
		return d.Lines
	}
	whole := h
	for _, end := range slices.Backward(d.ends) {
		if end <= h && end > 0 {
			whole = end
			break
		}
	}
	return d.Lines[:whole]
}

// Add adds lines of one sentence or row, which stand together or not at all.
func (d *Detail) Add(lines ...string) {
	d.Lines = append(d.Lines, lines...)
	d.ends = append(d.ends, len(d.Lines))
}

// HeadWidth is the column in which the sentences of a detail begin.
const HeadWidth = 10

// Title adds a heading: what it is about and how that stands, on one line where both fit.
func (d *Detail) Title(what, stands string) {
	what, stands = text.Clean(what), text.Clean(stands)
	if one := what + " · " + stands; text.Width(one) <= d.w && stands != "" {
		d.Add(d.th.Title.Render(one))
		return
	}
	d.Put(d.th.Title.Render, what)
	if stands != "" {
		d.Put(nil, stands)
	}
}

// Put adds a sentence without a head, unless it is empty; look may be nil.
func (d *Detail) Put(look func(...string) string, s string) {
	if s != "" {
		d.Add(text.Para(d.w, "", "", look, d.th.Words(s))...)
	}
}

// Say adds a sentence after a head, unless it is empty; look may be nil.
func (d *Detail) Say(head, s string, look func(...string) string) {
	switch {
	case s == "":
	case d.th.Plain:
		d.Put(look, strings.TrimPrefix(head+": ", ": ")+s)
	default:
		d.Add(text.Para(d.w, d.th.Dim.Render(text.Fit(head, HeadWidth)), text.Fit("", HeadWidth), look, s)...)
	}
}

// Col is a column of a small table.
type Col struct {
	Head  string
	Right bool
	Spare bool // left out where not all fit
	Least int  // cells it takes at any rate
}

// Line is a row of a small table.
type Line struct {
	Cells []string
	Look  func(...string) string // may be nil
}

// tableGap is the cells between two columns.
const tableGap = 2

// What the widest column keeps of its cells where its texts go on below; for a spare column it gives up less.
const leastCell, spareCell = 14, 28

// Table adds rows in columns as wide as their texts. Where that is too wide, spare columns are left out, then the widest
// goes on in the lines below; where columns can't stand, and in plain words, each row is a sentence.
func (d *Detail) Table(cols []Col, rows ...Line) {
	if len(rows) == 0 {
		return
	}
	widths, widest := make([]text.Column, len(cols)), 0
	for i, c := range cols {
		widths[i] = text.Column{Width: c.Least, Right: c.Right}
		for _, r := range rows {
			if r.Cells[i] = text.Clean(r.Cells[i]); r.Cells[i] != "" {
				widths[i].Width = max(widths[i].Width, text.Width(r.Cells[i]), text.Width(c.Head))
			}
		}
		if !c.Spare && widths[i].Width > widths[widest].Width {
			widest = i
		}
	}
	over := func() int { return text.RowWidth(tableGap, widths) - d.w }
	for i, c := range cols {
		if c.Spare && over() > 0 && widths[widest].Width-over() < spareCell {
			widths[i].Width = 0
		}
	}
	narrow := over() > 0
	if narrow {
		widths[widest].Width -= over()
	}
	if d.th.Plain || narrow && widths[widest].Width < leastCell {
		d.sentences(cols, rows)
		return
	}
	var heads []string
	for _, c := range cols {
		heads = append(heads, c.Head)
	}
	if strings.Join(heads, "") != "" {
		d.Lines = append(d.Lines, d.th.Dim.Render(text.Row(tableGap, widths, heads...)))
	}
	for _, r := range rows {
		cells := append([]string{}, r.Cells...)
		for _, part := range text.Wrap(r.Cells[widest], widths[widest].Width) {
			cells[widest] = part
			line := text.Row(tableGap, widths, cells...)
			if r.Look != nil {
				line = r.Look(line)
			}
			d.Lines = append(d.Lines, line)
			cells = make([]string, len(cells))
		}
		d.ends = append(d.ends, len(d.Lines))
	}
}

// sentences are the rows of a table in words: the first cell, then the others behind their heads.
func (d *Detail) sentences(cols []Col, rows []Line) {
	for _, r := range rows {
		var parts []string
		for i, cell := range r.Cells[1:] {
			if c := cols[i+1]; cell != "" && (d.th.Plain || !c.Spare) {
				parts = append(parts, strings.TrimSpace(c.Head+" "+cell))
			}
		}
		said := strings.Join(parts, ", ")
		if d.th.Plain || text.Width(r.Cells[0]) < HeadWidth {
			d.Say(r.Cells[0], said, r.Look)
		} else {
			d.Add(text.Para(d.w, "", "  ", r.Look, r.Cells[0]+": "+said)...)
		}
	}
}

// Clocks adds the clocks of a chore as a table: how far each has come, how fast it goes, its dates.
func (d *Detail) Clocks(clocks []phrase.ClockRow) {
	var rows []Line
	for _, c := range clocks {
		line := Line{Cells: []string{c.Head, c.Come, c.Pace, c.Due, c.Limit}}
		if c.Decides {
			line.Look = d.th.Marked.Render
		}
		rows = append(rows, line)
	}
	d.Table([]Col{{Least: HeadWidth - tableGap}, {}, {Spare: true}, {Head: "due", Right: true}, {Head: "limit", Right: true, Spare: true}}, rows...)
}

package form

import (
	"fmt"
	"maps"
	"strings"

	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
)

// besides is the least room worth using to the right of a field; less, and its
// remark goes on a line of its own.
const besides = 24

// A field of so many cells is for sentences: it takes the line, up to what is still read with ease.
const longText, mostCells = 56, 100

// Height is the number of lines the form wants at a width of w cells.
func (f *Form) Height(w int) int { return len(f.lines(w).all) }

// Render draws the form in exactly h lines of w cells. Where it wants more lines than there are, the part around the cursor
// is shown below the title, which tells how many fields follow below, or else where that is.
func (f *Form) Render(w, h int) string {
	d := f.lines(w)
	if len(d.all) <= h {
		return text.Block(d.all, w, h)
	}
	if f.spec.Title == "" || len(f.fields) < 3 || h < 3 {
		return text.Block(d.all[min(max(d.focus-h/2, 0), len(d.all)-h):], w, h)
	}
	from := d.title + min(max(d.focus-d.title-(h-1)/2, 0), max(len(d.all)-d.title-h+1, 0))
	at, below := fmt.Sprintf("%d of %d", f.at+1, len(f.fields)), 0
	for _, line := range d.field {
		if line >= from+h-1 {
			below++
		}
	}
	if below > 0 {
		at = fmt.Sprintf("%d more below", below)
	}
	room := w - text.Width(at) - 1
	title := text.Brief(text.Clean(f.spec.Title), room, 1)
	top := text.Fit(f.theme.Title.Render(strings.Join(title, "")), room) + " " + f.theme.Dim.Render(at)
	return text.Block(append([]string{top}, d.all[from:]...), w, h)
}

// drawn is all lines of a form, whatever the room.
type drawn struct {
	all          []string
	title, focus int   // how many lines the title takes, and the line of the cursor
	field        []int // the first line of each field that has one of its own
}

// lines draws all lines of the form, w cells wide.
func (f *Form) lines(w int) (d drawn) {
	th := f.theme
	if f.spec.Title != "" {
		d.all = text.Para(w, "", "", th.Title.Render, f.spec.Title)
		d.title = len(d.all)
	}
	values := f.Values()
	remarks := f.remarks(values)
	if row, ok := f.oneLine(w); ok {
		d.focus = len(d.all)
		d.all = append(append(d.all, row), f.below(remarks, w)...)
	} else {
		label := f.labelWidth(w)
		for i, field := range f.fields {
			above, name := f.named(field, label, w)
			d.field = append(d.field, len(d.all))
			d.all = append(d.all, above...)
			if i == f.at {
				d.focus = len(d.all)
			}
			d.all = append(d.all, f.row(field, remarks[i], name, label, w)...)
		}
	}
	if f.spec.Notes != nil {
		for _, n := range f.spec.Notes(values) {
			d.all = append(d.all, indent(th.Dim.Render, text.Clean(th.Words(n)), 2, w)...)
		}
	}
	switch {
	case f.asking:
		d.all = append(d.all, th.Caution.Render("leave without saving?")+" y leaves, any other key stays")
		d.focus = len(d.all) - 1
	case f.fault != "":
		d.all = append(d.all, indent(th.Fault.Render, "not saved: "+text.Clean(f.fault), 0, w)...)
	}
	return d
}

// remark is what stands beside a field.
type remark struct {
	text string
	bad  bool // a problem or a query, not a hint
}

// remarks decides what to say beside each field: its problem, once the field
// has been left or saving was tried; then its query; else, at the cursor, its
// hint.
func (f *Form) remarks(v Values) []remark {
	problems, queries := f.problems(v), f.queries(v)
	out := make([]remark, len(f.fields))
	for i, d := range f.fields {
		switch {
		case problems[d.Name] != "" && (f.tried || d.refused || d.left && i != f.at):
			out[i] = remark{text.Clean(problems[d.Name]), true}
		case queries[d.Name] != "":
			out[i] = remark{text.Clean(queries[d.Name]), true}
			if maps.Equal(v, f.accepted) {
				out[i].text += "; enter again keeps it"
			}
		case i == f.at:
			out[i] = remark{text.Clean(d.Hint), false}
		}
	}
	return out
}

// style draws a remark.
func (r remark) style(th theme.Theme) func(...string) string {
	if r.bad {
		return th.Fault.Render
	}
	return th.Dim.Render
}

// leastLabel is the width from which a label can be read in parts.
const leastLabel = 8

// named is a label as it stands beside its field, and what of it stands above: the beginning of one that is wider than the
// column, or the whole of one that would take three lines there.
func (f *Form) named(d *field, label, w int) (above []string, beside string) {
	name := text.Clean(d.Label)
	if f.theme.Plain || text.Width(name) <= label || label < leastLabel {
		return nil, name
	}
	lines := text.Para(label, "", "  ", nil, name)
	if len(lines) > 2 {
		lines = append(text.Para(w-2, "", "  ", nil, name), "")
	}
	last := len(lines) - 1
	for _, line := range lines[:last] {
		above = append(above, "  "+line)
	}
	return above, lines[last]
}

// row draws a field on a line of its own, its remark beside or below it.
func (f *Form) row(d *field, r remark, name string, label, w int) []string {
	mark := " "
	if d.focused {
		mark = f.theme.Mark
	}
	head := text.Fit(mark, 1) + " " + text.Fit(name, label) + "  "
	if f.theme.Plain {
		return f.plainRow(d, r, mark, w)
	}
	room := max(w-label-4, 0)
	cells := min(d.Cells, room)
	if d.choice() || d.Cells >= longText {
		cells = min(room, mostCells)
	}
	line := head + d.draw(f.theme, cells)
	if !r.bad && d.focused && d.choice() && d.optionsWidth() > cells { // it shows the chosen one alone
		r.text = strings.TrimPrefix(r.text+"; or "+d.others(), "; ")
	}
	if r.text == "" {
		return []string{line}
	}
	if !d.choice() && room-cells-2 >= min(besides, text.Width(r.text)) && (!r.bad || room-cells-2 >= text.Width(r.text)) {
		wrapped := text.Wrap(r.text, room-cells-2)
		lines := []string{line + "  " + r.style(f.theme)(wrapped[0])}
		for _, more := range wrapped[1:] {
			lines = append(lines, strings.Repeat(" ", label+6+cells)+r.style(f.theme)(more))
		}
		return lines
	}
	at := min(label+4, w/3)
	if n := text.Width(r.text); n > w-at && n <= w-4 { // farther left it is one line
		at = 4
	}
	return append([]string{line}, indent(r.style(f.theme), r.text, at, w)...)
}

// plainRow draws a field in words: its name and what it holds, and its remark below.
func (f *Form) plainRow(d *field, r remark, mark string, w int) []string {
	head := text.Fit(mark, 1) + " " + text.Clean(d.Label) + ": "
	room := max(w-text.Width(head), 8)
	out := []string{head + d.draw(f.theme, min(d.Cells, room))}
	if d.choice() {
		out = indent(f.theme.Text.Render, text.Clean(d.Label)+": "+d.options(), 2, w)
		out[0] = text.Fit(mark, 1) + " " + strings.TrimPrefix(out[0], "  ")
		if d.focused {
			out[0] = f.theme.Cursor.Render(mark) + strings.TrimPrefix(out[0], mark)
		}
	}
	if r.text == "" {
		return out
	}
	if !r.bad {
		r.text = "hint: " + r.text
	}
	return append(out, indent(r.style(f.theme), text.Spoken(r.text), 2, w)...)
}

// options is the answers of a choice in words, the chosen one first.
func (f *field) options() string {
	s := f.Options[f.chosen].named()
	if others := f.others(); others != "" && f.focused {
		s += "; or " + others
	}
	return s
}

// others are the answers that are not chosen.
func (f *field) others() string {
	var out []string
	for i, o := range f.Options {
		if i != f.chosen {
			out = append(out, o.named())
		}
	}
	return strings.Join(out, ", ")
}

// named is an option with the letter that picks it.
func (o Option) named() string {
	if o.Letter == 0 {
		return text.Clean(o.Label)
	}
	return text.Clean(o.Label) + " (" + string(o.Letter) + ")"
}

// oneLine draws all fields side by side, if the form asks for it and they fit.
func (f *Form) oneLine(w int) (string, bool) {
	if !f.spec.OneLine || f.theme.Plain {
		return "", false
	}
	parts := make([]string, len(f.fields))
	for i, d := range f.fields {
		cells := d.Cells
		if d.choice() {
			cells = d.optionsWidth()
		}
		parts[i] = text.Clean(d.Label) + " " + d.draw(f.theme, cells)
	}
	row := "  " + strings.Join(parts, "  ")
	return row, text.Width(row) <= w
}

// below draws the remarks of a one-line form: problems by the name of their
// field, or else the hint at the cursor.
func (f *Form) below(remarks []remark, w int) []string {
	var out []string
	for i, r := range remarks {
		if r.text == "" {
			continue
		}
		if r.bad {
			r.text = text.Clean(f.fields[i].Label) + ": " + r.text
		}
		out = append(out, indent(r.style(f.theme), r.text, 2, w)...)
	}
	return out
}

// labelWidth is the width of the widest label: at most two fifths of the line, or what the fields leave of it. Where that
// would cut labels, a choice has room for its widest answer only: the others are said below.
func (f *Form) labelWidth(w int) int {
	widest, cells, least := 0, 0, 0
	for _, d := range f.fields {
		widest = max(widest, text.Width(text.Clean(d.Label)))
		if !d.choice() {
			least = max(least, d.Cells)
		}
		for _, o := range d.Options {
			least = max(least, o.width())
		}
		cells = max(cells, least, d.optionsWidth())
	}
	if w-4-cells < min(widest, w/2) {
		cells = least
	}
	return min(widest, max(w*2/5, w-4-cells, 0))
}

// optionsWidth is the room all options of a choice take side by side.
func (f *field) optionsWidth() (total int) {
	for _, o := range f.Options {
		total += o.width()
	}
	return total
}

// width is the room an option takes, in brackets.
func (o Option) width() int {
	w := text.Width(text.Clean(o.Label)) + 2
	if o.Letter != 0 {
		w += 2
	}
	return w
}

// indent wraps s to w cells with by spaces before each line.
func indent(style func(...string) string, s string, by, w int) []string {
	var out []string
	for _, line := range text.Wrap(s, w-by) {
		out = append(out, strings.Repeat(" ", max(by, 0))+style(line))
	}
	return out
}

package form

import (
	"strings"
	"unicode"

	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// Field describes one field. With Options it is a choice, otherwise text.
type Field struct {
	Name    string // the key in Values
	Label   string // as shown
	Hint    string // what is accepted, shown while the cursor is here
	Value   string // what it begins with; of a choice, one of its values
	Limit   int    // most characters; zero means DefaultLimit
	Cells   int    // cells shown of the value; zero means DefaultCells
	Options []Option
}

// Option is one answer of a choice field. Letter picks it at once; left, right
// and space step through them.
type Option struct {
	Letter rune
	Value  string
	Label  string
}

// YesNo is a question that yes or no answers.
func YesNo(name, label string, v bool) Field {
	f := Field{Name: name, Label: label, Value: "no", Options: []Option{{Letter: 'n', Value: "no", Label: "no"}, {Letter: 'y', Value: "yes", Label: "yes"}}}
	if v {
		f.Value = "yes"
	}
	return f
}

// Sizes of a text field that names none.
const (
	DefaultLimit = 500
	DefaultCells = 32
)

// field is a Field being filled in.
type field struct {
	Field
	line    Line // text fields only
	chosen  int  // choice fields only: index into Options
	focused bool
	left    bool // the cursor has been here and gone
	refused bool // enter would not leave it
}

func newField(d Field) *field {
	if d.Limit <= 0 {
		d.Limit = DefaultLimit
	}
	if d.Cells <= 0 {
		d.Cells = min(DefaultCells, d.Limit)
	}
	f := &field{Field: d, line: NewLine(d.Limit)}
	f.set(d.Value)
	f.Value = f.value() // as the field holds it, or Changed would see a difference
	return f
}

// choice reports whether the field is chosen from options.
func (f *field) choice() bool { return len(f.Options) > 0 }

// value is the field's present contents.
func (f *field) value() string {
	if f.choice() {
		return f.Options[f.chosen].Value
	}
	return f.line.Value()
}

// set replaces the contents. A choice given a value it does not have keeps its
// present answer.
func (f *field) set(value string) {
	if !f.choice() {
		f.line.Set(value)
		return
	}
	for i, o := range f.Options {
		if o.Value == value {
			f.chosen = i
		}
	}
}

func (f *field) focus() {
	f.focused = true
	f.line.Focus()
}

func (f *field) blur() {
	f.focused, f.left = false, true
	f.line.Blur()
}

// typed takes a key meant for this field.
func (f *field) typed(k tea.KeyMsg) {
	if f.choice() {
		f.choose(k)
		return
	}
	f.line.Type(k)
}

// choose moves a choice. Of a burst every letter counts, so the last one that
// is an answer stands; a paste answers nothing.
func (f *field) choose(k tea.KeyMsg) {
	n := len(f.Options)
	switch k.Type {
	case tea.KeyLeft:
		f.chosen = (f.chosen + n - 1) % n
	case tea.KeyRight, tea.KeySpace:
		f.chosen = (f.chosen + 1) % n
	case tea.KeyRunes:
		if k.Paste {
			return
		}
		for _, r := range k.Runes {
			f.pick(unicode.ToLower(r))
		}
	}
}

// pick chooses the option with this letter, if there is one.
func (f *field) pick(letter rune) {
	for i, o := range f.Options {
		if unicode.ToLower(o.Letter) == letter {
			f.chosen = i
		}
	}
}

// draw returns the contents in exactly w cells.
func (f *field) draw(th theme.Theme, w int) string {
	if f.choice() {
		return f.drawChoice(th, w)
	}
	return f.line.Draw(th, w)
}

// drawChoice draws the options with the chosen one in brackets, or, where they
// do not fit, the chosen one alone.
func (f *field) drawChoice(th theme.Theme, w int) string {
	var b strings.Builder
	for i, o := range f.Options {
		b.WriteString(f.drawOption(th, o, i == f.chosen))
	}
	if text.Width(b.String()) <= w {
		return text.Fit(b.String(), w)
	}
	return text.Fit(f.drawOption(th, f.Options[f.chosen], true), w)
}

func (f *field) drawOption(th theme.Theme, o Option, chosen bool) string {
	label := text.Clean(o.Label)
	if o.Letter != 0 {
		label = string(o.Letter) + " " + label
	}
	switch {
	case chosen && f.focused:
		return th.Cursor.Render("[" + label + "]")
	case chosen:
		return th.Title.Render("[" + label + "]")
	}
	return th.Dim.Render(" " + label + " ")
}

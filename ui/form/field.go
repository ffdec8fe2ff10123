package form

import (
	"strings"
	"unicode"

	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
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

// Sizes of a text field that names none.
const (
	DefaultLimit = 500
	DefaultCells = 32
)

// field is a Field being filled in.
type field struct {
	Field
	input   textinput.Model // text fields only
	chosen  int             // choice fields only: index into Options
	focused bool
	left    bool // the cursor has been here and gone
}

func newField(d Field) *field {
	if d.Limit <= 0 {
		d.Limit = DefaultLimit
	}
	if d.Cells <= 0 {
		d.Cells = min(DefaultCells, d.Limit)
	}
	in := textinput.New()
	in.CharLimit = d.Limit
	in.KeyMap = editing()
	in.Cursor.SetMode(cursor.CursorStatic) // a blinking one would wake the program
	f := &field{Field: d, input: in}
	f.set(d.Value)
	f.Value = f.value() // as the field holds it, or Changed would see a difference
	return f
}

// editing is the text field's keys: the named ones only. Its defaults claim
// ctrl keys, which belong to the terminal, and run a clipboard program.
func editing() textinput.KeyMap {
	return textinput.KeyMap{
		CharacterForward:        key.NewBinding(key.WithKeys("right")),
		CharacterBackward:       key.NewBinding(key.WithKeys("left")),
		DeleteCharacterBackward: key.NewBinding(key.WithKeys("backspace")),
		DeleteCharacterForward:  key.NewBinding(key.WithKeys("delete")),
		LineStart:               key.NewBinding(key.WithKeys("home")),
		LineEnd:                 key.NewBinding(key.WithKeys("end")),
	}
}

// choice reports whether the field is chosen from options.
func (f *field) choice() bool { return len(f.Options) > 0 }

// value is the field's present contents.
func (f *field) value() string {
	if f.choice() {
		return f.Options[f.chosen].Value
	}
	return f.input.Value()
}

// set replaces the contents. A choice given a value it does not have keeps its
// present answer.
func (f *field) set(value string) {
	if !f.choice() {
		f.input.SetValue(value)
		f.input.CursorEnd()
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
	f.input.Focus() // its command only starts a blink, which is off
}

func (f *field) blur() {
	f.focused, f.left = false, true
	f.input.Blur()
}

// typed takes a key meant for this field.
func (f *field) typed(k tea.KeyMsg) {
	if f.choice() {
		f.choose(k)
		return
	}
	// Letters that arrive together as "left" or "home" would match the keys of those
	// names; as a paste they are text and nothing else.
	k.Paste = k.Paste || k.Type == tea.KeyRunes
	f.input, _ = f.input.Update(k)
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
	runes := []rune(f.input.Value())
	if !f.focused {
		return th.Field.Render(text.Fit(text.Clean(string(runes)), w))
	}
	at := min(max(f.input.Position(), 0), len(runes))
	return drawCursor(th, text.Clean(string(runes[:at])), text.Clean(string(runes[at:])), w)
}

// drawCursor draws a line being typed: it scrolls so that the cursor, a
// reversed cell, is always in sight.
func drawCursor(th theme.Theme, before, after string, w int) string {
	under, rest := " ", ""
	if after != "" {
		under, _ = ansi.FirstGraphemeCluster(after, ansi.GraphemeWidth)
		rest = after[len(under):]
	}
	keep := w - text.Width(under) - min(text.Width(rest), w/4)
	if over := text.Width(before) - keep; over > 0 {
		before = ansi.TruncateLeft(before, over+1, text.Ellipsis)
	}
	room := w - text.Width(before) - text.Width(under)
	return text.Fit(th.Field.Render(before)+th.Cursor.Render(under)+th.Field.Render(text.Fit(rest, room)), w)
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

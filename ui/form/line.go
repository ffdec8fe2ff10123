package form

import (
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// Line is a line of text that is typed into: bubbles' text field with our keys and our
// drawing. Make one with NewLine.
type Line struct{ input textinput.Model }

// NewLine is an empty line that holds at most limit characters.
func NewLine(limit int) Line {
	in := textinput.New()
	in.CharLimit = limit
	in.KeyMap = editing()
	in.Cursor.SetMode(cursor.CursorStatic) // a blinking one would wake the program
	return Line{in}
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

// Value is what has been typed.
func (l *Line) Value() string { return l.input.Value() }

// Set replaces what has been typed, with the cursor at its end.
func (l *Line) Set(value string) {
	l.input.SetValue(value)
	l.input.CursorEnd()
}

// Focus gives the line a cursor and lets it take keys.
func (l *Line) Focus() { l.input.Focus() } // its command only starts a blink, which is off

// Blur takes the cursor away; keys do nothing then.
func (l *Line) Blur() { l.input.Blur() }

// Focused tells whether the line takes keys.
func (l *Line) Focused() bool { return l.input.Focused() }

// Type takes a key.
func (l *Line) Type(k tea.KeyMsg) {
	// Letters that arrive together as "left" or "home" would match the keys of those
	// names; as a paste they are text and nothing else.
	k.Paste = k.Paste || k.Type == tea.KeyRunes
	k.Runes = k.Runes[:min(len(k.Runes), l.input.CharLimit)] // the field goes over all it is given
	l.input, _ = l.input.Update(k)
}

// Draw draws the line in exactly w cells, with its cursor if it has one.
func (l *Line) Draw(th theme.Theme, w int) string {
	runes := []rune(l.input.Value())
	if !l.input.Focused() {
		return th.Field.Render(text.Fit(text.Clean(string(runes)), w))
	}
	at := min(max(l.input.Position(), 0), len(runes))
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

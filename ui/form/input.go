package form

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/runeutil"
	tea "github.com/charmbracelet/bubbletea"
)

// input is a line being typed, and where. The framework's own field would do it too,
// but looks along $PATH for programs of a clipboard as soon as it is linked, at every
// start of the program; and its other keys belong to the terminal.
type input struct {
	runes []rune
	at    int // the cursor is before this rune, or behind the last
	limit int // most runes
}

// The keys of a line being typed.
var (
	left      = key.NewBinding(key.WithKeys("left"))
	right     = key.NewBinding(key.WithKeys("right"))
	home      = key.NewBinding(key.WithKeys("home"))
	end       = key.NewBinding(key.WithKeys("end"))
	backspace = key.NewBinding(key.WithKeys("backspace"))
	del       = key.NewBinding(key.WithKeys("delete"))
)

// oneLine is what may stand in a line: no control characters, and a space for each end
// of a line and each tab.
func oneLine(runes []rune) []rune {
	return runeutil.NewSanitizer(runeutil.ReplaceTabs(" "), runeutil.ReplaceNewlines(" ")).Sanitize(slices.Clone(runes))
}

// set replaces the line, with the cursor behind it.
func (in *input) set(s string) {
	runes := oneLine([]rune(s))
	in.runes = runes[:min(len(runes), in.limit)]
	in.at = len(in.runes)
}

// typed takes a key. What would be too much is left out.
func (in *input) typed(k tea.KeyMsg) {
	switch {
	case key.Matches(k, left):
		in.at = max(in.at-1, 0)
	case key.Matches(k, right):
		in.at = min(in.at+1, len(in.runes))
	case key.Matches(k, home):
		in.at = 0
	case key.Matches(k, end):
		in.at = len(in.runes)
	case key.Matches(k, backspace):
		if in.at > 0 {
			in.at--
			in.runes = slices.Delete(in.runes, in.at, in.at+1)
		}
	case key.Matches(k, del):
		if in.at < len(in.runes) {
			in.runes = slices.Delete(in.runes, in.at, in.at+1)
		}
	default:
		runes := oneLine(k.Runes)
		runes = runes[:min(len(runes), in.limit-len(in.runes))]
		in.runes = slices.Insert(in.runes, in.at, runes...)
		in.at += len(runes)
	}
}

package app

import (
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// randomKeys is how many keys are typed at random; $WRASSE_RANDOM_KEYS types more.
const randomKeys = 2000

// TestRandomKeys types, pastes and resizes at random over the whole program: nothing may
// panic, no line be too wide, no control byte be drawn.
func TestRandomKeys(t *testing.T) {
	n := randomKeys
	if more, err := strconv.Atoi(os.Getenv("WRASSE_RANDOM_KEYS")); err == nil {
		n = more
	}
	dice := rand.New(rand.NewPCG(7, uint64(n)))
	p := demo(t, 80, 24)
	w, h := 80, 24
	typed := []rune("abcdefghijklmnopqrstuvwxyzDGRZ0123456789/?+- .:é貝\u0301\u202e")
	special := []tea.KeyType{tea.KeyEnter, tea.KeyEsc, tea.KeyTab, tea.KeyShiftTab, tea.KeyUp, tea.KeyDown, tea.KeyLeft, tea.KeyRight,
		tea.KeyPgUp, tea.KeyPgDown, tea.KeyHome, tea.KeyEnd, tea.KeyBackspace, tea.KeyDelete, tea.KeyF1, tea.KeyCtrlA, tea.KeyCtrlZ}
	for i := range n {
		switch dice.IntN(40) {
		case 0:
			w, h = 1+dice.IntN(210), 1+dice.IntN(60)
			p.send(tea.WindowSizeMsg{Width: w, Height: h})
		case 1:
			p.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("\x1b[2J\x07d 40 \r\nz\x00" + strings.Repeat("é", dice.IntN(40)))})
		case 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15:
			p.send(tea.KeyMsg{Type: special[dice.IntN(len(special))]})
		case 16, 17:
			p.send(tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
		case 18:
			if p.due != nil {
				p.second(1e9)
			}
		default:
			p.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{typed[dice.IntN(len(typed))]}})
		}
		if p.ended { // q or a question answered: a new window on the same desk goes on
			p.ended = false
		}
		lines := strings.Split(p.Root.View(), "\n")
		if len(lines) != h {
			t.Fatalf("key %d: %d lines in %d", i, len(lines), h)
		}
		for _, l := range lines {
			if plain := ansi.Strip(l); text.Width(l) != w || text.Clean(plain) != plain {
				t.Fatalf("key %d: at %d x %d a line of %d cells: %q", i, w, h, text.Width(l), plain)
			}
		}
	}
	for _, panicked := range p.Root.Panics() {
		t.Errorf("%v\n%s", panicked, panicked.Stack)
	}
}

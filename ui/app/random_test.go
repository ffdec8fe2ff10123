package app

import (
	"flag"
	"math/rand/v2"
	"strings"
	"testing"

	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// randomKeys is how many keys are typed at random: few by default, to be quick. A long
// run is: go test ./ui/app -run TestRandomKeys -keys 200000 -timeout 2h
var randomKeys = flag.Int("keys", 1200, "how many keys TestRandomKeys types")

// TestRandomKeys types, clicks, pastes and resizes at random over the whole program, as
// it is drawn and in plain words, on the demo and from an empty book on: nothing may
// panic, no line be too wide, no control byte be drawn.
func TestRandomKeys(t *testing.T) {
	if *randomKeys < 100 {
		t.Fatalf("-keys %d is too few to mean anything; give 100 or more", *randomKeys)
	}
	for seed, run := range []struct {
		name  string
		store session.Store
		o     Options
	}{
		{"drawn", uitest.Kept(t, uitest.Demo(t)), Options{}},
		{"in plain words", Demo(uitest.Today), Options{Plain: true}},
		{"from an empty book on", uitest.Kept(t, new(ledger.Book)), Options{Theme: "mono", Glyphs: "ascii"}},
	} {
		t.Run(run.name, func(t *testing.T) {
			share := []int{5, 3, 2}[seed]
			typeAtRandom(t, openWith(t, run.store, 80, 24, run.o), rand.New(rand.NewPCG(7, uint64(seed))), *randomKeys*share/10)
		})
	}
}

// pasted are pastes that would do harm if they were taken for anything but text.
var pasted = []string{
	"\x1b[2J\x07d 40 \r\nz\x00", "\x1b]52;c;eA==\x07q", "\u202eqqq\u2066", "\x1b[200~\x1b[201~", "248 6 0", "40", "\x9b31m\x1bc", strings.Repeat("é貝", 300),
}

// bursts are keys that arrive in one read, and some that no key table knows.
var bursts = []string{"jjk", "dl", "fi", "u40", "r248 6 0", "/pump", "10 gal", "about 2w", "\x1b[31m", "\x00\x07\x7f", "e\u0301\u0301", "👨\u200d👩\u200d👧", "\u202e", "45", "qq"}

func typeAtRandom(t *testing.T, p *window, dice *rand.Rand, n int) {
	letters := []rune("abcdefghijklmnopqrstuvwxyzDGRZ0123456789/?+-= .:é貝\u0301\u202e")
	special := []tea.KeyType{tea.KeyEnter, tea.KeyEsc, tea.KeyTab, tea.KeyShiftTab, tea.KeyUp, tea.KeyDown, tea.KeyLeft, tea.KeyRight,
		tea.KeyPgUp, tea.KeyPgDown, tea.KeyHome, tea.KeyEnd, tea.KeyBackspace, tea.KeyDelete, tea.KeyF1, tea.KeyF12, tea.KeyCtrlA, tea.KeyCtrlZ, tea.KeyCtrlC}
	buttons := []tea.MouseButton{tea.MouseButtonLeft, tea.MouseButtonRight, tea.MouseButtonWheelUp, tea.MouseButtonWheelDown}
	w, h := 80, 24
	var last []string
	for i := range n {
		var msg tea.Msg
		switch dice.IntN(40) {
		case 0:
			w, h = 1+dice.IntN(210), 1+dice.IntN(60)
			msg = tea.WindowSizeMsg{Width: w, Height: h}
		case 1:
			msg = tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune(pasted[dice.IntN(len(pasted))])}
		case 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14:
			msg = tea.KeyMsg{Type: special[dice.IntN(len(special))], Alt: dice.IntN(30) == 0}
		case 15:
			msg = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(bursts[dice.IntN(len(bursts))]), Alt: dice.IntN(10) == 0}
		case 16, 17:
			msg = tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
		case 18:
			msg = tea.MouseMsg{X: dice.IntN(w + 5), Y: dice.IntN(h + 5), Button: buttons[dice.IntN(len(buttons))], Action: tea.MouseActionPress}
		case 19:
			p.Pass(1e9)
			continue
		default:
			msg = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{letters[dice.IntN(len(letters))]}}
		}
		if k, ok := msg.(tea.KeyMsg); ok {
			last = append(last[max(len(last)-30, 0):], k.String())
		}
		p.Send(msg)
		p.Quit = false // q, or a question answered: what was to end goes on
		view := p.Root.View()
		lines := strings.Split(view, "\n")
		if len(lines) != h {
			t.Fatalf("key %d: %d lines in %d; after %q", i, len(lines), h, last)
		}
		for _, l := range lines {
			if plain := ansi.Strip(l); text.Width(l) != w || text.Clean(plain) != plain {
				t.Fatalf("key %d: at %d x %d a line of %d cells: %q; after %q", i, w, h, text.Width(l), plain, last)
			}
		}
		if len(p.Root.Panics()) > 0 {
			panicked := p.Root.Panics()[0]
			t.Fatalf("key %d: %v; after %q\n%s", i, panicked, last, panicked.Stack)
		}
	}
}

package app

import (
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/longlog"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// screens are what BenchmarkKey types: the keys that lead to a screen from the round, what
// is then seen, and the keys typed in turn, each of which changes what is shown.
var screens = []struct{ name, to, sees, keys string }{
	{"round/line", "", "overdue, worst first", "down up"},
	{"round/page", "", "overdue, worst first", "pgdown pgup"},
	{"round/ends", "", "overdue, worst first", "end home"},
	{"round/filter", "/", "rows", "r e backspace backspace"},
	{"round/filtered", "/ s k i enter", "rows", "down up"},
	{"round/place", "g", "to get set up", "down up"},
	{"round/mark", "", "overdue, worst first", "space up"},
	{"round/group", "", "overdue, worst first", "g"},
	{"steps", "enter", "step", "down up"},
	{"box", "t 6 0", "min", "5 backspace"},
	{"year", "y", "ahead", "down up"},
	{"water", "2", "", "right"},
	{"gear", "3", "", "down up"},
	{"gear/page", "3", "", "pgdown pgup"},
	{"gear/filter", "3 /", "", "r e backspace backspace"},
	{"gear/fold", "3", "", "left right"},
	{"shelf", "4", "", "down up"},
	{"rethink", "5", "", "down up"},
	{"rethink/filter", "5 /", "", "r e backspace backspace"},
	{"log", "6", "", "down up"},
	{"log/page", "6", "", "pgdown pgup"},
	{"log/filter", "6 /", "", "r e backspace backspace"},
	{"views", "", "overdue, worst first", "tab"},
	{"help", "?", "", "down up"},
	{"tick", "d", "", "esc d"},
}

// BenchmarkKey is from a key to the view it leads to, on every screen and with
// 10,000 entries. What a key has read or worked out in the background is in it.
func BenchmarkKey(b *testing.B) {
	today := model.NewDate(2026, time.November, 25)
	book, err := ledger.Fold(slices.Collect(longlog.Household(1, 10_000, today)))
	if err != nil {
		b.Fatal(err)
	}
	now := func() time.Time { return time.Date(2026, time.November, 25, 7, 30, 0, 0, time.UTC) }
	b.Run("bare", func(b *testing.B) { typeOn(b, bare{}, "", "", "down up") })
	for _, s := range screens {
		b.Run(s.name, func(b *testing.B) {
			store := session.NewMemory(func() (*ledger.Book, error) { return book, nil })
			a := New(store, Options{Now: now, Getenv: func(string) string { return "" }, after: noTimer})
			defer a.Session.Close()
			typeOn(b, a.Root, s.to, s.sees, s.keys)
		})
	}
}

// typeOn types keys on a program over and over, and has it drawn after each.
func typeOn(b *testing.B, m tea.Model, to, sees, keys string) {
	b.Helper()
	m = started(m)
	for _, k := range keysIn(to) {
		m = press(m, k)
	}
	if view := m.View(); !strings.Contains(view, sees) {
		b.Fatalf("after %q it does not show %q:\n%s", to, sees, view)
	}
	typed, n := keysIn(keys), 0
	for b.Loop() {
		if m = press(m, typed[n%len(typed)]); m.View() == "" {
			b.Fatal("nothing drawn")
		}
		n++
	}
}

// press gives a program a key, and what comes of it.
func press(m tea.Model, key tea.KeyMsg) tea.Model {
	m, cmd := m.Update(key)
	return settled(m, cmd)
}

// keysIn are keys by their names, with blanks between them.
func keysIn(names string) []tea.KeyMsg {
	special := map[string]tea.KeyType{
		"up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
		"pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd,
		"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "backspace": tea.KeyBackspace,
	}
	var out []tea.KeyMsg
	for name := range strings.FieldsSeq(names) {
		switch t, ok := special[name]; {
		case ok:
			out = append(out, tea.KeyMsg{Type: t})
		case name == "space":
			out = append(out, tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
		default:
			out = append(out, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)})
		}
	}
	return out
}

package app

import (
	"cmp"
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
)

// window is the whole program in a window.
type window struct {
	*uitest.Window
	rang strings.Builder // what was written to the terminal beside the screens
}

// open runs the program on a book.
func open(t *testing.T, store session.Store, w, h int) *window {
	t.Helper()
	return openWith(t, store, w, h, Options{})
}

// openWith runs it with options, of which the test's own are filled in.
func openWith(t *testing.T, store session.Store, w, h int, o Options) *window {
	t.Helper()
	p := &window{}
	p.Window = uitest.Play(t, store, w, h, func(s *uitest.Window) (*ui.Root, *session.Session) {
		o.Out, o.Now, o.after = &p.rang, s.Now, s.After
		o.Glyphs = cmp.Or(o.Glyphs, "unicode")
		if o.Getenv == nil {
			o.Getenv = func(string) string { return "" }
		}
		a := New(store, o)
		return a.Root, a.Session
	})
	return p
}

// empty is a store without a book.
func empty() session.Store {
	return session.NewMemory(func() (*ledger.Book, error) { return new(ledger.Book), nil })
}

// demo runs it on the demo book.
func demo(t *testing.T, w, h int) *window {
	t.Helper()
	return open(t, Demo(uitest.Today), w, h)
}

// keys types text, and the keys that have names.
func (p *window) keys(keys ...string) {
	for _, k := range keys {
		if slices.Contains([]string{"enter", "esc", "down", "up", "tab", "left", "right", "end"}, k) {
			k = "<" + k + ">"
		}
		p.Keys(k)
	}
}

// exact checks a screen at the sizes the program is made for, and one too small.
func (p *window) exact() {
	for _, size := range [][2]int{{1, 1}, {39, 11}, {40, 12}, {60, 16}, {80, 24}, {101, 31}, {120, 40}, {200, 50}} {
		p.ExactAt(size[0], size[1])
	}
}

func TestFirstFrameShowsTheRound(t *testing.T) {
	p := demo(t, 80, 24)
	p.Sees("Library reef", "Wed 25 Nov 2026 · 1 broken · 1 past limit · 2 late · 1 today", "[Round]  Water  Gear  Shelf  Rethink  Log",
		"due now: 63 min, 31 to get there", "> DI resin", "d tick")
	p.keys("q")
	if !p.Quit {
		t.Error("q does not end the program from a view")
	}
}

func TestViewsAndHelp(t *testing.T) {
	p := demo(t, 80, 24)
	for _, view := range []string{"2", "3", "4", "5", "6", "1"} {
		p.keys(view)
		p.exact()
		p.keys("?")
		p.Sees("esc close")
		p.exact()
		p.keys("esc")
	}
	p.Sees("[Round]")
	p.keys("?")
	p.Golden("help")
}

func TestNewBookAsksAndTheDemoIsEntered(t *testing.T) {
	p := open(t, empty(), 80, 24)
	p.Sees("A new book", "name of the book")
	p.keys("up", "d", "enter")
	p.Sees("Library reef (demo)", "> DI resin")
	p.keys("d", "f")
	p.Sees("ticked DI resin")
}

func TestCountdownRingsAndHoldsBackQuitting(t *testing.T) {
	p := demo(t, 80, 24)
	p.keys("j", "j", "enter", "down", "down", "down", "s")
	p.Sees("45:00 left, until 08:15")
	p.keys("esc")
	p.Sees("Soak: 45:00 left, until 08:15")
	p.keys("q")
	p.Sees("Soak runs until 08:15", "Quit all the same?")
	if p.Quit {
		t.Fatal("quit without asking")
	}
	p.keys("n")
	p.Pass(20 * time.Minute)
	p.Sees("Soak: 25:00 left")
	if p.rang.Len() != 0 {
		t.Fatal("rang too early")
	}
	p.Pass(25 * time.Minute)
	p.Sees("Soak: the time is up")
	if p.rang.String() != "\a" {
		t.Errorf("the bell wrote %q", p.rang.String())
	}
	p.keys("q")
	if !p.Quit {
		t.Error("an ended countdown holds quitting back")
	}
}

func TestFreshBookWithinAMinuteOfKeys(t *testing.T) {
	p := open(t, empty(), 80, 24)
	p.keys("Home reef")
	for range 8 + 11 + 1 {
		p.keys("enter")
	}
	p.Sees("Home reef", "15 today", "> Thermometers")
	p.exact()
}

func TestNoColor(t *testing.T) {
	plain := openWith(t, Demo(uitest.Today), 80, 24, Options{Getenv: func(name string) string {
		return map[string]string{"NO_COLOR": "1"}[name]
	}})
	view := plain.Root.View()
	for _, colour := range []string{"[31m", "[32m", "[33m", "[36m", ";31m", ";33m"} {
		if strings.Contains(view, colour) {
			t.Errorf("NO_COLOR and yet %q is drawn", colour)
		}
	}
	if !strings.Contains(view, "[7m") {
		t.Error("NO_COLOR took the cursor's reverse away")
	}
}

// collect sends a message and returns those its commands answer with, unsent.
func (p *window) collect(msg tea.Msg) []tea.Msg {
	_, cmd := p.Root.Update(msg)
	var out []tea.Msg
	for todo := []tea.Cmd{cmd}; len(todo) > 0; {
		next := todo[0]
		todo = todo[1:]
		if next == nil {
			continue
		}
		switch m := next().(type) {
		case tea.BatchMsg:
			todo = append(todo, m...)
		default:
			out = append(out, m)
		}
	}
	return out
}

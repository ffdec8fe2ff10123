package ui

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"brine/wrasse/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// player drives a root as bubbletea would, in the test's own goroutine: it
// sends messages and runs the commands they lead to, one after another.
type player struct {
	t    *testing.T
	root *Root
	quit bool
	held []tea.Cmd // with hold set, commands not yet run
	hold bool
}

// play starts a root in a window of w by h cells.
func play(t *testing.T, r *Root, w, h int) *player {
	t.Helper()
	p := &player{t: t, root: r}
	p.run(r.Init())
	p.send(tea.WindowSizeMsg{Width: w, Height: h})
	return p
}

func (p *player) send(msg tea.Msg) {
	_, cmd := p.root.Update(msg)
	p.run(cmd)
}

// run runs a command and sends what it returns. bubbletea's batch is a slice of
// commands, and so is its sequence, whose type it does not export.
func (p *player) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	if p.hold {
		p.held = append(p.held, cmd)
		return
	}
	msg := cmd()
	if v := reflect.ValueOf(msg); v.IsValid() && v.Type().ConvertibleTo(reflect.TypeFor[[]tea.Cmd]()) {
		for i := range v.Len() {
			p.run(v.Index(i).Interface().(tea.Cmd))
		}
		return
	}
	switch msg.(type) {
	case nil:
	case tea.QuitMsg:
		p.quit = true
	default:
		p.send(msg)
	}
}

// release runs the commands held back.
func (p *player) release() {
	p.hold = false
	held := p.held
	p.held = nil
	for _, cmd := range held {
		p.run(cmd)
	}
}

// named are the keys written as <name>.
var named = map[string]tea.KeyType{
	"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab,
	"up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
	"pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd,
	"backspace": tea.KeyBackspace, "delete": tea.KeyDelete, "ctrl+c": tea.KeyCtrlC, "f1": tea.KeyF1,
}

// keys types s, in which <enter> and the like are named keys. As a terminal's
// reads do, characters between spaces and named keys arrive as one message.
func (p *player) keys(s string) {
	p.t.Helper()
	for s != "" {
		if name, rest, ok := strings.Cut(strings.TrimPrefix(s, "<"), ">"); ok && s[0] == '<' {
			typ, known := named[name]
			if !known {
				p.t.Fatalf("no key is named %q", name)
			}
			p.send(tea.KeyMsg{Type: typ})
			s = rest
			continue
		}
		if s[0] == ' ' {
			p.send(tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
			s = s[1:]
			continue
		}
		n := strings.IndexAny(s[1:], "< ") + 1
		if n == 0 {
			n = len(s)
		}
		p.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s[:n])})
		s = s[n:]
	}
}

// quits types s and fails the test unless the program has quit then.
func (p *player) quits(s string) {
	p.t.Helper()
	if p.keys(s); !p.quit {
		p.t.Fatalf("%q did not quit:\n%s", s, p.screen())
	}
}

// stays types s and fails the test if the program has quit then.
func (p *player) stays(s string) {
	p.t.Helper()
	if p.keys(s); p.quit {
		p.t.Fatalf("%q quit", s)
	}
}

// screen is the window as plain text.
func (p *player) screen() string { return ansi.Strip(p.root.View()) }

// sees fails the test unless every text is on the screen.
func (p *player) sees(texts ...string) {
	p.t.Helper()
	s := p.screen()
	for _, want := range texts {
		if !strings.Contains(s, want) {
			p.t.Fatalf("%q is not on the screen:\n%s", want, s)
		}
	}
}

// misses fails the test if any text is on the screen.
func (p *player) misses(texts ...string) {
	p.t.Helper()
	s := p.screen()
	for _, unwanted := range texts {
		if strings.Contains(s, unwanted) {
			p.t.Fatalf("%q is on the screen:\n%s", unwanted, s)
		}
	}
}

// testTheme is the colour theme, whatever the environment of the test.
func testTheme() theme.Theme { return theme.Named("", "unicode", func(string) string { return "" }) }

// noTimer stands in for tea.Tick where time does not pass by itself.
func noTimer(time.Duration, func(time.Time) tea.Msg) tea.Cmd { return nil }

// testClock is a clock a test moves by hand.
type testClock struct{ now time.Time }

func (c *testClock) read() time.Time { return c.now }

// morning is an ordinary Wednesday.
func morning() *testClock {
	return &testClock{time.Date(2026, time.November, 25, 7, 30, 0, 0, time.UTC)}
}

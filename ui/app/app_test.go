package app

import (
	"cmp"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

var update = uitest.Update

// window is the whole program in a window, driven by messages.
type window struct {
	*App
	t     *testing.T
	now   time.Time
	due   func(time.Time) tea.Msg // the timer last made
	rang  strings.Builder
	ended bool
}

// open runs the program on a book.
func open(t *testing.T, store session.Store, w, h int) *window {
	t.Helper()
	return openAs(t, store, w, h, func(string) string { return "" })
}

// openAs runs it in an environment.
func openAs(t *testing.T, store session.Store, w, h int, env func(string) string) *window {
	t.Helper()
	return openWith(t, store, w, h, Options{Getenv: env})
}

// openWith runs it with options, of which the test's own are filled in.
func openWith(t *testing.T, store session.Store, w, h int, o Options) *window {
	t.Helper()
	p := &window{t: t, now: time.Date(2026, time.November, 25, 7, 30, 0, 0, time.UTC)}
	o.Out, o.Now = &p.rang, func() time.Time { return p.now }
	o.Glyphs = cmp.Or(o.Glyphs, "unicode")
	if o.Getenv == nil {
		o.Getenv = func(string) string { return "" }
	}
	o.after = func(_ time.Duration, f func(time.Time) tea.Msg) tea.Cmd {
		p.due = f
		return nil
	}
	p.App = New(store, o)
	t.Cleanup(p.Session.Close)
	p.send(tea.WindowSizeMsg{Width: w, Height: h})
	p.run(p.Root.Init())
	return p
}

// empty is a store without a book.
func empty() session.Store {
	return session.NewMemory(func() (*ledger.Book, error) { return new(ledger.Book), nil })
}

// demo runs it on the demo book.
func demo(t *testing.T, w, h int) *window {
	t.Helper()
	return open(t, Demo(model.NewDate(2026, time.November, 25)), w, h)
}

func (p *window) send(msg tea.Msg) {
	_, cmd := p.Root.Update(msg)
	p.run(cmd)
}

func (p *window) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			p.run(c)
		}
	case tea.QuitMsg:
		p.ended = true
	default:
		p.send(msg)
	}
}

func (p *window) keys(keys ...string) {
	named := map[string]tea.KeyType{"enter": tea.KeyEnter, "esc": tea.KeyEsc, "down": tea.KeyDown, "up": tea.KeyUp, "tab": tea.KeyTab, "left": tea.KeyLeft, "right": tea.KeyRight, "end": tea.KeyEnd}
	for _, k := range keys {
		if typ, ok := named[k]; ok {
			p.send(tea.KeyMsg{Type: typ})
			continue
		}
		if k == " " {
			p.send(tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
			continue
		}
		p.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)})
	}
}

// second lets the clock go on and the countdown's timer fire.
func (p *window) second(d time.Duration) {
	p.now = p.now.Add(d)
	if p.due == nil {
		p.t.Fatal("no timer runs")
	}
	due := p.due
	p.due = nil
	p.send(due(p.now))
}

func (p *window) screen() string { return ansi.Strip(p.Root.View()) }

func (p *window) sees(texts ...string) {
	p.t.Helper()
	for _, want := range texts {
		if !strings.Contains(p.screen(), want) {
			p.t.Fatalf("%q is not on the screen:\n%s", want, p.screen())
		}
	}
}

// exact checks a screen at the sizes the program is made for, and one too small.
func (p *window) exact() {
	p.t.Helper()
	for _, size := range [][2]int{{1, 1}, {39, 11}, {40, 12}, {60, 16}, {80, 24}, {101, 31}, {120, 40}, {200, 50}} {
		lines := strings.Split(p.Root.Render(size[0], size[1]), "\n")
		if len(lines) != size[1] {
			p.t.Fatalf("%v: %d lines", size, len(lines))
		}
		for _, l := range lines {
			if text.Width(l) != size[0] {
				p.t.Fatalf("%v: a line of %d cells: %q", size, text.Width(l), l)
			}
		}
	}
}

func TestFirstFrameShowsTheRound(t *testing.T) {
	p := demo(t, 80, 24)
	p.sees("Library reef", "Wed 25 Nov 2026 · 1 broken · 1 past limit · 2 late · 1 today", "[Round]  Water  Gear  Shelf  Rethink  Log",
		"due now: 63 min, 31 to get there", "> DI resin", "d tick")
	p.keys("q")
	if !p.ended {
		t.Error("q does not end the program from a view")
	}
}

func TestViewsAndHelp(t *testing.T) {
	p := demo(t, 80, 24)
	for _, view := range []string{"2", "3", "4", "5", "6", "1"} {
		p.keys(view)
		p.exact()
		p.keys("?")
		p.sees("esc close")
		p.exact()
		p.keys("esc")
	}
	p.sees("[Round]")
	p.keys("?")
	golden(p, "help")
}

func TestNewBookAsksAndTheDemoIsEntered(t *testing.T) {
	p := open(t, empty(), 80, 24)
	p.sees("A new book", "name of the book")
	p.keys("up", "d", "enter")
	p.sees("Library reef (demo)", "> DI resin")
	p.keys("d", "f")
	p.sees("ticked DI resin")
}

func TestCountdownRingsAndHoldsBackQuitting(t *testing.T) {
	p := demo(t, 80, 24)
	p.keys("j", "j", "enter", "down", "down", "down", "s")
	p.sees("45:00 left, until 08:15")
	p.keys("esc")
	p.sees("Soak: 45:00 left, until 08:15")
	p.keys("q")
	p.sees("Soak runs until 08:15", "Quit all the same?")
	if p.ended {
		t.Fatal("quit without asking")
	}
	p.keys("n")
	p.second(20 * time.Minute)
	p.sees("Soak: 25:00 left")
	if p.rang.Len() != 0 {
		t.Fatal("rang too early")
	}
	p.second(25 * time.Minute)
	p.sees("Soak: the time is up")
	if p.rang.String() != "\a" {
		t.Errorf("the bell wrote %q", p.rang.String())
	}
	p.keys("q")
	if !p.ended {
		t.Error("an ended countdown holds quitting back")
	}
}

func TestFreshBookWithinAMinuteOfKeys(t *testing.T) {
	p := open(t, empty(), 80, 24)
	p.keys("Home reef")
	for range 8 + 11 + 1 {
		p.keys("enter")
	}
	p.sees("Home reef", "15 today", "> Thermometers")
	p.exact()
}

func TestNoColor(t *testing.T) {
	plain := openAs(t, Demo(uitest.Today), 80, 24, func(name string) string {
		return map[string]string{"NO_COLOR": "1"}[name]
	})
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

// keep compares a drawing with a file under testdata/golden; with -update it writes it.
func keep(t *testing.T, file, got string) {
	t.Helper()
	path := filepath.Join("testdata", "golden", file)
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; write it with go test -update", err)
	}
	if got != string(want) {
		t.Errorf("%s differs; look at it, and if it is right, go test -update:\n%s", path, got)
	}
}

func golden(p *window, name string) {
	p.t.Helper()
	for _, size := range [][2]int{{60, 16}, {80, 24}, {120, 40}, {200, 50}} {
		p.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
		var b strings.Builder
		for line := range strings.SplitSeq(p.screen(), "\n") {
			b.WriteString(strings.TrimRight(line, " ") + "\n")
		}
		keep(p.t, name+"-"+sizeName(size)+".txt", b.String())
	}
	p.send(tea.WindowSizeMsg{Width: 80, Height: 24})
}

func sizeName(size [2]int) string {
	return map[int]string{60: "60x16", 80: "80x24", 120: "120x40", 200: "200x50"}[size[0]]
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

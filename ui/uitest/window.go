// Package uitest plays a window in tests, without a terminal, a file or the time of
// day: a root with the screens under test, a book in memory, a clock that only the
// test moves, keys typed one after another. Commands run at once, in the goroutine of
// the test, so that nothing has to be waited for; after Apart they run beside one
// another, as in the program. Only tests may import it.
package uitest

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/ui"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// Update is set by -update, the flag of every test that keeps golden screens.
var Update = flag.Bool("update", false, "write the golden screens anew")

// Today is the day on which everything is played: a Wednesday.
var Today = model.NewDate(2026, time.November, 25)

// now is the moment of Today at which it is played.
var now = time.Date(2026, time.November, 25, 7, 30, 0, 0, time.UTC)

// Window is a window being played.
type Window struct {
	t       *testing.T
	Root    *ui.Root
	Session *session.Session
	Store   *Store // nil where the test has one of its own
	Quit    bool   // it has ended
	w, h    int

	clock
	flight
}

// Maker makes a view on a session.
type Maker func(*session.Session) ui.Screen

// Open plays one view on a book in a window of w by h cells.
func Open(t *testing.T, book *ledger.Book, view Maker, w, h int) *Window {
	t.Helper()
	return open(t, Kept(t, book), view, theme.Named("", "unicode", func(string) string { return "" }), w, h)
}

// OpenOn plays one view on a store of the test's own.
func OpenOn(t *testing.T, store session.Store, view Maker, w, h int) *Window {
	t.Helper()
	return open(t, store, view, theme.Named("", "unicode", func(string) string { return "" }), w, h)
}

// OpenPlain plays it in plain words.
func OpenPlain(t *testing.T, book *ledger.Book, view Maker, w, h int) *Window {
	t.Helper()
	th := theme.Named("", "unicode", func(string) string { return "" })
	th.Plain = true
	return open(t, Kept(t, book), view, th, w, h)
}

func open(t *testing.T, store session.Store, view Maker, th theme.Theme, w, h int) *Window {
	t.Helper()
	return Play(t, store, w, h, func(s *Window) (*ui.Root, *session.Session) {
		d := session.New(store)
		d.Root = ui.NewRoot(ui.Config{
			Theme: th,
			Clock: s.Now,
			After: s.After,
			Views: func(*ui.Root) []ui.View { return []ui.View{{Name: "View", Screen: view(d)}} },
			Init:  d.Init,
			Msg:   d.Msg,
		})
		return d.Root, d
	})
}

// Play plays a window that program makes, on the clock and with the timers of the test.
func Play(t *testing.T, store session.Store, w, h int, program func(*Window) (*ui.Root, *session.Session)) *Window {
	t.Helper()
	s := &Window{t: t, w: w, h: h, clock: clock{now: now}}
	s.Store, _ = store.(*Store)
	s.Root, s.Session = program(s)
	t.Cleanup(s.Session.Close)
	s.Send(tea.WindowSizeMsg{Width: w, Height: h})
	s.Run(s.Root.Init())
	return s
}

// Kept is a store of a book.
func Kept(t testing.TB, book *ledger.Book) *Store {
	t.Helper()
	s, err := newStore(book)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Demo is the book of the demo as it stands on Today.
func Demo(t testing.TB) *ledger.Book {
	t.Helper()
	return Book(t, starter.Demo(Today))
}

// Book is the book of entries that need not be numbered.
func Book(t testing.TB, entries []model.Entry) *ledger.Book {
	t.Helper()
	b, err := new(ledger.Book).Append(entries...)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Send sends one message and runs what it leads to.
func (s *Window) Send(msg tea.Msg) {
	var cmd tea.Cmd
	s.still(func() { _, cmd = s.Root.Update(msg) })
	s.Run(cmd)
}

// still does what may wait for nothing: the store is not to be asked, as all of a window
// stands still meanwhile.
func (s *Window) still(do func()) {
	if s.Store != nil {
		s.Store.asked = func() { s.t.Errorf("the store is asked outside a command:\n%s", debug.Stack()) }
		defer func() { s.Store.asked = nil }()
	}
	do()
}

// render draws the window.
func (s *Window) render(w, h int) (drawn string) {
	s.still(func() { drawn = s.Root.Render(w, h) })
	return drawn
}

// Run runs a command and sends what it returns.
func (s *Window) Run(cmd tea.Cmd) {
	switch {
	case cmd == nil:
	case s.apart():
		s.start(cmd)
	default:
		s.take(cmd())
	}
}

// take takes in what a command has returned.
func (s *Window) take(msg tea.Msg) {
	for _, cmd := range batch(msg) {
		s.Run(cmd)
	}
	switch msg.(type) {
	case nil:
	case tea.QuitMsg:
		s.Quit = true
	default:
		if batch(msg) == nil {
			s.Send(msg)
		}
	}
}

// batch is the commands in a message of the framework that holds some: its batch is a
// slice of commands, and so is its sequence, whose type it does not export.
func batch(msg tea.Msg) []tea.Cmd {
	v := reflect.ValueOf(msg)
	if !v.IsValid() || !v.Type().ConvertibleTo(reflect.TypeFor[[]tea.Cmd]()) {
		return nil
	}
	return v.Convert(reflect.TypeFor[[]tea.Cmd]()).Interface().([]tea.Cmd)
}

// named are the keys written as <name>.
var named = map[string]tea.KeyType{
	"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab,
	"up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
	"pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd,
	"backspace": tea.KeyBackspace, "delete": tea.KeyDelete, "f2": tea.KeyF2,
}

// Keys types text in which <enter> and the like are named keys. As a terminal's
// reads do, characters between spaces and named keys arrive as one message.
func (s *Window) Keys(text string) {
	s.t.Helper()
	for text != "" {
		if name, rest, ok := strings.Cut(strings.TrimPrefix(text, "<"), ">"); ok && text[0] == '<' {
			typ, known := named[name]
			if !known {
				s.t.Fatalf("no key is named %q", name)
			}
			s.Send(tea.KeyMsg{Type: typ})
			text = rest
			continue
		}
		if text[0] == ' ' {
			s.Send(tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
			text = text[1:]
			continue
		}
		n := strings.IndexAny(text[1:], "< ") + 1
		if n == 0 {
			n = len(text)
		}
		s.Send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text[:n])})
		text = text[n:]
	}
}

// Paste pastes text.
func (s *Window) Paste(text string) {
	s.Send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true})
}

// Clear empties the text field the cursor is in.
func (s *Window) Clear() {
	s.Keys("<end>")
	for range 60 {
		s.Keys("<backspace>")
	}
}

// Screen is the window as plain text.
func (s *Window) Screen() (screen string) {
	s.still(func() { screen = ansi.Strip(s.Root.View()) })
	return screen
}

// Sees fails the test unless every text is on the screen.
func (s *Window) Sees(texts ...string) {
	s.t.Helper()
	screen := s.Screen()
	for _, want := range texts {
		if !strings.Contains(screen, want) {
			s.t.Fatalf("%q is not on the screen:\n%s", want, screen)
		}
	}
}

// Misses fails the test if any text is on the screen.
func (s *Window) Misses(texts ...string) {
	s.t.Helper()
	screen := s.Screen()
	for _, unwanted := range texts {
		if strings.Contains(screen, unwanted) {
			s.t.Fatalf("%q is on the screen:\n%s", unwanted, screen)
		}
	}
}

// Line is the line of the screen that holds text, without the blanks at its end.
func (s *Window) Line(text string) string {
	s.t.Helper()
	for line := range strings.SplitSeq(s.Screen(), "\n") {
		if strings.Contains(line, text) {
			return strings.TrimRight(line, " ")
		}
	}
	s.t.Fatalf("no line holds %q:\n%s", text, s.Screen())
	return ""
}

// On fails the test unless the row of the cursor holds text.
func (s *Window) On(text string) {
	s.t.Helper()
	if line := s.Line("> "); !strings.Contains(line, text) {
		s.t.Fatalf("the cursor is on %q, not on %q", line, text)
	}
}

// The sizes every screen is drawn at: each side of every size at which the layout
// changes, and some between.
var (
	widths  = []int{1, 39, 40, 47, 60, 71, 80, 99, 100, 120, 163, 200}
	heights = []int{1, 11, 12, 16, 22, 24, 50}
)

// Exact fails the test unless the window is drawn in exact lines, of harmless
// characters, at every size.
func (s *Window) Exact() {
	s.t.Helper()
	for _, w := range widths {
		for _, h := range heights {
			s.ExactAt(w, h)
		}
	}
}

// ExactAt is Exact at one size.
func (s *Window) ExactAt(w, h int) {
	s.t.Helper()
	drawn := s.render(w, h)
	lines := strings.Split(drawn, "\n")
	if len(lines) != h {
		s.t.Fatalf("at %d x %d there are %d lines", w, h, len(lines))
	}
	for i, line := range lines {
		plain := ansi.Strip(line)
		if text.Width(line) != w {
			s.t.Fatalf("at %d x %d line %d is %d cells:\n%q", w, h, i, text.Width(line), plain)
		}
		if clean := text.Clean(plain); clean != plain {
			s.t.Fatalf("at %d x %d line %d is not clean:\n%q", w, h, i, plain)
		}
	}
}

// Golden compares the window at the four sizes that are kept with the files under
// testdata/golden of the package under test; with -update it writes them.
func (s *Window) Golden(name string) {
	s.t.Helper()
	for _, size := range [][2]int{{60, 16}, {80, 24}, {120, 40}, {200, 50}} {
		s.Send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
		Keep(s.t, fmt.Sprintf("%s-%dx%d.txt", name, size[0], size[1]), Trimmed(ansi.Strip(s.render(size[0], size[1]))))
	}
	s.Send(tea.WindowSizeMsg{Width: s.w, Height: s.h})
}

// Keep compares what was drawn with a file under testdata/golden of the package under test; with -update it writes it.
func Keep(t *testing.T, file, got string) {
	t.Helper()
	path := filepath.Join("testdata", "golden", file)
	if *Update {
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

// Trimmed drops the blanks at the ends of lines, which Exact looks after.
func Trimmed(s string) string {
	var b strings.Builder
	for line := range strings.SplitSeq(s, "\n") {
		b.WriteString(strings.TrimRight(line, " "))
		b.WriteByte('\n')
	}
	return b.String()
}

// Last is the entry that was written last.
func (s *Window) Last() model.Entry {
	act := s.LastAct()
	return act[len(act)-1]
}

// LastAct is the entries of the act that was written last.
func (s *Window) LastAct() (out []model.Entry) {
	s.t.Helper()
	entries, err := s.Session.Book.Act(s.Session.Book.Last())
	if err != nil {
		s.t.Fatal(err)
	}
	for _, e := range entries {
		out = append(out, *e)
	}
	return out
}

// Others writes what another process makes of the book, and reads it again.
func (s *Window) Others(made func(*ledger.Book) []model.Entry) {
	s.t.Helper()
	if _, _, err := s.Store.Write(func(b *ledger.Book) ([]model.Entry, error) { return made(b), nil }); err != nil {
		s.t.Fatal(err)
	}
	s.Reload()
}

// Reload reads the book again, as when another process wrote to it.
func (s *Window) Reload() { s.Run(s.Session.Init()) }

// Hostile are texts that have harmed screens, by what is wrong with them. They are
// no longer than a name or a note may be.
func Hostile() map[string]string {
	return map[string]string{
		"escapes":  "\x1b[2J\x1b[H\x1b[31mred \x1b]0;title\x07 \x1b]52;c;eA==\x07 bell\x07 \u009b31m",
		"bidi":     "abc \u202egnp.exe\u202c \u2066isolate\u2069 \u200fmark שלום",
		"wide":     "水族館のろ過 👨\u200d👩\u200d👧 ⚠\ufe0f 🇳🇿 e\u0301\u0301\u0301\u0301\u0301\u0301",
		"breaks":   "one\ntwo\rthree\ttab\u2028four\u2029five\x00six",
		"very big": strings.Repeat("long note ", 1000),
	}
}

// Click presses the left mouse button on the first place where text stands.
func (s *Window) Click(text string) {
	s.t.Helper()
	for y, line := range strings.Split(s.Screen(), "\n") {
		if before, _, ok := strings.Cut(line, text); ok {
			s.Send(tea.MouseMsg{X: ansi.StringWidth(before), Y: y, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
			return
		}
	}
	s.t.Fatalf("%q is nowhere to be clicked:\n%s", text, s.Screen())
}

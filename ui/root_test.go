package ui

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/ui/form"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// listing is a small screen to try the root with: it notes what reaches it.
type listing struct {
	name  string
	scope keys.Scope
	typed bool // letters are text
	acts  []keys.Action
	text  string
	days  int
	click [2]int
	onAct func(keys.Action) tea.Cmd
	onMsg func(tea.Msg)
	stay  bool
}

func (s *listing) Scope() keys.Scope { return s.scope }
func (s *listing) TextEntry() bool   { return s.typed }
func (s *listing) Act(a keys.Action) tea.Cmd {
	s.acts = append(s.acts, a)
	if s.onAct != nil {
		return s.onAct(a)
	}
	return nil
}

func (s *listing) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		s.text += string(msg.Runes)
	case NewDay:
		s.days++
	}
	if s.onMsg != nil {
		s.onMsg(msg)
	}
	return nil
}

func (s *listing) Render(w, h int) string {
	return text.Block([]string{s.name + " body", "typed " + s.text}, w, h)
}

func (s *listing) Aside(int) string       { return "74 min" }
func (s *listing) Click(x, y int) tea.Cmd { s.click = [2]int{x, y}; return nil }
func (s *listing) Close() (tea.Cmd, bool) { return nil, !s.stay }

// sample is a root with three views, and what a test wants of it.
type sample struct {
	*player
	clock *testClock
	views []*listing
}

func newSample(t *testing.T, change func(*Config)) *sample {
	t.Helper()
	s := &sample{clock: morning()}
	cfg := Config{
		Theme: testTheme(),
		Clock: s.clock.read,
		After: noTimer,
		Views: func(*Root) []View {
			var out []View
			for i, name := range []string{"Round", "Water", "Gear"} {
				l := &listing{name: name, scope: keys.Round + keys.Scope(i)}
				s.views = append(s.views, l)
				out = append(out, View{name, l})
			}
			return out
		},
		Heading: func() (string, string) { return "Home reef", "Wed 25 Nov 2026" },
	}
	if change != nil {
		change(&cfg)
	}
	s.player = play(t, NewRoot(cfg), 80, 24)
	return s
}

func TestFrame(t *testing.T) {
	s := newSample(t, nil)
	lines := strings.Split(s.screen(), "\n")
	if len(lines) != 24 {
		t.Fatalf("%d lines, want 24", len(lines))
	}
	for i, want := range map[int]string{
		0: "Home reef" + strings.Repeat(" ", 56) + "Wed 25 Nov 2026",
		1: "[Round]  Water  Gear" + strings.Repeat(" ", 54) + "74 min",
		2: text.Fit("Round body", 80),
	} {
		if lines[i] != want {
			t.Errorf("line %d is %q, want %q", i, lines[i], want)
		}
	}
	if !strings.HasPrefix(lines[23], "d tick  f flag") {
		t.Errorf("key line %q", lines[23])
	}
}

func TestViewsByDigitAndTab(t *testing.T) {
	s := newSample(t, nil)
	for _, c := range []struct{ keys, sees string }{
		{"2", "[Water]"},
		{"3", "[Gear]"},
		{"6", "[Gear]"}, // there is no sixth view here
		{"<tab>", "[Round]"},
		{"<shift+tab>", "[Gear]"},
		{"1", "[Round]"},
	} {
		s.keys(c.keys)
		s.sees(c.sees)
	}
}

func TestPagesStayWithTheirView(t *testing.T) {
	s := newSample(t, nil)
	page := &listing{name: "Page", scope: keys.Chore}
	s.root.Push(page)
	s.sees("Page body")
	s.keys("2")
	s.sees("Water body")
	s.keys("1")
	s.sees("Page body")
	s.keys("1")
	s.sees("Round body")
	s.root.Push(page)
	s.keys("<esc><esc><esc>")
	s.sees("Round body")
	s.root.Push(page)
	s.keys("q")
	s.sees("Round body")
	if s.quit {
		t.Fatal("q quit from a page")
	}
	page.stay = true
	s.root.Push(page)
	s.keys("<esc>q")
	s.sees("Page body")
}

func TestQuitting(t *testing.T) {
	s := newSample(t, nil)
	s.keys("<esc>")
	if s.quit {
		t.Fatal("esc quit")
	}
	s.keys("q")
	if !s.quit {
		t.Fatal("q did not quit from a view")
	}
	s = newSample(t, nil)
	s.root.Push(NewFormSheet(s.root, form.Spec{Fields: []form.Field{{Name: "note", Label: "note"}}}, nil))
	s.keys("q")
	if s.quit {
		t.Fatal("q quit from a text field")
	}
	s.keys("<ctrl+c>")
	if !s.quit {
		t.Fatal("ctrl+c did not quit from a text field")
	}
}

func TestQuitAsksOnceWhileSomethingRuns(t *testing.T) {
	linger := func(c *Config) { c.Linger = func() string { return "a timer runs until 13:40; quit?" } }
	s := newSample(t, linger)
	s.keys("q")
	s.sees("a timer runs until 13:40", "y  quit")
	s.keys("n")
	s.misses("a timer runs")
	s.keys("qy")
	if !s.quit {
		t.Error("y did not quit")
	}
	s = newSample(t, linger)
	s.keys("<ctrl+c>")
	if s.quit {
		t.Error("ctrl+c did not ask")
	}
	s.keys("<ctrl+c>")
	if !s.quit {
		t.Error("a second ctrl+c did not quit")
	}
}

func TestMergedKeysAllAct(t *testing.T) {
	s := newSample(t, nil)
	s.keys("jjjdk")
	want := []keys.Action{keys.Down, keys.Down, keys.Down, keys.Tick, keys.Up}
	if got := s.views[0].acts; !slices.Equal(got, want) {
		t.Errorf("actions %v, want %v", got, want)
	}
}

// The first letter of a burst may open a text or a question for the rest.
func TestMergedKeysFollowTheScreen(t *testing.T) {
	s := newSample(t, nil)
	round := s.views[0]
	round.onAct = func(a keys.Action) tea.Cmd {
		round.typed = a == keys.Find
		return nil
	}
	s.keys("j/kettle")
	if round.text != "kettle" {
		t.Errorf("typed %q, want kettle", round.text)
	}

	s = newSample(t, nil)
	round = s.views[0]
	answer := -1
	round.onAct = func(a keys.Action) tea.Cmd {
		if a == keys.Tick {
			s.root.Push(NewChoice(s.root, "as found", []Answer{{Letter: 'c', Label: "clean"}, {Letter: 'l', Label: "light"}},
				func(i int) tea.Cmd { answer = i; return nil }))
		}
		return nil
	}
	s.keys("jdlj")
	if answer != 1 {
		t.Errorf("answer %d, want 1", answer)
	}
	if want := []keys.Action{keys.Down, keys.Tick, keys.Down}; !slices.Equal(round.acts, want) {
		t.Errorf("actions %v, want %v", round.acts, want)
	}
}

func TestAltIsEscAndALetter(t *testing.T) {
	s := newSample(t, nil)
	s.root.Push(&listing{name: "Page", scope: keys.Chore})
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("jd"), Alt: true})
	s.sees("Round body")
	if want := []keys.Action{keys.Down, keys.Tick}; !slices.Equal(s.views[0].acts, want) {
		t.Errorf("actions %v, want %v", s.views[0].acts, want)
	}
}

func TestPasteNeverActs(t *testing.T) {
	s := newSample(t, nil)
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("dq"), Paste: true})
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("d"), Paste: true})
	s.root.Push(NewChoice(s.root, "sure", []Answer{{Letter: 'y', Label: "yes"}}, func(int) tea.Cmd {
		t.Error("a paste answered a question")
		return nil
	}))
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("y"), Paste: true})
	s.keys("<esc>")
	if s.quit || len(s.views[0].acts) > 0 {
		t.Errorf("a paste acted: %v", s.views[0].acts)
	}
	s.views[0].typed = true
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("dq"), Paste: true})
	if s.views[0].text != "dq" {
		t.Errorf("a paste into a text gave %q", s.views[0].text)
	}
}

func TestChoiceWithConfirm(t *testing.T) {
	s := newSample(t, nil)
	picked := -1
	ask := func() {
		c := NewChoice(s.root, "why is it hard to reach", []Answer{
			{Letter: 'b', Label: "behind something"}, {Letter: 'h', Label: "too high", Note: "over 2 m"},
		}, func(i int) tea.Cmd { picked = i; return nil })
		c.Confirm = true
		s.root.Push(c)
	}
	ask()
	s.sees("Round body", "why is it hard to reach", "> b  behind something", "over 2 m")
	s.keys("hx")
	s.sees("> h  too high")
	if picked >= 0 {
		t.Fatal("a letter answered without enter")
	}
	s.keys("<up><enter>")
	if picked != 0 {
		t.Errorf("picked %d, want 0", picked)
	}
	picked = -1
	ask()
	s.keys("<esc>")
	s.misses("hard to reach")
	if picked >= 0 {
		t.Error("esc answered")
	}
}

// A sheet that would leave nothing of the screen below in sight takes it all,
// and shows the part its cursor is in.
func TestTallSheetTakesTheBody(t *testing.T) {
	s := newSample(t, nil)
	var many []Answer
	for r := 'a'; r <= 't'; r++ {
		many = append(many, Answer{Letter: r, Label: "cause " + string(r)})
	}
	c := NewChoice(s.root, "why", many, nil)
	c.Confirm = true
	s.root.Push(c)
	s.send(tea.WindowSizeMsg{Width: 60, Height: 16})
	s.misses("Round body")
	s.sees("why", "> a  cause a")
	s.keys("s")
	s.sees("why", "> s  cause s")
	exact(t, s.root.View(), 60, 16)
	s.send(tea.WindowSizeMsg{Width: 60, Height: 40})
	s.sees("Round body", "cause a", "> s  cause s", "cause t")
}

func TestWritesKeepTheirOrderAndQuitWaits(t *testing.T) {
	s := newSample(t, nil)
	var ran []int
	s.hold = true
	for i := range 3 {
		cmd := s.root.Write(Job{Op: "writing", Run: func() error { ran = append(ran, i); return nil }})
		if (cmd != nil) != (i == 0) {
			t.Errorf("write %d starts before the one ahead of it has ended", i)
		}
		s.run(cmd)
	}
	s.keys("q")
	if s.quit {
		t.Fatal("quit did not wait")
	}
	s.release()
	if !slices.Equal(ran, []int{0, 1, 2}) {
		t.Errorf("ran %v", ran)
	}
	if !s.quit {
		t.Error("quit was forgotten")
	}
}

func TestFailedWriteCallsQuitOffAndIsShown(t *testing.T) {
	s := newSample(t, nil)
	s.hold = true
	s.run(s.root.Write(Job{Op: "ticking DI resin", Run: func() error { return errors.New("book.db: in use by another program") }}))
	s.keys("q")
	s.release()
	if s.quit {
		t.Fatal("quit on an act that was not saved")
	}
	s.sees("ticking DI resin: book.db: in use by another program")
	s.keys("q")
	if !s.quit {
		t.Error("a second q did not quit")
	}
}

func TestPanicInACommandIsKeptForMain(t *testing.T) {
	s := newSample(t, nil)
	s.run(s.root.Write(Job{Op: "ticking", Run: func() error { panic("no such chore") }}))
	s.run(Guarded("loading", func() (tea.Msg, error) { panic("no such book") }))
	s.sees("loading: the program has a fault here: no such book")
	if got := s.root.Panics(); len(got) != 2 || !strings.Contains(string(got[0].Stack), "root_test.go") {
		t.Errorf("panics kept: %v", got)
	}
}

func TestFaultOutranksAndStaysForAMoment(t *testing.T) {
	s := newSample(t, nil)
	id := s.root.Say("ticked; z undoes")
	s.sees("ticked; z undoes")
	s.root.Fail(errors.New("disk full"))
	s.root.Unsay(id)
	if s.root.Say("something else") != 0 {
		t.Error("a success covered a fault")
	}
	s.keys("jk")
	s.sees("disk full")
	s.keys("<esc>")
	s.misses("disk full")
	s.root.Fail(errors.New("disk full"))
	s.clock.now = s.clock.now.Add(2 * time.Second)
	s.keys("j")
	s.misses("disk full")
	id = s.root.Say("saved")
	s.root.Unsay(id)
	s.misses("saved")
}

func TestFormSheet(t *testing.T) {
	s := newSample(t, nil)
	var got form.Values
	fail, closed := errors.New("in use by another program"), false
	open := func() {
		s.root.Push(NewFormSheet(s.root, form.Spec{
			Title:  "water made",
			Fields: []form.Field{{Name: "amount", Label: "litres"}},
		}, func(v form.Values) Job {
			return Job{Op: "logging litres", Run: func() error {
				if fail != nil {
					return fail
				}
				got = v
				return nil
			}, Done: func(error) tea.Cmd { closed = true; return nil }}
		}))
	}
	open()
	s.keys("40<enter>")
	s.sees("Round body", "water made", "40", "not saved: logging litres: in use by another program")
	if closed {
		t.Error("a failed save counts as done")
	}
	fail = nil
	s.keys("5<enter>")
	s.misses("water made")
	if got["amount"] != "405" || !closed {
		t.Errorf("saved %v, closed %v", got, closed)
	}
	open()
	s.keys("7<esc>")
	s.sees("leave without saving?")
	s.keys("y")
	s.misses("water made")
	open()
	s.keys("<esc>")
	s.misses("water made")
}

func TestNewDay(t *testing.T) {
	s := newSample(t, nil)
	page := &listing{name: "Page", scope: keys.Chore}
	s.root.Push(page)
	s.send(midnight{})
	if s.views[0].days != 0 {
		t.Error("told of a new day on the same one")
	}
	s.clock.now = s.clock.now.Add(20 * time.Hour)
	s.send(midnight{})
	s.send(tea.ResumeMsg{})
	for _, l := range append(s.views, page) {
		if l.days != 1 {
			t.Errorf("%s was told of %d new days, want 1", l.name, l.days)
		}
	}
	s.clock.now = s.clock.now.Add(48 * time.Hour)
	s.send(tea.ResumeMsg{})
	if s.views[2].days != 2 {
		t.Error("not told of a new day after a sleep")
	}
}

func TestAScreenMayCloseItselfOnAMessage(t *testing.T) {
	s := newSample(t, nil)
	a, b := &listing{name: "A", scope: keys.Chore}, &listing{name: "B", scope: keys.Chore}
	a.onMsg = func(tea.Msg) { s.root.Drop(a) }
	s.root.Push(a)
	s.root.Push(b)
	s.send(NewDay{})
	s.sees("Round body")
}

func TestHelp(t *testing.T) {
	s := newSample(t, nil)
	s.keys("?")
	s.sees("round", "tick off, then one letter for as found")
	s.keys("<end>")
	s.sees("anywhere", "quit at once")
	s.keys("2")
	s.sees("Water body")
	s.keys("1")
	s.sees("Round body")
	for _, shut := range []string{"?", "q", "<esc>", "<enter>", "<f1>"} {
		s.keys("<f1>" + shut)
		s.sees("Round body")
	}
	if s.quit {
		t.Error("closing the help quit")
	}
}

func TestMouse(t *testing.T) {
	s := newSample(t, nil)
	press := func(x, y int, b tea.MouseButton) {
		s.send(tea.MouseMsg{X: x, Y: y, Button: b, Action: tea.MouseActionPress})
	}
	press(10, 1, tea.MouseButtonLeft)
	s.sees("[Water]")
	press(3, 5, tea.MouseButtonLeft)
	if s.views[1].click != [2]int{3, 3} {
		t.Errorf("click at %v, want 3, 3", s.views[1].click)
	}
	press(0, 5, tea.MouseButtonWheelDown)
	if want := []keys.Action{keys.Down}; !slices.Equal(s.views[1].acts, want) {
		t.Errorf("wheel gave %v", s.views[1].acts)
	}
}

func TestTooSmallKeepsEverything(t *testing.T) {
	s := newSample(t, nil)
	s.root.Push(&listing{name: "Page", scope: keys.Chore})
	s.send(tea.WindowSizeMsg{Width: 39, Height: 24})
	s.sees("wrasse needs a window of 40 x 12", "39 x 24", "ctrl+c")
	s.send(tea.WindowSizeMsg{Width: 40, Height: 12})
	s.sees("Page body")
}

// Every size, with each kind of thing on top, is drawn in exactly its lines and
// cells, and the same twice.
func TestEverySize(t *testing.T) {
	hostile := "reef \x1b[2J\x1b]52;c;eA==\x07 水槽 e\u0301\u202e" + strings.Repeat("x", 200)
	s := newSample(t, func(c *Config) {
		c.Heading = func() (string, string) { return hostile, hostile }
		c.Notice = func() string { return hostile }
	})
	r := s.root
	for name, top := range map[string]Screen{
		"nothing": nil,
		"help":    &helpPage{root: r, of: keys.Round, from: 3},
		"choice":  NewChoice(r, hostile, []Answer{{Letter: 'a', Label: hostile, Note: hostile}, {Letter: 'b', Label: "b"}}, nil),
		"form": NewFormSheet(r, form.Spec{Title: hostile, Fields: []form.Field{
			{Name: "a", Label: hostile, Value: hostile, Hint: hostile},
			{Name: "b", Label: "b"},
		}}, nil),
	} {
		t.Run(name, func(t *testing.T) {
			stepW, stepH := 1, 1
			if top != nil {
				r.Push(top)
				defer r.Drop(top)
				stepW, stepH = 3, 2 // the frame around it is the same
			}
			for w := 1; w <= 130; w += stepW {
				for h := 1; h <= 40; h += stepH {
					exact(t, r.Render(w, h), w, h)
				}
			}
			if r.Render(80, 24) != r.Render(80, 24) {
				t.Error("drawing twice differs")
			}
		})
	}
}

// exact checks a drawing of w by h cells: its lines, their widths, and that the
// only control bytes are those of colour.
func exact(t *testing.T, drawing string, w, h int) {
	t.Helper()
	lines := strings.Split(drawing, "\n")
	if len(lines) != h {
		t.Fatalf("%d x %d: %d lines", w, h, len(lines))
	}
	for i, line := range lines {
		if text.Width(line) != w {
			t.Fatalf("%d x %d: line %d is %d cells: %q", w, h, i, text.Width(line), line)
		}
		if bad := control(line); bad != "" {
			t.Fatalf("%d x %d: line %d holds %s: %q", w, h, i, bad, line)
		}
	}
}

// control names the first control character of a line that is not part of a
// colour sequence.
func control(line string) string {
	for line != "" {
		if rest, ok := strings.CutPrefix(line, "\x1b["); ok {
			end := strings.IndexFunc(rest, func(r rune) bool { return r != ';' && (r < '0' || r > '9') })
			if end < 0 || rest[end] != 'm' {
				return "a sequence that is not a colour"
			}
			line = rest[end+1:]
			continue
		}
		if line[0] < ' ' || line[0] == 0x7f {
			return fmt.Sprintf("byte %#x", line[0])
		}
		line = line[1:]
	}
	return ""
}

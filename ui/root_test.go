package ui

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/ui/form"
	"brine/wrasse/ui/keys"

	tea "github.com/charmbracelet/bubbletea"
)

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
	s.stays("")
	page.stay = true
	s.root.Push(page)
	s.keys("<esc>q")
	s.sees("Page body")
}

// news is a message for the screens in sight.
type news int

func (news) Late() {}

// A view out of sight, and the pages over it, learn of the last news when shown.
func TestNewsWaitsUntilTheViewIsShown(t *testing.T) {
	s := newSample(t, nil)
	heard := map[string][]news{}
	hear := func(l *listing) {
		l.onMsg = func(msg tea.Msg) {
			if n, ok := msg.(news); ok {
				heard[l.name] = append(heard[l.name], n)
			}
		}
	}
	page := &listing{name: "Page", scope: keys.Chore}
	for _, l := range append(s.views, page) {
		hear(l)
	}
	s.keys("2")
	s.root.Push(page)
	s.keys("1")
	for n := range news(3) {
		s.send(n)
	}
	s.keys("2")
	s.keys("12")
	want := map[string][]news{"Round": {0, 1, 2}, "Water": {2}, "Page": {2}}
	if !reflect.DeepEqual(heard, want) {
		t.Errorf("heard %v, want %v", heard, want)
	}
}

func TestQuitting(t *testing.T) {
	s := newSample(t, nil)
	s.stays("<esc>")
	s.quits("q")
	s = newSample(t, nil)
	s.root.Push(NewFormSheet(s.root, form.Spec{Fields: []form.Field{{Name: "note", Label: "note"}}}, nil))
	s.stays("q")
	s.quits("<ctrl+c>")
}

func TestQuitAsksOnceWhileSomethingRuns(t *testing.T) {
	linger := func(c *Config) { c.Linger = func() string { return "a timer runs until 13:40; quit?" } }
	s := newSample(t, linger)
	s.keys("q")
	s.sees("a timer runs until 13:40", "y  quit")
	s.keys("n")
	s.misses("a timer runs")
	s.quits("qy")
	s = newSample(t, linger)
	s.stays("<ctrl+c>")
	s.quits("<ctrl+c>")
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

// What is said goes with the screen it was said on, or at a key once it has stood a second.
func TestWhatIsSaidEnds(t *testing.T) {
	s := newSample(t, nil)
	gone := func(text string) {
		t.Helper()
		if strings.Contains(s.screen(), text) {
			t.Errorf("%q is still said:\n%s", text, s.screen())
		}
	}
	s.root.Say("charts over 1 year")
	s.keys("j")
	s.sees("charts over 1 year")
	s.keys("3")
	gone("charts over 1 year")
	s.root.Say("no timer here")
	s.clock.now = s.clock.now.Add(grace)
	s.sees("no timer here")
	s.keys("j")
	gone("no timer here")
}

// A click on the words of the key line does what the key does.
func TestClickOnTheKeyLine(t *testing.T) {
	s := newSample(t, nil)
	lines := strings.Split(s.screen(), "\n")
	x := strings.Index(lines[len(lines)-1], "keys")
	for _, off := range []int{x + 3, x - 2} { // the word, and the key before it
		s.send(tea.MouseMsg{X: off, Y: len(lines) - 1, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
		s.sees("esc close")
		s.keys("<esc>")
	}
	s.send(tea.MouseMsg{X: x + len("keys"), Y: len(lines) - 1, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
	if strings.Contains(s.screen(), "esc close") {
		t.Error("a click between the words acted")
	}
}

// The help is searched by what keys are for.
func TestHelpIsSearched(t *testing.T) {
	s := newSample(t, nil)
	s.keys("?/last act")
	s.sees("1 found", "take back this window's last act")
	if strings.Contains(s.screen(), "next view") {
		t.Errorf("more than was looked for:\n%s", s.screen())
	}
	s.keys("<enter>")
	s.sees("1 found")
	s.keys("/q")
	s.sees("0 found")
	s.keys("<esc>")
	s.sees("log readings")
	s.keys("<esc>")
	s.sees("Round body")
}

// Where nothing but ASCII may be drawn the window is the same, cell for cell.
func TestASCIIWindow(t *testing.T) {
	s := newSample(t, func(c *Config) {
		c.Theme.ASCII = true
		c.Heading = func() (string, string) { return "Récif", "25 °C · é" }
	})
	s.root.Say("crème…")
	screen := s.screen()
	for _, r := range screen {
		if r > '~' {
			t.Fatalf("%q is drawn:\n%s", r, screen)
		}
	}
	s.sees("Recif", "25  C - e", "crem..")
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
	s.sees("pasted text does not act")
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

// Where the terminal does not say that text is pasted, that it comes at once does.
func TestManyKeysAtOnceNeverAct(t *testing.T) {
	atOnce := MostKeys + 1
	s := newSample(t, func(c *Config) { c.AtOnce = func() int { return atOnce } })
	s.keys("Sump: dl <enter><down>q")
	s.sees("pasted text does not act")
	if s.quit || len(s.views[0].acts) > 0 {
		t.Errorf("a paste acted: %v", s.views[0].acts)
	}
	s.views[0].typed = true
	s.keys("Sump")
	if s.views[0].text != "Sump" {
		t.Errorf("a paste into a text gave %q", s.views[0].text)
	}
	s.views[0].typed = false
	s.views[0].onAct = func(a keys.Action) tea.Cmd { s.views[0].typed = a == keys.Find; return nil }
	s.keys("/kettle and more")
	if s.views[0].text != "Sumpkettle and more" {
		t.Errorf("a name typed into the filter at once gave %q", s.views[0].text)
	}
	s.views[0].typed, s.views[0].acts = false, nil
	atOnce = MostKeys
	s.keys("jjjd")
	if want := []keys.Action{keys.Down, keys.Down, keys.Down, keys.Tick}; !slices.Equal(s.views[0].acts, want) {
		t.Errorf("actions %v, want %v", s.views[0].acts, want)
	}
	atOnce = MostKeys + 1
	s.quits("<ctrl+c>")
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
	// The timer of a machine that slept has not fired: a key tells of the new day, and so
	// does the news that another program wrote.
	for i, msg := range []tea.Msg{tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("j")}, news(0)} {
		s.clock.now = s.clock.now.Add(24 * time.Hour)
		s.send(msg)
		if got := s.views[0].days; got != 3+i {
			t.Errorf("after %v told of %d new days, want %d", msg, got, 3+i)
		}
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
	s.stays("")
}

// In a window with room for the notice only, nobody sees what a key does.
func TestTooSmallAWindowTakesNoKeysButQuitting(t *testing.T) {
	s := newSample(t, nil)
	for _, size := range [][2]int{{MinW - 1, MinH}, {MinW, MinH - 1}} {
		s.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
		s.keys("2djq<enter><esc><down>")
		s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("x"), Paste: true})
	}
	s.views[0].typed = true
	s.keys("text")
	s.send(tea.WindowSizeMsg{Width: MinW, Height: MinH})
	s.sees("[Round]")
	if s.quit || len(s.views[0].acts)+len(s.views[1].acts) > 0 || s.views[0].text != "" {
		t.Errorf("quit %v, actions %v, typed %q", s.quit, s.views[0].acts, s.views[0].text)
	}
	s.send(tea.WindowSizeMsg{Width: MinW, Height: 1})
	s.quits("<ctrl+c>")
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

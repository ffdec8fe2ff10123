package prompt

import (
	"errors"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
)

// blank is a view that opens one sheet.
type blank struct{ open func() tea.Cmd }

func (b *blank) Scope() keys.Scope   { return keys.Round }
func (b *blank) TextEntry() bool     { return false }
func (b *blank) Msg(tea.Msg) tea.Cmd { return nil }
func (b *blank) Render(w, h int) string {
	return strings.TrimSuffix(strings.Repeat(strings.Repeat(" ", w)+"\n", h), "\n")
}
func (b *blank) Act(a keys.Action) tea.Cmd {
	if a == keys.Open {
		return b.open()
	}
	return nil
}

// asked plays a question over an empty view.
func asked(t *testing.T, book *ledger.Book, question func(*session.Session) tea.Cmd) *uitest.Window {
	t.Helper()
	s := uitest.Open(t, book, func(d *session.Session) ui.Screen { return &blank{func() tea.Cmd { return question(d) }} }, 80, 24)
	s.Keys("<enter>")
	return s
}

// The grades are those of the table of observable facts: each column alone, the highest
// of them, and one more for a part that is out of sight.
func TestGrade(t *testing.T) {
	cases := []struct {
		minutes int
		columns [4]int
		seen    bool
		want    int
	}{
		{0, [4]int{1, 1, 1, 1}, true, 1},
		{1, [4]int{1, 1, 1, 1}, true, 1},
		{2, [4]int{1, 1, 1, 1}, true, 2},
		{3, [4]int{1, 1, 1, 1}, true, 2},
		{4, [4]int{1, 1, 1, 1}, true, 3},
		{8, [4]int{1, 1, 1, 1}, true, 3},
		{9, [4]int{1, 1, 1, 1}, true, 4},
		{20, [4]int{1, 1, 1, 1}, true, 4},
		{21, [4]int{1, 1, 1, 1}, true, 5},
		{0, [4]int{3, 1, 1, 1}, true, 3},
		{0, [4]int{1, 4, 1, 1}, true, 4},
		{0, [4]int{1, 1, 2, 1}, true, 2},
		{0, [4]int{1, 1, 1, 5}, true, 5},
		{0, [4]int{1, 1, 1, 1}, false, 2},
		{9, [4]int{1, 3, 1, 1}, false, 5},
		{30, [4]int{5, 5, 5, 5}, false, 5},
	}
	for _, c := range cases {
		if got := Grade(c.minutes, c.columns, c.seen); got != c.want {
			t.Errorf("%d min, %v, seen %v: grade %d, want %d", c.minutes, c.columns, c.seen, got, c.want)
		}
	}
}

func TestEveryCauseHasALetterOfItsOwn(t *testing.T) {
	taken := map[byte]bool{}
	for i := range model.Causes {
		l := letterOf(i)
		if taken[l] {
			t.Errorf("%q names two causes", l)
		}
		taken[l] = true
	}
}

func TestWordsOfEveryKindOfWork(t *testing.T) {
	cases := []struct {
		chore model.ID
		keys  map[string]model.Found
		sees  []string
	}{
		{"clean-impeller", map[string]model.Found{"c": model.FoundClean, "l": model.FoundLight, "h": model.FoundHeavy, "f": model.FoundFailed}, []string{"clean", "light", "heavy", "stopped"}},
		{"renew-sediment", map[string]model.Found{"c": model.FoundClean, "l": model.FoundLight, "h": model.FoundHeavy, "f": model.FoundFailed}, []string{"under half", "half", "nearly", "spent"}},
		{"test-leak-alarm", map[string]model.Found{"p": model.FoundPassed, "f": model.FoundFailed}, []string{"passed", "failed"}},
	}
	book := uitest.Demo(t)
	for _, c := range cases {
		for key, want := range c.keys {
			s := asked(t, book, func(d *session.Session) tea.Cmd { return Tick(d, []model.ID{c.chore}, nil) })
			s.Sees(c.sees...)
			s.Keys(key)
			tick, ok := s.Last().Body.(model.Tick)
			if !ok || tick.Found != want || tick.Chore != c.chore {
				t.Errorf("%s %s wrote %#v", c.chore, key, tick)
			}
		}
	}
}

func TestAReadChoreAsksForItsReadings(t *testing.T) {
	s := asked(t, uitest.Demo(t), func(d *session.Session) tea.Cmd { return Tick(d, []model.ID{"measure-flows"}, nil) })
	s.Sees("Readings", "Product flow", "Waste flow", "Tap water temperature")
}

func TestMixedMarksTickThenRead(t *testing.T) {
	s := asked(t, uitest.Demo(t), func(d *session.Session) tea.Cmd { return Tick(d, []model.ID{"read-taps", "scrape-glass"}, nil) })
	s.Sees("Glass: scrape glass - as found?")
	s.Keys("l")
	s.Sees("Readings: TDS in ppm")
	if tick, ok := s.Last().Body.(model.Tick); !ok || tick.Chore != "scrape-glass" {
		t.Errorf("the tick was not written first")
	}
}

func TestEnterSaysNothingOfWhatWasFound(t *testing.T) {
	s := asked(t, uitest.Demo(t), func(d *session.Session) tea.Cmd { return Tick(d, []model.ID{"clean-impeller"}, nil) })
	s.Sees("done, nothing to say", "clean", "stopped")
	s.Keys("<enter>")
	if tick, ok := s.Last().Body.(model.Tick); !ok || tick.Chore != "clean-impeller" || tick.Found != "" {
		t.Errorf("the last entry is %+v", s.Last().Body)
	}
}

// Resin that read 0 ppm today and is said to be spent: the reading is shown, and either answer is written.
func TestSpentAgainstAReadingAsks(t *testing.T) {
	for answer, want := range map[string]model.Found{"<enter>": model.FoundClean, "n": model.FoundFailed} {
		read := false
		s := asked(t, uitest.Demo(t), func(d *session.Session) tea.Cmd {
			if read {
				return Readings(d, []model.ID{"tds-product"})
			}
			return Tick(d, []model.ID{"renew-resin"}, nil)
		})
		s.Keys("f") // it read 3 ppm: nothing to ask
		if tick, ok := s.Last().Body.(model.Tick); !ok || tick.Found != model.FoundFailed {
			t.Fatalf("the last entry is %+v", s.Last().Body)
		}
		read = true
		s.Keys("<enter>0<enter>")
		read = false
		s.Keys("<enter>yf")
		s.Sees("DI resin: renew resin: after resin read 0 ppm on", "changed early?", "no, it was spent")
		s.Keys(answer)
		if tick, ok := s.Last().Body.(model.Tick); !ok || tick.Found != want {
			t.Errorf("%s: the last entry is %+v", answer, s.Last().Body)
		}
	}
}

func TestAFailedWriteKeepsTheForm(t *testing.T) {
	s := asked(t, uitest.Demo(t), func(d *session.Session) tea.Cmd { return Usage(d, "") })
	s.Store.Fail = errors.New("the disk is full")
	s.Keys("40<enter>")
	s.Sees("not saved", "the disk is full", "40")
	s.Keys("<enter>")
	if u, ok := s.Last().Body.(model.Usage); !ok || *u.Amount != 40 {
		t.Error("trying again did not save")
	}
}

// The minutes the unit had run are read as every other figure is.
func TestMinutesRun(t *testing.T) {
	for typed, want := range map[string]float64{"7,5": 7.5, "10": 10} {
		s := asked(t, uitest.Demo(t), func(d *session.Session) tea.Cmd { return Readings(d, []model.ID{"tds-tap"}) })
		s.Keys("258<tab>" + typed + "<enter>")
		r, ok := s.Last().Body.(model.Reading)
		if !ok || r.MinutesRunning == nil || *r.MinutesRunning != want {
			t.Errorf("%q wrote %#v", typed, r)
		}
	}
	for _, typed := range []string{"nan", "1e1", "9999"} {
		s := asked(t, uitest.Demo(t), func(d *session.Session) tea.Cmd { return Readings(d, []model.ID{"tds-tap"}) })
		last := s.Session.Book.Last()
		s.Keys("258<tab>" + typed + "<enter>")
		s.Sees("give minutes from 0 to 1440")
		if s.Session.Book.Last() != last {
			t.Errorf("%q was written", typed)
		}
	}
}

func TestMinutes(t *testing.T) {
	for _, s := range []string{"", " ", "0", "25", "1440"} {
		if _, _, err := wholeMinutes(s); err != nil {
			t.Errorf("%q: %v", s, err)
		}
	}
	for _, s := range []string{"-1", "1441", "2.5", "an hour"} {
		if _, _, err := wholeMinutes(s); err == nil {
			t.Errorf("%q is taken", s)
		}
	}
}

func TestDates(t *testing.T) {
	today := uitest.Today
	cases := []struct {
		typed string
		want  parse.When
	}{
		{"", parse.When{On: today}},
		{"about", parse.When{On: today, About: true}},
		{"About", parse.When{On: today, About: true}},
		{"3d", parse.When{On: today.AddDays(-3)}},
		{"about 3d", parse.When{On: today.AddDays(-3), About: true}},
	}
	for _, c := range cases {
		if got, err := when(c.typed, today); err != nil || got != c.want {
			t.Errorf("%q is %v, %v; want %v", c.typed, got, err, c.want)
		}
	}
}

package checklist

import (
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
)

// shelf is a view that only opens pages: what stands behind them.
type shelf struct {
	session *session.Session
	checks  *Checks
	ids     []model.ID
}

func (s *shelf) Scope() keys.Scope   { return keys.Round }
func (s *shelf) TextEntry() bool     { return false }
func (s *shelf) Msg(tea.Msg) tea.Cmd { return nil }
func (s *shelf) Render(w, h int) string {
	return strings.Repeat(strings.Repeat(" ", w)+"\n", h-1) + strings.Repeat(" ", w)
}
func (s *shelf) Act(a keys.Action) tea.Cmd {
	if a == keys.Open {
		s.session.Root.Push(New(s.session, s.checks, s.ids))
	}
	return nil
}

// open plays the page of chores of the demo.
func open(t *testing.T, ids ...model.ID) *uitest.Window {
	t.Helper()
	s := uitest.Open(t, uitest.Demo(t), func(d *session.Session) ui.Screen { return &shelf{d, NewChecks(), ids} }, 80, 24)
	s.Keys("<enter>")
	return s
}

func TestPageOfAChore(t *testing.T) {
	s := open(t, "clean-impeller")
	s.Sees("Mixing pump: clean impeller", "! Mains: unplug everything", "needs 100 g citric acid", "> [ ] Unplug; pump out of the vat", "Soak - 45 min, s starts the clock")
	s.Keys("<end>")
	s.Sees("after 163 d", "> ")
}

func TestChecksSurviveLeavingAndEndInTheTick(t *testing.T) {
	s := open(t, "clean-impeller")
	s.Keys("  ")
	s.Sees("[x] Unplug; pump out of the vat", "[x] Open the chamber")
	s.Keys("<esc><enter>")
	s.Sees("[x] Unplug; pump out of the vat", "[x] Open the chamber")
	for range 2 {
		s.Keys("<down>")
	}
	for range 5 {
		s.Keys(" ")
	}
	s.Sees("Mixing pump: clean impeller - as found?")
	s.Keys("h")
	tick, ok := s.Last().Body.(model.Tick)
	if !ok || tick.Chore != "clean-impeller" || tick.Found != model.FoundHeavy {
		t.Fatalf("%#v", s.Last().Body)
	}
	s.Misses("[x]", "why today")
	s.Keys("<enter>")
	s.Misses("[x]")
}

func TestTimersRunOnAfterLeaving(t *testing.T) {
	s := open(t, "clean-impeller")
	for range 3 {
		s.Keys("<down>")
	}
	s.Sees("> [ ] Soak")
	s.Keys("s")
	s.Sees("Soak - 45:00 left, until 08:15")
	s.Keys("<esc>")
	if got := s.Session.Timers(); got != "Soak: 45:00 left, until 08:15" {
		t.Errorf("the status line says %q", got)
	}
	if q := s.Session.Linger(); !strings.Contains(q, "Soak runs until 08:15") {
		t.Errorf("quitting asks %q", q)
	}
	s.Keys("<enter>")
	s.Sees("Soak - 45:00 left, until 08:15")
	for range 3 {
		s.Keys("<down>")
	}
	s.Keys("s")
	s.Sees("Soak - 45 min, s starts the clock")
	s.Keys("<up>s")
	if s.Session.Timers() != "" {
		t.Error("a step without minutes has a timer")
	}
}

func TestMergedInTheOrderOfTheWaterWithCautionsOnce(t *testing.T) {
	s := open(t, "scrape-glass", "clean-impeller", "renew-resin", "renew-carbon", "renew-sediment")
	s.Sees("5 chores as one job")
	page := s.Screen()
	if !strings.Contains(page, "! ") {
		t.Fatalf("no cautions:\n%s", page)
	}
	p := New(s.Session, NewChecks(), []model.ID{"scrape-glass", "clean-impeller", "renew-resin", "renew-carbon", "renew-sediment"})
	var order []model.ID
	for _, c := range p.chores() {
		order = append(order, c.ID)
	}
	want := []model.ID{"renew-sediment", "renew-carbon", "renew-resin", "clean-impeller", "scrape-glass"}
	for i := range want {
		if order[i] != want[i] {
			t.Fatalf("the order is %v, want %v", order, want)
		}
	}
	seen := map[string]int{}
	for _, c := range p.chores() {
		for _, caution := range c.Cautions {
			seen[caution]++
		}
	}
	twice := ""
	for caution, n := range seen {
		if n > 1 {
			twice = caution
		}
	}
	if twice == "" {
		t.Fatal("no caution is shared, so this shows nothing")
	}
	n := 0
	for _, l := range p.lines(400) {
		n += strings.Count(l.text, twice)
	}
	if n != 1 {
		t.Errorf("%q stands %d times", twice, n)
	}
}

func TestEverySize(t *testing.T) {
	s := open(t, "clean-impeller", "renew-resin")
	s.Exact()
	for _, k := range []string{"<down>", "<down>", " ", "<end>", "d", "<esc>", "D", "<esc>", "p", "<esc>"} {
		s.Keys(k)
		s.Exact()
	}
}

func TestGolden(t *testing.T) {
	open(t, "renew-sediment", "renew-carbon", "renew-resin").Golden("merged")
}

package start

import (
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/checklist"
	"brine/wrasse/ui/round"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
)

// open plays the questions over the round of an empty book.
func open(t *testing.T) *uitest.Window {
	t.Helper()
	s := uitest.Open(t, new(ledger.Book), func(d *session.Session) ui.Screen {
		r := round.New(d, checklist.NewChecks())
		r.Begin = func() { d.Root.Push(New(d, model.BookDef{}, func() tea.Cmd { d.Root.Say("the demo"); return nil })) }
		return r
	}, 80, 24)
	s.Keys("<enter>")
	return s
}

func enters(n int) string { return strings.Repeat("<enter>", n) }

func TestABookInFewKeys(t *testing.T) {
	s := open(t)
	s.Sees("A new book", "name of the book", "volumes in", "RO/DI unit", "chores to begin with")
	s.Keys("Home reef" + enters(8))
	s.Sees("What do you know of it?", "RO/DI unit since", "water a week, in L")
	s.Keys(enters(11))
	s.Sees("Home reef is begun", "ticks off the row")
	s.Keys("<enter>")
	s.Sees("today", "RO/DI unit")
	b := s.Session.Book
	if b.Def().Name != "Home reef" || b.Def().Units.Volume != "L" || len(b.Chores()) < 30 {
		t.Fatalf("%+v with %d chores", b.Def(), len(b.Chores()))
	}
	if n := s.Session.Round.Counts; n.Late > 0 || n.PastLimit > 0 {
		t.Errorf("the first morning is a wall of red: %+v", n)
	}
	if s.Session.Round.Counts.Due == 0 {
		t.Error("nothing that endangers animals is asked for on the first day")
	}
	for _, c := range b.Chores() { // what nobody knows is no work done
		if done := b.Done(c.ID); len(done) > 0 {
			t.Errorf("%s was done: %+v", c.ID, done)
		}
	}
}

func TestAnswersAreTaken(t *testing.T) {
	s := open(t)
	s.Keys("Cellar<tab>g<tab>f<tab>p<tab>y<tab>n<tab>n<tab><enter>")
	s.Sees("water a week, in gal")
	s.Keys("about 20 sep 2025<tab>20<tab>3:1<tab>250<tab>150<tab>7,5<tab>n<tab><tab>a<enter>")
	s.Sees("When last done?")
	s.Keys("3d<tab>about 2 weeks<tab>never<up><up><up><enter>")
	b := s.Session.Book
	if c, _ := b.Component("membrane"); c.InService != model.NewDate(2025, 9, 20) {
		t.Errorf("the membrane is in use since %s", c.InService)
	}
	if never := b.Ticks("read-chlorine"); len(never) != 0 {
		t.Errorf("read-chlorine %+v", never)
	}
	if u := b.Def().Units; u != (model.Units{Volume: "gal", Temperature: "F", Pressure: "psi"}) {
		t.Errorf("units %+v", u)
	}
	c, _ := b.CounterByRole(model.RoleWaterMade)
	if got, want := c.DeclaredRate, 20*3.785411784/7; got < want-1e-9 || got > want+1e-9 {
		t.Errorf("declared rate %v, want %v", got, want)
	}
	for gauge, want := range map[model.ID]float64{"tds-tap": 250, "alkalinity-tap": 150, "ph-tap": 7.5} {
		if got := b.Samples(gauge, uitest.Today); len(got) != 1 || got[0].Value != want {
			t.Errorf("%s %v, want %v", gauge, got, want)
		}
	}
	if k := schedule.Make(b, uitest.Today).Of("renew-resin").Clocks[0]; !k.TapOnly || !k.HasPlanned() {
		t.Errorf("the resin is not reckoned by the tap: %+v", k)
	}
	if t1 := b.Ticks("read-taps"); len(t1) != 1 || t1[0].On != uitest.Today.AddDays(-3) || t1[0].About {
		t.Errorf("read-taps %+v", t1)
	}
	if t2 := b.Ticks("measure-flows"); len(t2) != 1 || t2[0].On != uitest.Today.AddDays(-14) || !t2[0].About {
		t.Errorf("measure-flows %+v", t2)
	}
	if _, ok := b.Component("vat"); ok {
		t.Error("a set that was not chosen is in the book")
	}
	sediment, _ := b.Chore("renew-sediment")
	for _, k := range sediment.Clocks {
		if k.FeedRatio != 0 && k.FeedRatio != 3 {
			t.Errorf("feed ratio %v", k.FeedRatio)
		}
	}
}

func TestWrongAnswersHoldBack(t *testing.T) {
	known := "A" + enters(8)
	cases := []struct{ keys, says string }{
		{enters(8), "a book has a name"},
		{known + "<tab><tab><tab>lots" + enters(8), "lots"},
		{known + "<tab><tab><tab><tab>50" + enters(7), "give parts of waste"},
		{known + "<tab><tab><tab><tab><tab>much" + enters(6), "give ppm"},
		{known + "<tab><tab><tab><tab><tab><tab><tab>11" + enters(4), "a pH of 6 to 9"},
		{known + "tomorrow" + enters(11), "after today"},
		{known + "soon" + enters(11), "not a date"},
	}
	for _, c := range cases {
		s := open(t)
		s.Keys(c.keys)
		s.Sees(c.says)
		if !s.Session.Book.Empty() {
			t.Errorf("%q: something was written", c.keys)
		}
	}
}

func TestNothingIsWrittenBeforeTheEnd(t *testing.T) {
	s := open(t)
	s.Keys("Home" + enters(8))
	s.Keys("<esc>")
	if !s.Session.Book.Empty() {
		t.Error("something was written")
	}
	s.Sees("wrasse keeps the upkeep")
	s.Keys("<enter>")
	s.Sees("A new book")
}

func TestTheDemoInstead(t *testing.T) {
	s := open(t)
	s.Keys("<up>d<enter>")
	s.Sees("the demo")
	s.Misses("A new book")
}

func TestNoSets(t *testing.T) {
	s := open(t)
	s.Keys("Bare<tab><tab><tab><tab>n<tab>n<tab>n<tab><enter>")
	s.Sees("Bare is begun")
	s.Keys("<enter>")
	s.Sees("No chores yet")
}

// Extras are ticked in a list of their own; chloramine, said or not known, halves what a carbon block is good for.
func TestExtrasAndChloramine(t *testing.T) {
	litres := func(amine, extras string) float64 {
		t.Helper()
		s := open(t)
		s.Keys("Reef" + enters(8) + strings.Repeat("<tab>", 8) + amine + "<tab>" + extras)
		b := s.Session.Book
		_, air := b.Chore("run-backup")
		_, floor := b.Chore("test-floor-alarm")
		_, uv := b.Component("uv")
		if ticked := strings.Contains(extras, "y"); air != ticked || floor || uv {
			t.Errorf("air %v, floor %v, uv %v", air, floor, uv)
		}
		c, _ := b.Chore("renew-carbon")
		for _, k := range c.Clocks {
			if k.Kind == model.ClockUsage {
				return k.Amount
			}
		}
		return 0
	}
	known, unknown := litres("n", "<tab><enter>"), litres("", "l<tab><enter>y<up><enter>")
	if unknown != known/2 || known == 0 {
		t.Errorf("%g L without chloramine, %g where nobody knows", known, unknown)
	}
}

package gear

import (
	"slices"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui/uitest"
)

func TestClockPreview(t *testing.T) {
	s := open(t, house(t))
	s.Keys("<down><right><down><enter>")
	s.Sees("Mixing pump: clean impeller", "clocks", "every 2 months")
	due := s.Line("Mixing pump: clean impeller")
	s.Keys("<down>e")
	s.Sees("how long", "this clock:", "the chore: due")
	s.Keys("<backspace><backspace><backspace>40d")
	s.Sees("this clock:", "40", "(now due")
	s.Keys("<backspace>x")
	s.Sees("looking ahead")
	s.Keys("<enter>")
	s.Sees("is not a length of time")
	s.Keys("<backspace>d<enter>")
	ch, _ := s.Session.Book.Chore("clean")
	if ch.Clocks[0].Every.String() != "40d" {
		t.Errorf("the clock is %+v", ch.Clocks[0])
	}
	if s.Line("Mixing pump: clean impeller") == due {
		t.Error("the chore's date has not moved")
	}
}

func TestAddClocks(t *testing.T) {
	s := open(t, house(t))
	s.Keys("<down><right><down><enter>au")
	s.Sees("usage clock", "[Batches]")
	s.Keys("<tab>20<enter>")
	s.Sees("lasts 20 batches of Batches")
	s.Keys("ar<tab>30<enter>")
	s.Sees("Vat temperature above 30 °C")
	s.Keys("al<tab><tab><tab>7<enter>")
	s.Sees("lasts 7 g taken up from Vat temperature")
	s.Keys("ac")
	s.Sees("at most 4 clocks")
	ch, _ := s.Session.Book.Chore("clean")
	if len(ch.Clocks) != 4 {
		t.Fatalf("there are %d clocks", len(ch.Clocks))
	}
	for range 3 {
		s.Keys("<home><down><down>x")
	}
	ch, _ = s.Session.Book.Chore("clean")
	if len(ch.Clocks) != 1 {
		t.Fatalf("there are %d clocks", len(ch.Clocks))
	}
	s.Keys("<home><down>x")
	s.Sees("clocks", "1 to 4 clocks")
	if ch, _ = s.Session.Book.Chore("clean"); len(ch.Clocks) != 1 {
		t.Error("the last clock was taken out")
	}
}

func TestDerivedGaugeOnAClock(t *testing.T) {
	s := open(t, house(t))
	s.Keys("<down><right><down><enter>ar<right>")
	s.Sees("[rejection]")
	s.Keys("<tab>95<tab>b<enter>")
	s.Sees("rejection below 95 %")
}

// to opens the definition of the heater's check.
func to(s *uitest.Window) { s.Keys("/check heater<enter><end><home><down><down><enter>") }

func TestStepsSparesCautionsHazards(t *testing.T) {
	s := open(t, house(t))
	to(s)
	s.Sees("1. unplug", "2. let it cool (wait 20 min)", "Pull the plug first.", "mains")
	s.Keys("<down><down><down><down>e")
	s.Sees("is step number")
	s.Keys("<tab><tab><backspace>1<enter>")
	chore := func() model.Chore { c, _ := s.Session.Book.Chore("check"); return c }
	if got := chore().Steps; got[0].Text != "look at the glass" || len(got) != 3 {
		t.Errorf("the steps are %+v", got)
	}
	s.Keys("asplug in<tab>5<enter>")
	if got := chore().Steps; len(got) != 4 || got[3] != (model.Step{Text: "plug in", TimerMinutes: 5}) {
		t.Errorf("the steps are %+v", got)
	}
	s.Keys("ap<tab><backspace>2<enter>")
	s.Sees("2 pc Impeller")
	s.Keys("awMind the glass.<enter>")
	s.Keys("ah, gravity<enter>")
	s.Sees(`"gravity" is not accepted`)
	s.Clear()
	s.Keys("mains glass<enter>")
	s.Sees("mains, glass")
	c := chore()
	if len(c.Cautions) != 2 || c.Cautions[1] != "Mind the glass." || len(c.Hazards) != 2 || len(c.Spares) != 1 || c.Spares[0].Quantity != 2 {
		t.Errorf("the chore is %+v", c)
	}
	s.Keys("zzzz")
	if c := chore(); len(c.Cautions) != 1 || len(c.Hazards) != 1 || len(c.Spares) != 0 || len(c.Steps) != 3 {
		t.Errorf("taken back, the chore is %+v", c)
	}
}

func TestBasics(t *testing.T) {
	s := open(t, house(t))
	to(s)
	s.Keys("e<tab><tab>0<tab><tab>y<tab><tab>30<tab>20<enter>")
	s.Sees("give more than when planned")
	s.Keys("0<enter>")
	c, _ := s.Session.Book.Chore("check")
	if c.Minutes != 50 || !c.Hidden || c.Cost == nil || c.Cost.Planned != 30 || c.Cost.Failure != 200 || c.Work != model.WorkTest || len(c.Steps) != 3 {
		t.Errorf("the chore is %+v", c)
	}
	s.Sees("its wear is", "hidden, costs 30 planned, 200 too late")
}

// Follow-ups are added, edited and taken out by keys, each chore once.
func TestFollowUps(t *testing.T) {
	s := open(t, house(t))
	to(s)
	then := func(want ...model.Call) {
		t.Helper()
		if c, _ := s.Session.Book.Chore("check"); !slices.Equal(c.Then, want) {
			t.Errorf("it calls for %+v, want %+v\n%s", c.Then, want, s.Screen())
		}
	}
	days := func(n int) model.Span { return model.Span{N: n, Unit: model.SpanDays} }
	s.Keys("af")
	s.Sees("Vat heater: check heater: follow-up", "[Mixing pump: clean impeller]", "1d")
	s.Keys("<tab><backspace><backspace>x<enter>")
	then()
	s.Clear()
	s.Keys("2d<enter>")
	then(model.Call{Chore: "clean", After: days(2)})
	s.Sees("calls for, once ticked", "Mixing pump: clean impeller, within 2 days")
	s.Keys("af<enter>")
	s.Sees("it calls for that one already")
	s.Keys("<right><enter>")
	then(model.Call{Chore: "clean", After: days(2)}, model.Call{Chore: "log", After: days(1)})
	s.Keys("<down><down><down>e<tab>")
	s.Clear()
	s.Keys("1w<enter>")
	week := model.Call{Chore: "log", After: model.Span{N: 1, Unit: model.SpanWeeks}}
	then(model.Call{Chore: "clean", After: days(2)}, week)
	s.Keys("<up>x")
	then(week)
	s.Keys("zz")
	then(model.Call{Chore: "clean", After: days(2)}, model.Call{Chore: "log", After: days(1)})
}

package station

import (
	"math"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// day is a day counted from 1 January 2024.
func day(n int) model.Date { return model.NewDate(2024, time.January, 1).AddDays(n) }

// log is a book being written.
type log struct {
	t       *testing.T
	entries []model.Entry
}

// station is a book of an RO/DI unit whose membrane was renewed on day 10.
func newLog(t *testing.T) *log {
	l := &log{t: t}
	l.add(0, model.BookDef{Name: "Reef", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}},
		model.Place{ID: "cellar", Name: "Cellar"},
		model.Component{ID: "membrane", Name: "Membrane", Place: "cellar", Reach: 1, Stage: model.StageMembrane},
		model.Component{ID: "resin", Name: "Resin", Place: "cellar", Reach: 1, Stage: model.StageResin},
		model.Component{ID: "meter", Name: "Refractometer", Place: "cellar", Reach: 1},
		model.Counter{ID: "water", Name: "Water", Unit: "L", Style: model.StyleAmount, Role: model.RoleWaterMade},
		model.Counter{ID: "batches", Name: "Batches", Unit: "batch", Style: model.StyleAmount, Role: model.RoleBatches})
	for _, g := range []struct{ id, unit string }{
		{model.RoleTDSTap, "ppm"}, {model.RoleTDSMembrane, "ppm"}, {model.RoleTDSProduct, "ppm"},
		{model.RolePressureLine, "bar"}, {model.RolePressureMembrane, "bar"}, {model.RoleTemperatureWater, "C"},
		{model.RoleFlowProduct, "L/h"}, {model.RoleFlowWaste, "L/h"},
	} {
		l.add(0, model.Gauge{ID: model.ID(g.id), Name: g.id, Unit: g.unit, Role: g.id})
	}
	l.chore("renew-membrane", "membrane", model.WorkRenew, model.Clock{Kind: model.ClockCalendar, Every: model.Span{N: 4, Unit: model.SpanYears}, Rule: model.RuleLasts})
	l.chore("renew-resin", "resin", model.WorkRenew, model.Clock{Kind: model.ClockReading, Gauge: model.RoleTDSProduct, Limit: 2, Bad: model.SideAbove})
	l.chore("check", "meter", model.WorkTest, model.Clock{Kind: model.ClockCalendar, Every: model.Span{N: 1, Unit: model.SpanMonths}, Rule: model.RuleEvery})
	l.add(10, model.Tick{Chore: "renew-membrane"})
	return l
}

func (l *log) chore(id, component model.ID, work model.Work, c model.Clock) {
	l.add(0, model.Chore{ID: id, Component: component, Name: string(id), Work: work, Minutes: 5, Consequence: 2, Clocks: []model.Clock{c}})
}

func (l *log) add(n int, bodies ...model.Body) {
	for _, b := range bodies {
		e := model.NewEntry(day(n), b)
		e.Seq = model.Seq(len(l.entries) + 1)
		l.entries = append(l.entries, e)
	}
}

func (l *log) read(n int, role string, v float64) {
	l.add(n, model.Reading{Gauge: model.ID(role), Value: v})
}

func (l *log) book() *ledger.Book {
	l.t.Helper()
	b, err := ledger.Fold(l.entries)
	if err != nil {
		l.t.Fatal(err)
	}
	return b
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// Baselines are medians of the first eight weeks of this membrane, not of the one
// before, nor of its first two days, nor of what was read too soon after standing.
func TestFirstWeeks(t *testing.T) {
	l := newLog(t)
	l.read(5, model.RoleTDSMembrane, 40)  // the old membrane
	l.read(11, model.RoleTDSMembrane, 30) // not settled yet
	for i, v := range []float64{5, 7, 6} {
		l.read(13+i*14, model.RoleTDSMembrane, v)
		l.read(13+i*14, model.RoleTDSTap, 250)
	}
	three := 3.0
	l.add(50, model.Reading{Gauge: model.RoleTDSMembrane, Value: 60, MinutesRunning: &three})
	l.read(80, model.RoleTDSMembrane, 9) // after the first weeks
	l.read(200, model.RoleTDSMembrane, 12)
	s := Of(l.book(), day(203))
	m := s.Readings.MembraneTDS
	if m == nil || m.Baseline == nil || m.Previous == nil {
		t.Fatalf("the membrane reads %+v", m)
	}
	near(t, "baseline", *m.Baseline, 6, 0)
	near(t, "before", *m.Previous, 9, 0)
	near(t, "value", m.Value, 12, 0)
	if m.AgeDays != 3 {
		t.Errorf("age %d d, want 3", m.AgeDays)
	}
	if s.FirstWeeks.From != day(13) || s.FirstWeeks.Through != day(69) {
		t.Errorf("first weeks %s to %s", s.FirstWeeks.From, s.FirstWeeks.Through)
	}
	if s.Readings.ProductTDS != nil || s.Readings.Limits.Product.Value != 2 || s.Readings.MeterPPM != 1 {
		t.Errorf("product %+v above %+v, meter in steps of %v", s.Readings.ProductTDS, s.Readings.Limits.Product, s.Readings.MeterPPM)
	}
}

// The first reading of all is its own first week: nothing to hold it against.
func TestNoBaselineYet(t *testing.T) {
	l := newLog(t)
	l.read(14, model.RoleTDSMembrane, 5)
	s := Of(l.book(), day(14))
	if r := s.Readings.MembraneTDS; r == nil || r.Baseline != nil || r.Previous != nil {
		t.Errorf("a first reading stands as %+v", r)
	}
	if s.Rejection.Known() || !strings.Contains(s.Rejection.Why, "not read yet: TDS at the tap") {
		t.Errorf("rejection %+v", s.Rejection)
	}
	if s.NormalFlow.Known() || !strings.Contains(s.NormalFlow.Why, "product flow") {
		t.Errorf("normalised flow %+v", s.NormalFlow)
	}
}

// A reading taken too soon is the latest one, says so, and is not the one before.
func TestTooSoonIsShown(t *testing.T) {
	l := newLog(t)
	two := 2.0
	l.read(20, model.RoleTDSMembrane, 6)
	l.add(21, model.Reading{Gauge: model.RoleTDSMembrane, Value: 40, MinutesRunning: &two})
	s := Of(l.book(), day(21))
	v := s.Of(model.RoleTDSMembrane)
	if v.Counts || v.Value != 40 || v.Before == nil || *v.Before != 6 || v.Ran == nil {
		t.Errorf("the latest reads %+v", v)
	}
	l.add(22, model.Reading{Gauge: model.RoleTDSMembrane, Value: 7})
	if v := Of(l.book(), day(22)).Of(model.RoleTDSMembrane); *v.Before != 6 {
		t.Errorf("a reading of the first minutes counts as the one before: %+v", v)
	}
}

// What comes later does not exist for an earlier day.
func TestAsOfADay(t *testing.T) {
	l := newLog(t)
	l.read(20, model.RoleTDSTap, 250)
	l.read(30, model.RoleTDSTap, 900)
	if v := Of(l.book(), day(25)).Of(model.RoleTDSTap); v.Value != 250 || v.Age != 5 {
		t.Errorf("on day 25 the tap reads %+v", v)
	}
}

func (l *log) set(n int, product, waste, bar, c, tap float64) {
	l.read(n, model.RoleFlowProduct, product)
	l.read(n, model.RoleFlowWaste, waste)
	l.read(n, model.RolePressureMembrane, bar)
	l.read(n, model.RoleTemperatureWater, c)
	l.read(n, model.RoleTDSTap, tap)
}

// The worked example of a reference in summer and a set in winter: 56 % less flow is a
// fifth less once cold and pressure are taken out (ASTM D4516 with form A; the drop
// along the element and the product's own osmotic pressure are left out here).
func TestNormalisedFlow(t *testing.T) {
	l := newLog(t)
	l.set(15, 11.8, 47.2, 4, 25, 250)
	first := Of(l.book(), day(15))
	if first.NormalFlow.Known() || first.NormalFlow.Why == "" || first.Readings.NormalisedFlow != nil {
		t.Errorf("the first set is held against itself: %+v", first.NormalFlow)
	}
	l.set(200, 5.2, 22, 3.6, 12, 280)
	s := Of(l.book(), day(210))
	near(t, "normalised flow", s.NormalFlow.Value, 79, 1.5)
	near(t, "waste ratio", s.WasteRatio.Value, 22/5.2, 1e-9)
	if s.NormalFlow.Age != 10 || s.NormalFlow.Why != "" {
		t.Errorf("normalised flow %+v", s.NormalFlow)
	}
	if d := s.Diagnosis; len(d.Causes) == 0 || d.Causes[0].ID != "D13" {
		t.Errorf("the first cause is %+v, want D13", d.Causes)
	}
	fill := s.Fill(l.book(), 52)
	near(t, "minutes to fill", fill.Minutes, 600, 1e-9)
	near(t, "through the prefilters", fill.FeedL, 52*(1+22/5.2), 1e-9)
}

// TestFeedIsCountedAsItsClockCountsIt has a clock that states a ratio, and another one measured: an amount comes to the
// litres that the clock counts.
func TestFeedIsCountedAsItsClockCountsIt(t *testing.T) {
	l := newLog(t)
	l.chore("renew-carbon", "membrane", model.WorkRenew,
		model.Clock{Kind: model.ClockUsage, Counter: "water", Amount: 9500, FeedRatio: 4, Rule: model.RuleEvery})
	l.read(200, model.RoleFlowProduct, 5)
	l.read(200, model.RoleFlowWaste, 24.5)
	fill := Of(l.book(), day(210)).Fill(l.book(), 100)
	near(t, "through the prefilters", fill.FeedL, 500, 1e-9)
	near(t, "measured", fill.Measured.Value, 4.9, 1e-9)
}

func TestMeterStep(t *testing.T) {
	l := newLog(t)
	l.read(20, model.RoleTDSMembrane, 6)
	l.read(21, model.RoleTDSMembrane, 6.3)
	near(t, "step", Of(l.book(), day(30)).Readings.MeterPPM, 0.1, 1e-12)
	l.read(22, model.RoleTDSProduct, 0.25)
	near(t, "step", Of(l.book(), day(30)).Readings.MeterPPM, 0.01, 1e-12)
}

func TestRefusedReadings(t *testing.T) {
	l := newLog(t)
	l.read(20, model.RoleTemperatureWater, 80)
	s := Of(l.book(), day(20))
	if s.Refused == nil || !strings.Contains(s.Refused.Error(), "water temperature") {
		t.Errorf("80 °C in the feed: %v", s.Refused)
	}
}

func TestTwoScales(t *testing.T) {
	l := newLog(t)
	l.add(1, model.Gauge{ID: "tds-tap", Name: "Tap", Unit: "ppm", Role: model.RoleTDSTap, Scale: "0.7"},
		model.Gauge{ID: "tds-membrane", Name: "Membrane", Unit: "ppm", Role: model.RoleTDSMembrane, Scale: "0.5"})
	if c := Of(l.book(), day(2)).Cautions; len(c) != 1 || !strings.Contains(c[0], "0.7 on Tap; 0.5 on Membrane") {
		t.Errorf("two scales: %v", c)
	}
}

func TestBedsStoodAndChecked(t *testing.T) {
	l := newLog(t)
	amount := func(n int, v float64) { l.add(n, model.Usage{Counter: "water", Amount: &v}) }
	l.add(20, model.Tick{Chore: "renew-resin"})
	amount(25, 400)
	l.add(60, model.Tick{Chore: "renew-resin"})
	amount(70, 300)
	amount(71, 350)
	l.add(90, model.Tick{Chore: "renew-resin"}, model.Tick{Chore: "check", Found: model.FoundPassed})
	b := l.book()
	if got := BedLitres(b, day(95)); len(got) != 2 || got[0] != 400 || got[1] != 650 {
		t.Errorf("the beds made %v", got)
	}
	if n, ok := Stood(b, day(75)); !ok || n != 4 {
		t.Errorf("it has stood %d d, %v", n, ok)
	}
	if got := Checked(b, day(95)); got != day(90) {
		t.Errorf("the refractometer was checked on %s", got)
	}
	gauges := []model.Gauge{{Role: model.RoleTDSMembrane}}
	if say := LetRun(b, gauges, day(75)); !strings.Contains(say, "stood 4 d") {
		t.Errorf("LetRun: %q", say)
	}
	if say := LetRun(b, []model.Gauge{{Role: model.RoleTDSTap}}, day(75)); say != "" {
		t.Errorf("LetRun of the tap: %q", say)
	}
}

// The ticks that a new book guesses of what was done before it are nobody's check of an instrument.
func TestAGuessedTickIsNoCheck(t *testing.T) {
	l := newLog(t)
	l.add(20, model.Tick{Chore: "check", About: true})
	if got := Checked(l.book(), day(95)); !got.IsZero() {
		t.Errorf("a guess of what was done before counts as a check on %s", got)
	}
	l.add(30, model.Tick{Chore: "check", Found: model.FoundPassed})
	l.add(60, model.Tick{Chore: "check", About: true})
	if got := Checked(l.book(), day(95)); got != day(30) {
		t.Errorf("checked on %s, want %s", got, day(30))
	}
}

package schedule

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// sameRound compares what two rounds say, leaving out what they keep to answer further questions.
func sameRound(t interface {
	Helper()
	Errorf(string, ...any)
}, a, b *Round) {
	t.Helper()
	strip := func(r *Round) Round {
		c := *r
		c.sight = nil
		c.Standings = slices.Clone(r.Standings)
		for i := range c.Standings {
			c.Standings[i].Clocks = slices.Clone(c.Standings[i].Clocks)
			for k := range c.Standings[i].Clocks {
				c.Standings[i].Clocks[k].clock = nil
			}
		}
		return c
	}
	if x, y := strip(a), strip(b); !reflect.DeepEqual(x, y) {
		t.Errorf("two rounds differ:\n%+v\n%+v", x, y)
	}
}

// drawLog is a log that a book can hold, after its first entries: any clocks, any events in any order of dates, with
// amends.
func drawLog(t *rapid.T, entries []model.Entry) []model.Entry {
	add := func(e model.Entry) {
		e.Seq = model.Seq(len(entries) + 1)
		entries = append(entries, e)
	}
	span := rapid.SampledFrom([]string{"1d", "9d", "3w", "1mo", "6mo", "1y", "36500d"})
	amount := rapid.SampledFrom([]float64{1e-6, 0.5, 1, 7, 100, 12345, 1e9})
	rule := rapid.SampledFrom([]model.Rule{model.RuleEvery, model.RuleLasts})
	counter := rapid.SampledFrom([]model.ID{"water", "declared", "hours"})
	gauges := []model.ID{"tap", "mem", "prod", "temp", "line", "feed", "flow", "waste"}
	gauge := rapid.SampledFrom(gauges)
	watched := rapid.SampledFrom(append([]model.ID{model.Rejection, model.NormalisedFlow, model.PrefilterDrop, model.WasteRatio}, gauges...))
	for _, id := range []model.ID{"a", "b", "c"} {
		c := model.Chore{ID: id, Component: "part", Name: "X", Minutes: rapid.IntRange(0, 90).Draw(t, "minutes"),
			Work:        rapid.SampledFrom([]model.Work{model.WorkClean, model.WorkRenew, model.WorkTest, model.WorkRead}).Draw(t, "work"),
			Consequence: rapid.IntRange(1, 3).Draw(t, "consequence"), Hidden: rapid.Bool().Draw(t, "hidden"), Fixed: rapid.Bool().Draw(t, "fixed")}
		if rapid.Bool().Draw(t, "cost") {
			c.Cost = &model.Cost{Planned: 1, Failure: rapid.SampledFrom([]float64{1.0001, 3, 1000}).Draw(t, "failure")}
		}
		for range rapid.IntRange(1, 4).Draw(t, "clocks") {
			clock := model.Clock{Rule: rule.Draw(t, "rule")}
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				clock.Kind, clock.Every = model.ClockCalendar, mustSpan(span.Draw(t, "span"))
			case 1:
				clock.Kind, clock.Counter, clock.Amount = model.ClockUsage, counter.Draw(t, "counter"), amount.Draw(t, "amount")
				clock.FeedRatio = rapid.SampledFrom([]float64{0, 3}).Draw(t, "feed")
			case 2:
				clock.Kind, clock.Counter, clock.Amount = model.ClockLoad, counter.Draw(t, "counter"), amount.Draw(t, "amount")
				clock.Inlet, clock.Outlet = gauge.Draw(t, "inlet"), rapid.SampledFrom([]model.ID{"", "prod"}).Draw(t, "outlet")
			default:
				clock = model.Clock{Kind: model.ClockReading, Gauge: watched.Draw(t, "gauge"),
					Limit: rapid.SampledFrom([]float64{-1, 0, 1, 50, 92}).Draw(t, "limit"),
					Bad:   rapid.SampledFrom([]model.Side{model.SideAbove, model.SideBelow}).Draw(t, "bad")}
			}
			c.Clocks = append(c.Clocks, clock)
		}
		add(model.NewEntry(0, c))
	}
	first := model.NewDate(2024, 12, 1)
	meter := 0.0
	chore := rapid.SampledFrom([]model.ID{"a", "b", "c"})
	for range rapid.IntRange(0, 60).Draw(t, "events") {
		on := first.AddDays(rapid.IntRange(0, 500).Draw(t, "day"))
		value := rapid.SampledFrom([]float64{0, 0.5, 1, 1, 2, 7, 30, 91, 250, -3, 1e9}).Draw(t, "value")
		switch rapid.IntRange(0, 9).Draw(t, "event") {
		case 0, 1, 2:
			id := chore.Draw(t, "chore")
			tick := model.Tick{Chore: id, About: rapid.IntRange(0, 5).Draw(t, "about") == 0}
			i := slices.IndexFunc(entries, func(e model.Entry) bool { c, ok := e.Body.(model.Chore); return ok && c.ID == id })
			if words := ledger.FoundWords(entries[i].Body.(model.Chore).Work); words != nil {
				tick.Found = rapid.SampledFrom(append(words, "")).Draw(t, "found")
			}
			if rapid.Bool().Draw(t, "stamped") {
				tick.Planned = on.AddDays(rapid.IntRange(-90, 30).Draw(t, "late"))
			}
			add(model.NewEntry(on, tick))
		case 3, 4:
			q := max(0, value)
			add(model.NewEntry(on, model.Usage{Counter: rapid.SampledFrom([]model.ID{"water", "declared"}).Draw(t, "counter"), Amount: &q}))
		case 5, 6:
			r := model.Reading{Gauge: gauge.Draw(t, "gauge"), Value: value}
			if rapid.IntRange(0, 4).Draw(t, "creep") == 0 {
				r.MinutesRunning = &[]float64{3}[0]
			}
			add(model.NewEntry(on, r))
		case 7:
			meter = min(model.MaxAmount, meter+max(0, value))
			m := meter
			add(model.NewEntry(first.AddDays(600+len(entries)), model.Usage{Counter: "hours", Meter: &m}))
		case 8:
			add(model.NewEntry(on, model.PutOff{Chore: chore.Draw(t, "chore"), Until: on + 20}))
			add(model.NewEntry(on, model.Away{Until: on + 9}))
			add(model.NewEntry(on, model.Fault{Component: "part"}))
		default:
			grade := rapid.IntRange(1, 5).Draw(t, "grade")
			add(model.NewEntry(on, model.Flag{Component: "part", State: model.FlagRebuilt, Reach: grade}))
			add(model.NewEntry(on, model.Component{ID: "part", Name: "Part", Place: "cellar", Reach: grade, AccessMinutes: 4, Stage: model.StageMembrane}))
		}
	}
	if n := len(entries); n > 0 && rapid.Bool().Draw(t, "strike") {
		if target := model.Seq(rapid.IntRange(1, n).Draw(t, "struck")); entries[target-1].Kind == model.KindReading || entries[target-1].Kind == model.KindTick {
			add(model.NewEntry(first, model.Amend{Entry: target, Strike: true}))
		}
	}
	return entries
}

func TestAnyBookHasARound(t *testing.T) {
	base := DecodeLines(t, station)
	rapid.Check(t, func(t *rapid.T) {
		b := Fold(t, drawLog(t, slices.Clone(base)))
		on := model.NewDate(2024, 11, 20).AddDays(rapid.IntRange(0, 900).Draw(t, "on"))
		r := Make(b, on)
		sameRound(t, r, Make(b, on))
		for i := range r.Standings {
			checkStanding(t, r, &r.Standings[i])
			if i > 0 && stateOrder[r.Standings[i-1].State] > stateOrder[r.Standings[i].State] {
				t.Errorf("%v stands before %v", r.Standings[i-1].State, r.Standings[i].State)
			}
		}
		box := r.TimeBox(rapid.IntRange(0, 200).Draw(t, "box"))
		if box.Used > box.Minutes {
			t.Errorf("a box of %d minutes takes %d", box.Minutes, box.Used)
		}
		r.WhileThere(r.Today())
		r.Shelf()
		r.Year(0)
		r.Rethink()
		for _, c := range b.Chores() {
			PlannedAt(b, c.ID, on)
		}
	})
}

// checkStanding holds what is true of every chore of any book.
func checkStanding(t *rapid.T, r *Round, s *Standing) {
	for _, c := range s.Clocks {
		if !c.Planned.IsZero() && !c.Limit.IsZero() && c.Planned > c.Limit {
			t.Errorf("%s: planned %v after limit %v", c.Kind, c.Planned, c.Limit)
		}
		if c.Planned.IsZero() && (c.Reason == ReasonNone || !c.Limit.IsZero()) {
			t.Errorf("%s: no planned date, reason %q, limit %v", c.Kind, c.Reason, c.Limit)
		}
		if c.Kind != model.ClockReading && c.Reason != ReasonNoInlet && !(c.Shape > 0 && c.Median > 0 && c.Plan.Age > 0 && c.Plan.Age <= c.Median*(1+1e-9)) {
			t.Errorf("%s: shape %v, median %v, plan %v", c.Kind, c.Shape, c.Median, c.Plan.Age)
		}
		if c.Clock.Rule == model.RuleEvery && c.Kind != model.ClockReading && c.Plan.Age > c.Life {
			t.Errorf("a rule of %v plans %v", c.Life, c.Plan.Age)
		}
	}
	if (s.State == StateIdle) == s.HasDue || s.HasDue != !s.Planned.IsZero() || s.HasDue != (s.Governs >= 0) {
		t.Errorf("%v, due %v, planned %v, governs %d", s.State, s.Due, s.Planned, s.Governs)
	}
	if !(s.Chance >= 0 && s.Chance <= 1) || s.LeadDays < 0 {
		t.Errorf("chance %v, lead %d", s.Chance, s.LeadDays)
	}
	if g := s.Governing(); g != nil && !g.Crossed && s.Due <= s.Start {
		t.Errorf("due %v, not after the start %v", s.Due, s.Start)
	}
	if g := s.Governing(); g != nil && !g.Crossed && s.Due > max(s.Planned, s.Start+1) {
		t.Errorf("due %v after planned %v", s.Due, s.Planned)
	}
	if s.DaysLate != 0 && !s.HasDue {
		t.Errorf("%d days late without a due date", s.DaysLate)
	}
}

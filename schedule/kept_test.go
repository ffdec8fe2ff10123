package schedule

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// What holds whatever the log: each property is tried on random logs, on more of them with -rapid.checks 2000.

// keptLog adds to a log that of one chore, "job", in order of time: spells of logging and of silence, ticks, readings,
// absences and new parts. The chore's component has grade reach from the first entry on.
func keptLog(t *rapid.T, entries []model.Entry) []model.Entry {
	add := func(e model.Entry) {
		e.Seq = model.Seq(len(entries) + 1)
		entries = append(entries, e)
	}
	if care := rapid.SampledFrom([]model.Care{"", model.CareCareful, model.CareEasy}).Draw(t, "care"); care != "" {
		add(model.NewEntry(0, model.BookDef{Name: "Test", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}, Care: care}))
	}
	add(model.NewEntry(0, keptPart(rapid.IntRange(1, 5).Draw(t, "reach"), model.NewDate(2025, 1, 1))))
	c := model.Chore{
		ID: "job", Component: "part", Name: "Job", Minutes: rapid.SampledFrom([]int{0, 5, 20, 60, 240}).Draw(t, "minutes"),
		Work:        rapid.SampledFrom([]model.Work{model.WorkClean, model.WorkRenew}).Draw(t, "work"),
		Consequence: rapid.IntRange(1, 3).Draw(t, "consequence"),
	}
	if rapid.IntRange(0, 4).Draw(t, "cost") == 0 {
		c.Cost = &model.Cost{Planned: 1, Failure: rapid.SampledFrom([]float64{1.5, 10, 1000}).Draw(t, "failure")}
	}
	for range rapid.IntRange(1, 3).Draw(t, "clocks") {
		clock := model.Clock{Rule: rapid.SampledFrom([]model.Rule{model.RuleEvery, model.RuleLasts}).Draw(t, "rule")}
		counter := rapid.SampledFrom([]model.ID{"water", "declared", "hours"}).Draw(t, "counter")
		amount := rapid.SampledFrom([]float64{20, 100, 700, 3000}).Draw(t, "amount")
		switch rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0, 1:
			clock.Kind, clock.Every = model.ClockCalendar, mustSpan(rapid.SampledFrom([]string{"5d", "30d", "3mo", "1y"}).Draw(t, "span"))
		case 2, 3:
			clock.Kind, clock.Counter, clock.Amount = model.ClockUsage, counter, amount
			clock.FeedRatio = rapid.SampledFrom([]float64{0, 4}).Draw(t, "feed")
		case 4:
			clock.Kind, clock.Counter, clock.Amount, clock.Inlet = model.ClockLoad, counter, amount/200, "mem"
		default:
			clock = above1("prod")
		}
		c.Clocks = append(c.Clocks, clock)
	}
	add(model.NewEntry(0, c))
	on, meter := model.NewDate(2025, 1, 1), 0.0
	for range rapid.IntRange(0, 50).Draw(t, "events") {
		on = on.AddDays(rapid.SampledFrom([]int{0, 0, 1, 1, 2, 3, 7, 7, 7, 7, 20, 45, 120}).Draw(t, "days"))
		value := rapid.SampledFrom([]float64{0, 1, 5, 10, 40, 40, 70, 300}).Draw(t, "value")
		switch rapid.IntRange(0, 12).Draw(t, "event") {
		case 0, 1, 2, 3:
			add(model.NewEntry(on, model.Usage{Counter: "water", Amount: &value}))
		case 4, 5:
			add(model.NewEntry(on, model.Usage{Counter: "declared", Amount: &value}))
		case 6:
			meter += value
			m := meter
			add(model.NewEntry(on, model.Usage{Counter: "hours", Meter: &m}))
		case 7, 8:
			add(model.NewEntry(on, model.Tick{Chore: "job", About: rapid.IntRange(0, 7).Draw(t, "about") == 0,
				Planned: rapid.SampledFrom([]model.Date{0, on, on - 3, on - 20}).Draw(t, "planned"),
				Found:   rapid.SampledFrom(append(keptWords, "")).Draw(t, "found")}))
		case 9:
			add(model.NewEntry(on, model.Reading{Gauge: "mem", Value: rapid.SampledFrom([]float64{2, 5, 9}).Draw(t, "ppm")}))
		case 10:
			add(model.NewEntry(on, model.Reading{Gauge: "prod", Value: rapid.SampledFrom([]float64{0, 0, 0, 1, 2}).Draw(t, "ppm")}))
		case 11:
			add(model.NewEntry(on, model.Away{Until: on.AddDays(rapid.IntRange(1, 40).Draw(t, "away"))}))
		default:
			if rapid.IntRange(0, 3).Draw(t, "new part") == 0 {
				add(model.NewEntry(on, keptPart(rapid.IntRange(1, 5).Draw(t, "reach"), on)))
			}
		}
	}
	return entries
}

// keptWords are the words for what was found, the better first.
var keptWords = []model.Found{model.FoundClean, model.FoundLight, model.FoundHeavy, model.FoundFailed}

func keptPart(reach int, inService model.Date) model.Component {
	return model.Component{ID: "part", Name: "Part", Place: "cellar", Reach: reach, AccessMinutes: 10, InService: inService}
}

// always tries a property on random logs.
func always(t *testing.T, holds func(t *rapid.T, log []model.Entry)) {
	t.Helper()
	base := DecodeLines(t, station)
	rapid.Check(t, func(t *rapid.T) { holds(t, keptLog(t, slices.Clone(base))) })
}

// lastDay is the date of the last event of a log.
func lastDay(entries []model.Entry) model.Date {
	last := model.NewDate(2025, 1, 1)
	for _, e := range entries {
		last = max(last, e.On)
	}
	return last
}

func keptJob(t *rapid.T, entries []model.Entry, on model.Date) *Standing {
	b := Fold(t, entries)
	s := Make(b, on).Of("job")
	if s == nil {
		t.Skip("not in the round")
	}
	return s
}

// and is a log with one more entry.
func and(entries []model.Entry, on model.Date, body model.Body) []model.Entry {
	e := model.NewEntry(on, body)
	e.Seq = model.Seq(len(entries) + 1)
	return append(slices.Clip(entries), e)
}

// neverLater fails where a due date is later than another, no date being later than any.
func neverLater(t *rapid.T, what string, got, than *Standing) {
	t.Helper()
	if than.HasDue && (!got.HasDue || got.Due > than.Due) {
		t.Errorf("%s: due %v, %s; otherwise %v, %s", what, got.Due, said(got), than.Due, said(than))
	}
}

func said(s *Standing) string {
	out := fmt.Sprintf("%s since %v", s.State, s.Start)
	for _, c := range s.Clocks {
		out += fmt.Sprintf(" [%s planned %v due %v used %.9g plan %+v rate %.9g %s]", c.Kind, c.Planned, c.Due, c.Used, c.Plan, c.Rate, c.Reason)
	}
	return out
}

func TestADateStandsAsDaysPass(t *testing.T) {
	always(t, func(t *rapid.T, log []model.Entry) {
		on := lastDay(log)
		now := keptJob(t, log, on)
		then := keptJob(t, log, on.AddDays(rapid.SampledFrom([]int{1, 7, 40, 400, 4000}).Draw(t, "later")))
		if now.Planned != then.Planned || now.Due != then.Due || now.Limit != then.Limit {
			t.Errorf("on %v: %v, %v, %v, %s; later %v, %v, %v, %s", on, now.Planned, now.Due, now.Limit, said(now), then.Planned, then.Due, then.Limit, said(then))
		}
	})
}

func TestHarderReachIsNeverLater(t *testing.T) {
	always(t, func(t *rapid.T, log []model.Entry) {
		on := lastDay(log)
		inService := model.NewDate(2025, 1, 1)
		for _, e := range log {
			if c, ok := e.Body.(model.Component); ok {
				inService = max(inService, c.InService)
			}
		}
		var before *Standing
		for reach := 1; reach <= 5; reach++ {
			s := keptJob(t, and(log, on, keptPart(reach, inService)), on)
			if before != nil {
				neverLater(t, fmt.Sprint("grade ", reach), s, before)
			}
			before = s
		}
	})
}

func TestAWorseWordIsNeverLater(t *testing.T) {
	always(t, func(t *rapid.T, log []model.Entry) {
		on := lastDay(log).AddDays(rapid.SampledFrom([]int{0, 1, 3, 10, 60, 200}).Draw(t, "days"))
		var before *Standing
		for _, word := range keptWords {
			s := keptJob(t, and(log, on, model.Tick{Chore: "job", Found: word}), on)
			if before != nil {
				neverLater(t, string(word), s, before)
				if !before.Planned.IsZero() && (s.Planned.IsZero() || s.Planned > before.Planned) {
					t.Errorf("%s: planned %v, otherwise %v", word, s.Planned, before.Planned)
				}
			}
			before = s
		}
	})
}

func TestAfterATickNothingIsDueAtOnce(t *testing.T) {
	always(t, func(t *rapid.T, log []model.Entry) {
		on := lastDay(log)
		s := keptJob(t, and(log, on, model.Tick{Chore: "job", Found: rapid.SampledFrom(keptWords).Draw(t, "found")}), on)
		if s.HasDue && s.Due <= on {
			t.Errorf("ticked on %v and due %v, %s", on, s.Due, said(s))
		}
	})
}

// TestMoreUseIsNeverLater adds amounts behind the rest of a log. Not held: a load, whose water may get cleaner, a cycle
// whose chance hangs on the present rate, and a 0 beside another amount of its date, which says that a silence was none.
func TestMoreUseIsNeverLater(t *testing.T) {
	always(t, func(t *rapid.T, log []model.Entry) {
		counter := rapid.SampledFrom([]model.ID{"water", "declared"}).Draw(t, "counter")
		b := Fold(t, log)
		job, _ := b.Chore("job")
		for i := range job.Clocks {
			if job.Clocks[i].Kind == model.ClockLoad {
				t.Skip("a load")
			}
		}
		last := lastDay(log)
		on := last.AddDays(rapid.SampledFrom([]int{0, 1, 7, 30, 100, 300}).Draw(t, "days"))
		if paceHangsOnNow(b, &job, on) {
			t.Skip("its chance hangs on the present rate")
		}
		none := keptJob(t, log, on)
		r := look(b, on, b.Chores()).record(counter)
		n := len(r.entries)
		perDay := r.seen(n, none.Start)
		since := r.last(n, none.Start)
		if n > 0 {
			since = r.entries[n-1].On
		}
		least := float64(perDay.perDay * float64(on.Sub(since)))
		before := none
		for i, more := range []float64{0, 1, 40, 500} {
			s := keptJob(t, and(log, on, model.Usage{Counter: counter, Amount: number(least + more)}), on)
			if before.Due > on || !before.HasDue {
				denied := i == 0 && least == 0 && n > 0 && since == on // says that nothing was used after all
				if i > 0 || perDay.ok && !denied {
					neverLater(t, fmt.Sprint(counter, " ", least+more, " on ", on), s, before)
				}
			}
			before = s
		}
	})
}

// paceHangsOnNow tells whether the rate at the start of the present cycle is not known for one of the clocks.
func paceHangsOnNow(b *ledger.Book, c *model.Chore, on model.Date) bool {
	v := look(b, on, b.Chores())
	if !v.history[c.ID].begun() {
		return false
	}
	for _, def := range c.Clocks {
		if counted, ok := kinds[def.Kind].open(v, def, v.history[c.ID].present()).(*countedClock); ok {
			if then := counted.record.seen(counted.record.before(counted.start.Mark), counted.start.On); !then.positive() {
				return true
			}
		}
	}
	return false
}

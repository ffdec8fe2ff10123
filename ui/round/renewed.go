package round

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/ui/phrase"
)

// renewal says how often something was renewed and how much water each carried. Only
// cycles that lie whole in the log tell that; where none does, it says what was
// counted of the last.
func renewal(b *ledger.Book, c model.Chore, n int, after, end model.Mark) string {
	comp, _ := b.Component(c.Component)
	s := fmt.Sprintf("%s, %s", comp.Name, times(n))
	water, ok := b.CounterByRole(model.RoleWaterMade)
	if !ok || comp.Stage == "" {
		return s
	}
	opened, ok := firstCounted(b, water.ID)
	ended := cyclesOf(b, c.ID, after, end)
	if !ok || len(ended) == 0 {
		return s
	}
	whole := wholeOf(ended, opened)
	if len(whole) == 0 {
		last := ended[len(ended)-1]
		since := last.start.Mark
		if since.Before(opened) {
			since = model.Mark{On: opened.On, Seq: opened.Seq - 1} // with the first amount
		}
		if sum := b.Tally(water.ID).Between(since, last.end); sum > 0 {
			s += "; " + phrase.Amount(b, sum, water.Unit) + " counted since " + phrase.Day(since.On, end.On-1)
		}
		return s
	}
	sum := between(b.Tally(water.ID), whole)
	if sum == 0 {
		return s
	}
	switch k := len(whole); {
	case n == 1:
		s += ", after "
	case k == 1:
		s += "; once counted from start to end, after "
	case k < n:
		s += fmt.Sprintf("; %d of them counted from start to end, each after ", k)
	default:
		s += ", each after "
	}
	s += phrase.Amount(b, sum/float64(len(whole)), water.Unit) + " of water made"
	if load, unit, of := carried(b, c, ended); load > 0 {
		s += " and " + phrase.Amount(b, load/float64(of), unit) + " taken up"
	}
	return s
}

// times is how often something was done.
func times(n int) string {
	if n == 1 {
		return "once"
	}
	return phrase.Count(n, "time")
}

// cycle is one that a tick ended.
type cycle struct {
	start ledger.Start
	end   model.Mark
}

// cyclesOf are the cycles of a chore that ticks, none of them a guess, ended after one
// place and before another.
func cyclesOf(b *ledger.Book, chore model.ID, after, end model.Mark) []cycle {
	var out []cycle
	var before ledger.Start
	for _, s := range b.Starts(chore, end.On-1) {
		if before.On != 0 && s.Tick != nil && !s.Tick.About && after.Before(s.Mark) {
			out = append(out, cycle{before, s.Mark})
		}
		before = s
	}
	return out
}

// wholeOf are the cycles that began on a known day, and not before the first amount of
// a counter.
func wholeOf(cycles []cycle, opened model.Mark) []cycle {
	var out []cycle
	for _, c := range cycles {
		if !c.start.About() && !c.start.Before(opened) {
			out = append(out, c)
		}
	}
	return out
}

// firstCounted is the place of a counter's first amount; ok is false while there is none.
func firstCounted(b *ledger.Book, counter model.ID) (m model.Mark, ok bool) {
	for _, a := range b.Amounts(counter) {
		return model.Mark{On: a.On, Seq: a.Seq}, true
	}
	return m, false
}

// between is what was counted in cycles.
func between(t *ledger.Tally, in []cycle) float64 {
	sum := 0.0
	for _, c := range in {
		sum += t.Between(c.start.Mark, c.end)
	}
	return sum
}

// carried is what the cycles of a chore with a load clock took up in all, in the clock's unit,
// and how many of them tell; 0 for any other chore.
func carried(b *ledger.Book, c model.Chore, ended []cycle) (load float64, unit string, of int) {
	for _, k := range c.Clocks {
		if k.Kind != model.ClockLoad {
			continue
		}
		opened, ok := firstCounted(b, k.Counter)
		whole := wholeOf(ended, opened)
		if !ok || len(whole) == 0 {
			break
		}
		last := whole[len(whole)-1].end.On
		brought, ok := station.LoadBefore(b, k, model.EndOf(last))
		if !ok {
			break
		}
		litres := b.Tally(k.Counter)
		return between(litres.Carrying(brought.PerLitre, last), whole) * (1 + k.FeedRatio), k.LoadUnit(), len(whole)
	}
	return 0, "", 0
}

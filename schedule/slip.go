package schedule

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/schedule/trend"
)

// What is believed of slip before the ticks say anything: jobs of grade 1 don't slip, those of grade 5 by 15 % of
// their interval, each as surely as 4 ticks would tell. Our own choice.
const (
	grades     = 5
	priorTicks = 4
	maxSlip    = 0.5 // of the interval; a tick later than that says no more
)

var priorSlip = [grades]float64{0, 0.02, 0.05, 0.10, 0.15}

// slips is how far jobs of each reach grade slip past their planned dates.
type slips struct {
	fit   [grades]float64
	ticks [grades]int
	of    map[model.ID][]slip // by component
}

// slip is how late one tick came, as a fraction of its planned interval, 0 to 0.5.
type slip struct {
	on    model.Date
	seq   model.Seq
	value float64
}

// grade is the fit and the number of ticks of a reach grade, 1 to 5.
func (s *slips) grade(reach int) (fit float64, ticks int) {
	if reach < 1 || reach > grades {
		return 0, 0
	}
	return s.fit[reach-1], s.ticks[reach-1]
}

// learnSlips learns from the ticks of all chores, those of retired ones too.
func learnSlips(v *sight, chores []model.Chore) *slips {
	away := newAbsence(v.book.Aways(), v.on)
	out := &slips{of: map[model.ID][]slip{}}
	var sums [grades]float64
	for i := range chores {
		starts := v.history[chores[i].ID].starts
		for k := 1; k < len(starts); k++ {
			value, ok := slipOf(starts[k-1], starts[k], away)
			if !ok {
				continue
			}
			t := starts[k].Tick
			out.of[chores[i].Component] = append(out.of[chores[i].Component], slip{t.On, t.Seq, value})
			sums[t.Reach-1] += value
			out.ticks[t.Reach-1]++
		}
	}
	points := make([]trend.Weighted, grades)
	for g := range points {
		weight := float64(priorTicks + out.ticks[g])
		shrunk := (float64(priorTicks*priorSlip[g]) + sums[g]) / weight
		points[g] = trend.Weighted{Level: float64(g + 1), Value: shrunk, Weight: weight}
	}
	copy(out.fit[:], trend.Isotonic(points))
	return out
}

// slipOf is how late a tick came. A tick teaches nothing without a planned date, when it or the start of its cycle is
// a guess, or when its planned date is not after that start.
func slipOf(start, end model.Start, away absence) (float64, bool) {
	t := end.Tick
	if t == nil || t.Planned.IsZero() || t.About || start.About() || t.Planned <= start.On {
		return 0, false
	}
	late := t.On.Sub(t.Planned) - away.days(t.Planned, t.On)
	return min(maxSlip, max(0, float64(late)/float64(t.Planned.Sub(start.On)))), true
}

// absence is the dates on which nobody was there, as spans that don't touch, in order.
type absence []span

// span is the dates from one up to, and without, another.
type span struct{ from, to model.Date }

func newAbsence(aways []model.Logged[model.Away], on model.Date) absence {
	var out absence
	for _, a := range aways {
		if a.On > on {
			break
		}
		if n := len(out); n > 0 && a.On <= out[n-1].to {
			out[n-1].to = max(out[n-1].to, a.What.Until)
			continue
		}
		out = append(out, span{a.On, a.What.Until})
	}
	return out
}

// days counts the dates of absence after one date and up to another.
func (a absence) days(after, upTo model.Date) int {
	i, _ := slices.BinarySearchFunc(a, after, func(s span, d model.Date) int {
		if s.to <= d {
			return -1
		}
		return 1
	})
	n := 0
	for ; i < len(a) && a[i].from <= upTo; i++ {
		n += max(0, min(a[i].to, upTo+1).Sub(max(a[i].from, after+1)))
	}
	return n
}

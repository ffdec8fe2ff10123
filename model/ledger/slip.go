package ledger

import (
	"slices"

	"brine/wrasse/model"
)

// MaxSlip is the largest slip of a tick, as a fraction of its planned interval: one that came later says no more.
const MaxSlip = 0.5

// Grades is the number of reach grades, 1 to 5.
const Grades = 5

// Slip is how late one tick came, as a fraction of its planned interval, 0 to 0.5.
type Slip struct {
	model.Mark
	Reach int // the component's grade when the tick was made
	Value float64
}

// Absence is the dates on which nobody was there, as spans that don't touch, in order of time.
type Absence []absentSpan

// absentSpan is the dates from one up to, and without, another.
type absentSpan struct{ from, to model.Date }

// Absence is the dates on which nobody was there, by what was written of dates up to one.
func (b *Book) Absence(on model.Date) Absence {
	var out Absence
	aways := b.Aways()
	for i := range aways {
		a := &aways[i]
		if a.On > on {
			break
		}
		if n := len(out); n > 0 && a.On <= out[n-1].to {
			out[n-1].to = max(out[n-1].to, a.What.Until)
			continue
		}
		out = append(out, absentSpan{a.On, a.What.Until})
	}
	return out
}

// Days counts the dates of absence after one date and up to another.
func (a Absence) Days(after, upTo model.Date) int {
	i, _ := slices.BinarySearchFunc(a, after, func(s absentSpan, d model.Date) int {
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

// Slip is how late the tick that ended a cycle came. A tick tells nothing without a planned date, when it or the start
// of its cycle is a guess, or when its planned date is not after that start.
func (a Absence) Slip(start, end Start) (Slip, bool) {
	t := end.Tick
	if t == nil || t.Planned.IsZero() || t.About || start.About() || t.Planned <= start.On {
		return Slip{}, false
	}
	late := t.On.Sub(t.Planned) - a.Days(t.Planned, t.On)
	value := min(MaxSlip, max(0, float64(late)/float64(t.Planned.Sub(start.On))))
	return Slip{t.Mark(), t.Reach, value}, true
}

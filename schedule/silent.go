package schedule

import "brine/wrasse/model"

// SilentCounter is a counter of which nothing has been logged for more than four times its usual gap.
type SilentCounter struct {
	Counter model.Counter
	Since   model.Date // its last entry
	Usual   float64    // days from entry to entry
	PerDay  float64    // at which it is counted on; 0 where no rate is known, and of a meter, which will tell by itself
}

// Silent are the counters in use that have fallen silent, in the order of the book: those that a clock of the round
// rests on, and that were logged often enough to have a usual gap.
func (r *Round) Silent() []SilentCounter {
	v := r.sight
	used := map[model.ID]bool{}
	for i := range r.Standings {
		for _, c := range r.Standings[i].Chore.Clocks {
			used[c.Counter] = true
		}
	}
	var out []SilentCounter
	for _, c := range v.book.Counters() {
		if !used[c.ID] || retired(c.Retired, r.On) {
			continue
		}
		of := v.record(c.ID)
		n := len(of.entries)
		usual := of.usualBefore(n)
		if usual.n < fewGaps {
			continue
		}
		last := &of.entries[n-1]
		if there := r.On.Sub(last.On) - v.away.Days(last.On, r.On); !above(float64(there), silentTimes*usual.days()) {
			continue
		}
		s := SilentCounter{Counter: c, Since: last.On, Usual: usual.days()}
		if !of.meter && last.rate.ok {
			s.PerDay = last.rate.perDay
		}
		out = append(out, s)
	}
	return out
}

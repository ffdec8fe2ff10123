package schedule

import "brine/wrasse/model"

// yearDays is how far ahead ticks are projected.
const yearDays = 365

// step is the days from tick to tick of a chore: the shortest planned life of its calendar, usage and load clocks, in
// whole days, at least 1; 0 when none of them tells.
func step(s *Standing) int {
	best := 0
	for i := range s.Clocks {
		c := &s.Clocks[i]
		if c.Kind == model.ClockReading || !(c.Rate > 0) {
			continue
		}
		if days := max(1, ceil(c.Plan.Age/c.Rate)); best == 0 || days < best {
			best = days
		}
	}
	return best
}

// Visit is a tick that is to come, were everything done when it is due.
type Visit struct {
	On       model.Date
	Standing *Standing
}

// ahead are the ticks of a chore on the 365 dates from the round's own on: first when it is due, or at once if that
// has passed, then every step. A chore with only reading clocks has its one date.
func (r *Round) ahead(s *Standing) []Visit {
	if !s.HasDue {
		return nil
	}
	var out []Visit
	days := r.sight.steps[s.Chore.ID]
	for d := max(s.Due, r.On); d < r.On+yearDays; d = d.AddDays(days) {
		out = append(out, Visit{d, s})
		if days == 0 {
			break
		}
	}
	return out
}

package schedule

import (
	"cmp"
	"slices"
	"time"

	"brine/wrasse/model"
)

// yearDays is how far ahead ticks are projected.
const yearDays = 365

// step is the days from tick to tick of a chore with these clocks: the shortest planned life of its calendar, usage and load clocks, in
// whole days, at least 1; 0 when none of them tells.
func step(clocks []ClockStanding) int {
	best := 0
	for i := range clocks {
		c := &clocks[i]
		if !(c.Rate > 0) { // one that watches a gauge has no rate
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

// Visits are the ticks of all chores on the 365 dates from the round's own on, by date and then in the order of the
// round. A chore is ticked when it is due, or at once if that has passed, and then every step; one with only reading
// clocks has its one date.
func (r *Round) Visits() []Visit {
	var from [yearDays + 1]int // from[d] is how many visits come before day d
	r.eachVisit(func(day int, _ *Standing) { from[day+1]++ })
	for d := range yearDays {
		from[d+1] += from[d]
	}
	if from[yearDays] == 0 {
		return nil
	}
	out := make([]Visit, from[yearDays])
	r.eachVisit(func(day int, s *Standing) {
		out[from[day]] = Visit{r.On.AddDays(day), s}
		from[day]++
	})
	return out
}

// eachVisit goes through the visits chore by chore, in the order of the round. Days count from the round's own.
func (r *Round) eachVisit(see func(day int, s *Standing)) {
	for i := range r.Standings {
		s := &r.Standings[i]
		if !s.HasDue {
			continue
		}
		for day := max(0, s.Due.Sub(r.On)); day < yearDays; day += s.step {
			see(day, s)
			if s.step == 0 {
				break
			}
		}
	}
}

// SpareForecast is what the shelf will see of a spare in a year.
type SpareForecast struct {
	Spare    model.Spare
	Counted  bool       // somebody has said how much there is; until then it runs out on no day that can be told
	OnHand   float64    // may be negative: count it
	Expired  bool       // what there is may be used no more
	PerBatch float64    // of the salt that batches are mixed with: what the next is expected to take; 0 of other spares
	NextUse  model.Date // no date when nothing will use it within the year
	OutOn    model.Date // the stock falls below 0 then, or is past its date; no date within the year
	OrderBy  model.Date // OutOn less the lead days and a week
	Used     float64    // within the year
	YearCost float64    // of what is used, 0 without a price
}

// orderMargin is the days an order is placed ahead of need, beside the spare's own lead days.
const orderMargin = 7

// Shelf forecasts every spare in use, what is past its date first, the soonest to order next, then those that last, by id. Visits take spares, and
// batches the salt they are mixed with where no visit does.
func (r *Round) Shelf() []SpareForecast {
	uses := map[model.ID][]use{}
	for _, v := range r.Visits() {
		for _, s := range v.Standing.Spares {
			uses[s.Spare.ID] = append(uses[s.Spare.ID], use{v.On, s.Quantity})
		}
	}
	var out []SpareForecast
	for _, s := range r.sight.book.Spares() {
		if retired(s.Retired, r.On) {
			continue
		}
		taken, perBatch := uses[s.ID], 0.0
		if len(taken) == 0 {
			taken, perBatch = r.saltUses(s)
		}
		f := r.forecast(s, taken)
		f.PerBatch = perBatch
		out = append(out, f)
	}
	slices.SortFunc(out, func(a, b SpareForecast) int {
		if a.Expired != b.Expired {
			if a.Expired {
				return -1
			}
			return 1
		}
		if a.OrderBy.IsZero() != b.OrderBy.IsZero() {
			if a.OrderBy.IsZero() {
				return 1
			}
			return -1
		}
		return cmp.Or(cmp.Compare(a.OrderBy, b.OrderBy), cmp.Compare(a.Spare.ID, b.Spare.ID))
	})
	return out
}

// use is a quantity taken off the shelf on a date.
type use struct {
	on       model.Date
	quantity float64
}

func (r *Round) forecast(s model.Spare, uses []use) SpareForecast {
	f := SpareForecast{Spare: s}
	f.OnHand, f.Counted = r.sight.shelf[s.ID]
	f.Expired = s.Expired(r.On) && f.OnHand > 0
	empty := -slack * max(1, f.OnHand) // what rounding leaves of a shelf used up exactly
	if f.OnHand < empty {
		f.OutOn = r.On
	}
	left := f.OnHand
	for _, u := range uses {
		left -= u.quantity
		f.Used += u.quantity
		f.NextUse = model.Earlier(f.NextUse, u.on)
		if f.Counted && (left < empty || s.Expired(u.on)) { // what is past its date is as good as used up
			f.OutOn = model.Earlier(f.OutOn, u.on)
		}
	}
	if !f.OutOn.IsZero() {
		f.OrderBy = f.OutOn.AddDays(-s.LeadDays - orderMargin)
	}
	if s.Price != nil {
		f.YearCost = f.Used * *s.Price
	}
	return f
}

// Week is what a week of the year ahead will take.
type Week struct {
	Start  model.Date // its first day, which of the first week may lie before the round's date
	Visits []Visit    // in order of time
	Cost              // of the visits
	Spares float64    // what the spares cost, in the book's money
}

// Year is the 365 days from the round's date on by weeks that begin on a weekday; empty weeks are there too.
func (r *Round) Year(begins time.Weekday) []Week {
	first := r.On.AddDays(-((int(r.On.Weekday()) - int(begins) + 7) % 7))
	weeks := make([]Week, (r.On+yearDays-1).Sub(first)/7+1)
	sums := make([]CostSum, len(weeks))
	for _, v := range r.Visits() {
		i := v.On.Sub(first) / 7
		weeks[i].Visits = append(weeks[i].Visits, v)
		weeks[i].Spares += r.sight.spareCost(&v.Standing.Chore)
		r.add(&sums[i], v.On, v.Standing)
	}
	for i := range weeks {
		weeks[i].Start, weeks[i].Cost = first.AddDays(7*i), sums[i].Cost
	}
	return weeks
}

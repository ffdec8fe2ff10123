package schedule

import "brine/wrasse/model"

// clock is one clock of a chore in its present cycle. One that counts an age is also an ager.
type clock interface {
	// stand gives the clock's dates and the facts behind them.
	stand(p planner) ClockStanding
	// due is the due date of a chore that this clock governs, given how far jobs of its reach grade slip, and what was
	// taken off the planned age for it. The clock's standing has a planned date.
	due(s *ClockStanding, slip float64) (model.Date, lead)
	// chance is that of failing within 7 days, when the clock governs. Hidden wear shows only when it is looked at.
	chance(s *ClockStanding, hidden bool) float64
}

// lead is what was taken off a planned age.
type lead struct {
	amount float64
	unit   string
	held   LeadHeld
}

// ager is a clock that counts the age of a cycle in a unit of its own.
type ager interface {
	clock
	// counted is what it counts, nil where that is days or can't be told.
	counted() *model.Tally
	// life is the declared life and the rule it is meant by.
	life() (float64, model.Rule)
}

// kind is what the schedule knows of a kind of clock. A new kind is a type that implements clock, and its line below.
type kind struct {
	rank int // ties between planned dates: the lower governs
	open func(v *sight, c model.Clock, start model.Start) clock
}

var kinds = map[model.ClockKind]kind{
	model.ClockReading:  {rank: 1, open: openReading},
	model.ClockLoad:     {rank: 2, open: openLoad},
	model.ClockUsage:    {rank: 3, open: openUsage},
	model.ClockCalendar: {rank: 4, open: openCalendar},
}

// governing is the index of the clock that decides, -1 when none has a date: a confirmed crossing before all, then the
// earliest planned date, then the kind, then the order in the chore.
func governing(clocks []ClockStanding) int {
	best := -1
	for i := range clocks {
		if clocks[i].HasPlanned() && (best < 0 || governsBefore(&clocks[i], &clocks[best])) {
			best = i
		}
	}
	return best
}

func governsBefore(a, b *ClockStanding) bool {
	switch {
	case a.Confirmed != b.Confirmed:
		return a.Confirmed
	case a.Planned != b.Planned:
		return a.Planned < b.Planned
	}
	return kinds[a.Kind].rank < kinds[b.Kind].rank
}

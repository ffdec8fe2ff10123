package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// clock is one clock of a chore in its present cycle. One that counts an age is also an ager.
type clock interface {
	// stand gives the clock's dates, before any lead, and the facts behind them.
	stand(p planner) ClockStanding
	// chance is that of failing within 7 days, when the clock governs. Hidden wear shows only when it is looked at.
	chance(s *ClockStanding, hidden bool) float64
}

// ager is a clock that counts the age of a cycle in a unit of its own.
type ager interface {
	clock
	// life is the declared life and the rule it is meant by.
	life() (float64, model.Rule)
	// pace is the rate at which the present cycle was expected to age when it began.
	pace() rate
	// closed is the age that a closed cycle had reached by the end of a date of it; ok is false when that can't be told
	// well enough to learn from.
	closed(start, end ledger.Start, on model.Date) (age float64, ok bool)
}

// kind is what the schedule knows of a kind of clock. A new kind is a type that implements clock, and its line below.
type kind struct {
	rank int // ties between due dates: the lower governs
	open func(v *sight, c model.Clock, start ledger.Start) clock
}

var kinds = map[model.ClockKind]kind{
	model.ClockReading:  {rank: 1, open: openReading},
	model.ClockLevel:    {rank: 2, open: openLevel},
	model.ClockLoad:     {rank: 3, open: openLoad},
	model.ClockUsage:    {rank: 4, open: openUsage},
	model.ClockCalendar: {rank: 5, open: openCalendar},
}

// governing is the index of the clock that decides, -1 when none has a date: a confirmed crossing before all, then the
// earliest due date, then the kind, then the earlier planned date, then the order in the chore.
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
	case a.Due != b.Due:
		return a.Due < b.Due
	case a.Kind != b.Kind:
		return kinds[a.Kind].rank < kinds[b.Kind].rank
	}
	return a.Planned < b.Planned
}

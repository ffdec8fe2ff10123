package schedule

import "brine/wrasse/model"

// clock is one clock of a chore in its present cycle. A clock that counts an age is also an ager; one that watches a
// gauge is also a watcher.
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
	// age is what a cycle that began at a place had gathered by a moment.
	age(from model.Mark, by moment) float64
	// life is the declared life and the rule it is meant by.
	life() (float64, model.Rule)
	// known is false when ages can't be told: a load of water that was never read.
	known() bool
}

// watcher is a clock that watches a gauge.
type watcher interface {
	clock
	// crossing is the date from which two readings or more, the last ones between two places, were all beyond the
	// threshold; ok is false when they were not.
	crossing(after, end model.Mark) (since model.Date, ok bool)
}

// kind is what the schedule knows of a kind of clock. A new kind is a type that implements clock, and its line below.
type kind struct {
	rank    int // ties between planned dates: the lower governs
	teaches int // which clock of a chore learns: the first of the lowest, 0 being none
	open    func(v *sight, c model.Clock, start model.Start) clock
}

var kinds = map[model.ClockKind]kind{
	model.ClockReading:  {rank: 1, open: openReading},
	model.ClockLoad:     {rank: 2, teaches: 1, open: openLoad},
	model.ClockUsage:    {rank: 3, teaches: 1, open: openUsage},
	model.ClockCalendar: {rank: 4, teaches: 2, open: openCalendar},
}

// learner is the index of the clock that a chore's ticks teach, -1 when it has none.
func learner(clocks []model.Clock) int {
	best := -1
	for i, c := range clocks {
		t := kinds[c.Kind].teaches
		if t > 0 && (best < 0 || t < kinds[clocks[best].Kind].teaches) {
			best = i
		}
	}
	return best
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

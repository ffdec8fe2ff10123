package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// levelClock runs until water must be made, mixed or carried so that a vessel doesn't fall short. It has no life. Its dates
// hang on what the other chores of the round take, so that they come last (onHandDates).
type levelClock struct {
	clock model.Clock
	sight *sight
}

func openLevel(v *sight, c model.Clock, _ ledger.Start) clock { return &levelClock{c, v} }

func (c *levelClock) stand(planner) ClockStanding {
	return ClockStanding{Clock: c.clock, Kind: c.clock.Kind}
}

func (c *levelClock) chance(s *ClockStanding, _ bool) float64 {
	if !s.Limit.IsZero() && s.Limit <= c.sight.on.AddDays(week) {
		return 1
	}
	return 0
}

// onHandDates gives the clocks that watch a level their dates: the last day to begin, and the day on which it is short.
func (v *sight) onHandDates(standings []Standing) {
	for i := range standings {
		s := &standings[i]
		watches := false
		for j := range s.Clocks {
			if c := &s.Clocks[j]; c.Kind == model.ClockLevel {
				watches = true
				v.levelDates(c)
			}
		}
		if watches {
			v.settle(s)
		}
	}
}

func (v *sight) levelDates(c *ClockStanding) {
	o := onHandIn(v.onHand(), c.Clock.Vessel)
	c.OnHand = o
	switch {
	case o == nil || o.Counted == nil && !o.Vessel.Auto:
		c.Reason = ReasonNotCounted
	case o.Short.IsZero():
		c.Reason = ReasonEnough
	default:
		c.Planned, c.Limit = o.StartBy, o.Short
		if len(o.Mixes) > 0 {
			c.Planned = o.Mixes[0].By
		}
		c.Due = c.Planned
	}
}

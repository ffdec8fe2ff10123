package schedule

import "brine/wrasse/model"

// levelClock runs until a vessel must be filled.
type levelClock struct{ clock model.Clock }

func openLevel(_ *sight, c model.Clock, _ model.Start) clock { return &levelClock{c} }

func (c *levelClock) stand(planner) ClockStanding {
	return ClockStanding{Clock: c.clock, Kind: c.clock.Kind, Reason: ReasonNotCounted}
}

func (c *levelClock) chance(*ClockStanding, bool) float64 { return 0 }

package schedule

import (
	"slices"

	"brine/wrasse/model"
)

// Call is what a tick of one chore asks of another: a housing was opened, so its joints are felt the next day. It holds
// until the other chore is ticked.
type Call struct {
	By *model.Chore // the chore whose tick calls
	On model.Date   // of that tick
}

// caller is a chore that calls for another, and how long after its tick.
type caller struct {
	chore *model.Chore
	after model.Span
}

// callersOf are the chores that call for others, by the chore that is called.
func callersOf(chores []model.Chore) map[model.ID][]caller {
	out := map[model.ID][]caller{}
	for i := range chores {
		for _, call := range chores[i].Then {
			out[call.Chore] = append(out[call.Chore], caller{&chores[i], call.After})
		}
	}
	return out
}

// called is the standing of the call with the earliest date that still holds for a chore; ok is false without one. It
// stands beside the clocks as a reading clock with one crossing that is not confirmed, and with a limit.
func (v *sight) called(chore model.ID, callers []caller) (s ClockStanding, ok bool) {
	var done model.Mark
	if ticks := v.book.TicksUpTo(chore, v.on); len(ticks) > 0 {
		done = ticks[len(ticks)-1].Mark()
	}
	for _, c := range callers {
		for _, t := range v.book.TicksWithin(c.chore.ID, done, v.end) {
			by := c.after.From(t.On)
			if t.About || ok && by >= s.Planned {
				continue
			}
			s = ClockStanding{
				Clock: model.Clock{Kind: model.ClockReading}, Kind: model.ClockReading, Crossed: true, Since: t.On,
				Planned: by, Limit: by, Call: &Call{c.chore, t.On}, clock: &readingClock{sight: v},
			}
			ok = true
		}
	}
	return s, ok
}

// withCall is the clocks of a chore and, behind them, the call that holds for it.
func (v *sight) withCall(chore model.ID, clocks []ClockStanding, callers []caller) []ClockStanding {
	if len(callers) == 0 {
		return clocks
	}
	call, ok := v.called(chore, callers)
	if !ok {
		return clocks
	}
	return append(slices.Clip(clocks), call)
}

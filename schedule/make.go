package schedule

import (
	"slices"
	"sync"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Make is the round of a book on a date. Entries dated after it do not exist for it, except definitions, amends and
// rebuilt flags.
func Make(b *ledger.Book, on model.Date) *Round {
	chores := b.Chores()
	v := look(b, on, chores)
	v.survey(chores)
	standings := v.standings(chores)
	v.onHand = sync.OnceValue(func() []OnHand { return v.lookAhead(standings) })
	v.onHandDates(standings)
	r := &Round{On: on, Book: b.Def().Name, Faults: v.openFaults(chores), Breaches: v.breaches(), Standings: inOrder(standings), Absence: absence(b, on), sight: v}
	r.at = make(map[model.ID]int, len(r.Standings))
	for i := range r.Standings {
		s := &r.Standings[i]
		r.Counts.add(s)
		r.at[s.Chore.ID] = i
	}
	return r
}

func (c *Counts) add(s *Standing) {
	switch s.State {
	case StateLate:
		c.Late++
	case StateDue:
		c.Due++
	case StateSoon:
		c.Soon++
	case StateDeferred:
		c.Deferred++
	case StateAhead:
		c.Ahead++
	case StateIdle:
		c.Idle++
	}
	if !s.PastLimit {
		return
	}
	if s.State != StateDeferred {
		c.PastLimit++
	}
	if s.Chore.Consequence >= 2 {
		c.PastLimitHarm++
	}
}

// PlannedAt is the planned date that a tick of a chore dated on is stamped with, on the book without that tick: what
// the book said on the day. There is none when the chore is idle then, or when the tick would not close its latest
// cycle, because it was ticked or its component put into service since.
func PlannedAt(b *ledger.Book, chore model.ID, on model.Date) (model.Date, bool) {
	c, ok := b.Chore(chore)
	if !ok {
		return 0, false
	}
	starts := b.Starts(chore, model.LastDate)
	if len(starts) == 0 || starts[len(starts)-1].On > on {
		return 0, false
	}
	if slices.ContainsFunc(c.Clocks, func(k model.Clock) bool { return k.Kind == model.ClockLevel }) {
		s := Make(b, on).Of(chore) // what the other chores take decides
		if s == nil {
			return 0, false
		}
		return s.Planned, s.HasDue
	}
	v := look(b, on, []model.Chore{c})
	component, _ := b.Component(c.Component)
	var planned model.Date
	for _, s := range v.withCall(chore, v.clocks(&c, component), callersOf(b.Chores())[chore]) {
		planned = model.Earlier(planned, s.Planned)
	}
	return planned, !planned.IsZero()
}

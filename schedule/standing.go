package schedule

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
)

// soonDays is how far ahead a chore is due soon.
const soonDays = 7

// harm is what a failure weighs, by consequence.
var harm = map[int]float64{1: 1, 2: 3, 3: 10}

// stands tells whether a chore takes part in the round: it has begun, and neither it nor its component is retired.
func (v *sight) stands(c *model.Chore, comp *model.Component) bool {
	return !retired(c.Retired, v.on) && !retired(comp.Retired, v.on) && v.history[c.ID].begun()
}

func retired(since, on model.Date) bool { return !since.IsZero() && since <= on }

// standing is where a chore stands.
func (v *sight) standing(c model.Chore, comp model.Component) Standing {
	h := v.history[c.ID]
	start := h.present()
	place, _ := v.book.Place(comp.Place)
	s := Standing{
		Chore: c, Component: comp, Place: place,
		Start: start.On, StartAbout: start.About(), StartTick: start.Tick != nil,
		Clocks: v.clocks(&c, h),
	}
	if n := len(h.ticks); n > 0 {
		s.LastTick, s.LastFound = h.ticks[n-1].On, h.ticks[n-1].Found
	}
	for _, use := range c.Spares {
		spare, _ := v.book.Spare(use.Spare)
		s.Spares = append(s.Spares, SpareStanding{spare, use.Quantity, v.shelf[use.Spare]})
	}
	s.Governs = governing(s.Clocks)
	for _, clock := range s.Clocks {
		s.Planned = earlier(s.Planned, clock.Planned)
		s.Limit = earlier(s.Limit, clock.Limit)
	}
	v.lead(&s, start)
	v.judge(&s)
	return s
}

// clocks are the standings of a chore's clocks.
func (v *sight) clocks(c *model.Chore, h history) []ClockStanding {
	opened := make([]clock, len(c.Clocks))
	for i, def := range c.Clocks {
		opened[i] = kinds[def.Kind].open(v, def, h.present())
	}
	quantile := quantiles[c.Consequence]
	fit, evidence := v.learn(c, opened, h, quantile)
	taught := -1
	if c.Learns() {
		taught = c.Learner()
	}
	out := make([]ClockStanding, len(opened))
	for i, clock := range opened {
		p := planner{chore: c, index: i, quantile: quantile}
		if i == taught {
			p.learns, p.taught, p.evidence = true, fit, evidence
		}
		out[i] = clock.stand(p)
		out[i].clock = clock
	}
	return out
}

// earlier is the earlier of two dates, of which either may be none.
func earlier(a, b model.Date) model.Date {
	if a.IsZero() || !b.IsZero() && b < a {
		return b
	}
	return a
}

// lead brings the due date forward by what jobs of the component's reach grade slip. Save for a crossing, a chore is
// never due before the day after its start.
func (v *sight) lead(s *Standing, start model.Start) {
	g := s.Governing()
	s.Lead.Grade = s.Component.Reach
	s.Lead.Slip, s.Lead.Ticks = v.slips.grade(s.Component.Reach)
	if g == nil {
		return
	}
	s.HasDue = true
	due, early := g.clock.due(g, s.Lead.Slip)
	s.Lead.Amount, s.Lead.Unit, s.Lead.Held = early.amount, early.unit, early.held
	if g.Crossed {
		s.Due = s.Planned
	} else {
		s.Due = max(due, start.On+1)
	}
	s.LeadDays = max(0, s.Planned.Sub(s.Due))
	s.DaysLate = v.on.Sub(s.Due)
}

// judge says what state the chore is in and what it risks.
func (v *sight) judge(s *Standing) {
	g := s.Governing()
	if g == nil {
		s.State = StateIdle
		return
	}
	s.PastLimit = !s.Limit.IsZero() && v.on > s.Limit
	s.Chance = g.clock.chance(g, s.Chore.Hidden || s.Chore.Work == model.WorkTest)
	s.Risk = s.Chance * harm[s.Chore.Consequence]
	s.Deferred = v.deferral(s)
	switch {
	case s.Deferred != nil:
		s.State = StateDeferred
	case s.DaysLate > 0:
		s.State = StateLate
	case s.DaysLate == 0:
		s.State = StateDue
	case s.DaysLate >= -soonDays:
		s.State = StateSoon
	default:
		s.State = StateAhead
	}
}

// deferral is the latest putting off since the present cycle began, when it lasts beyond the date.
func (v *sight) deferral(s *Standing) *model.Logged[model.Defer] {
	defers := v.book.DefersWithin(s.Chore.ID, v.history[s.Chore.ID].present().Mark, v.end)
	if len(defers) == 0 {
		return nil
	}
	last := defers[len(defers)-1]
	if last.What.Until <= v.on {
		return nil
	}
	return &last
}

var stateOrder = map[State]int{StateLate: 0, StateDue: 1, StateSoon: 2, StateDeferred: 3, StateAhead: 4, StateIdle: 5}

// sortStandings brings standings into the order of the round: by state, by risk to 9 decimals with the highest
// first, by due date, by id.
func sortStandings(standings []Standing) {
	slices.SortFunc(standings, func(a, b Standing) int {
		return cmp.Or(
			cmp.Compare(stateOrder[a.State], stateOrder[b.State]),
			cmp.Compare(ranked(b.Risk), ranked(a.Risk)),
			cmp.Compare(a.Due, b.Due),
			cmp.Compare(a.Chore.ID, b.Chore.ID),
		)
	})
}

// ranked is a risk as it is ranked: in billionths.
func ranked(risk float64) int64 { return int64(risk*1e9 + 0.5 + slack) }

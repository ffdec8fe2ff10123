package schedule

import "brine/wrasse/model"

// soonDays is how far ahead a chore is due soon.
const soonDays = 7

// harm is what a failure weighs, by consequence.
var harm = map[int]float64{1: 1, 2: 3, 3: 10}

// stands tells whether a chore takes part in the round: it has begun, and neither it nor its component is retired.
func (v *sight) stands(c *model.Chore, comp *model.Component) bool {
	return !retired(c.Retired, v.on) && !retired(comp.Retired, v.on) && v.history[c.ID].begun()
}

func retired(since, on model.Date) bool { return !since.IsZero() && since <= on }

// standings are those of the chores that take part, in their order.
func (v *sight) standings(chores []model.Chore) []Standing {
	type one struct {
		chore     *model.Chore
		component model.Component
	}
	taking := make([]one, 0, len(chores))
	for i := range chores {
		component, _ := v.book.Component(chores[i].Component)
		if v.stands(&chores[i], &component) {
			taking = append(taking, one{&chores[i], component})
		}
	}
	out := make([]Standing, len(taking))
	abreast(len(out), func(i int) { v.stand(&out[i], taking[i].chore, taking[i].component) })
	return out
}

// stand fills in where a chore stands.
func (v *sight) stand(s *Standing, c *model.Chore, component model.Component) {
	h := v.history[c.ID]
	start := h.present()
	place, _ := v.book.Place(component.Place)
	*s = Standing{
		Chore: *c, Component: component, Place: place,
		Start: start.On, StartAbout: start.About(), StartTick: start.Tick != nil,
		Clocks: v.clocks(c),
	}
	if n := len(h.ticks); n > 0 {
		s.LastTick, s.LastFound = h.ticks[n-1].On, h.ticks[n-1].Found
	}
	for _, use := range c.Spares {
		spare, _ := v.book.Spare(use.Spare)
		hand, counted := v.shelf[use.Spare]
		s.Spares = append(s.Spares, SpareStanding{spare, use.Quantity, hand, counted})
	}
	s.Governs, s.step = governing(s.Clocks), step(s.Clocks)
	for i := range s.Clocks {
		s.Planned = earlier(s.Planned, s.Clocks[i].Planned)
		s.Limit = earlier(s.Limit, s.Clocks[i].Limit)
	}
	v.lead(s, start)
	v.judge(s)
}

// opened are a chore's clocks in its present cycle, and its cycles.
func (v *sight) opened(c *model.Chore) (history, []clock) {
	h := v.history[c.ID]
	out := make([]clock, len(c.Clocks))
	for i, def := range c.Clocks {
		out[i] = kinds[def.Kind].open(v, def, h.present())
	}
	return h, out
}

// clocks are the standings of a chore's clocks.
func (v *sight) clocks(c *model.Chore) []ClockStanding {
	h, opened := v.opened(c)
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

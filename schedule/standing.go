package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
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
		Clocks: v.withCall(c.ID, v.clocks(c, component), v.callers[c.ID]),
	}
	for i := len(h.ticks) - 1; i >= 0 && s.LastTick.IsZero(); i-- {
		if t := h.ticks[i]; !t.Assumed {
			s.LastTick, s.LastFound = t.On, t.Found
		}
	}
	for _, use := range c.Spares {
		spare, _ := v.book.Spare(use.Spare)
		hand, counted := v.shelf[use.Spare]
		s.Spares = append(s.Spares, SpareStanding{spare, use.Quantity, hand, counted, spare.Expired(v.on)})
	}
	v.lead(s)
	v.settle(s)
}

// settle fills in what follows from the dates of a chore's clocks.
func (v *sight) settle(s *Standing) {
	s.Governs, s.step = governing(s.Clocks), step(s.Clocks)
	for i := range s.Clocks {
		s.Planned = model.Earlier(s.Planned, s.Clocks[i].Planned)
		s.Limit = model.Earlier(s.Limit, s.Clocks[i].Limit)
		s.Due = model.Earlier(s.Due, s.Clocks[i].Due)
	}
	if s.HasDue = s.Governs >= 0; s.HasDue {
		s.LeadDays = max(0, s.Planned.Sub(s.Due))
		s.DaysLate = v.on.Sub(s.Due)
	}
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

// clocks are the standings of a chore's clocks, before any lead.
func (v *sight) clocks(c *model.Chore, component model.Component) []ClockStanding {
	h, opened := v.opened(c)
	p := planner{chore: c, price: v.price(c, component)}
	learner := -1
	if c.Learns() {
		learner = c.Learner()
		p.lessons, p.evidence = v.lessons(c, opened, h)
	}
	out := make([]ClockStanding, len(opened))
	for i, clock := range opened {
		p.index, p.learns = i, i == learner
		out[i] = clock.stand(p)
		out[i].clock = clock
	}
	return out
}

// maxLeadDays is the most by which reach brings a date forward, in days.
const maxLeadDays = 28

// lead brings every clock's date forward by what jobs of the component's reach grade slip, but by a quarter of its
// interval and 28 days at the most, and never to the day of the start. A crossing waits for nobody.
func (v *sight) lead(s *Standing) {
	s.Lead.Grade = s.Component.Reach
	s.Lead.Slip, s.Lead.Ticks = v.slips.grade(s.Component.Reach)
	for i := range s.Clocks {
		c := &s.Clocks[i]
		switch {
		case !c.HasPlanned():
		case c.Crossed:
			c.Due = c.Planned
		default:
			c.LeadDays, c.LeadHeld = leadDays(c.Planned.Sub(s.Start), s.Lead.Slip)
			c.Due = max(c.Planned.AddDays(-c.LeadDays), s.Start+1)
		}
	}
}

// leadDays is the lead of a planned interval in days: the slip of it, but at most a quarter and 28 days.
func leadDays(interval int, slip float64) (int, LeadHeld) {
	if interval <= 0 {
		return 0, HeldNot
	}
	quarter, days := interval/4, floor(float64(slip*float64(interval))+0.5)
	switch {
	case days <= min(quarter, maxLeadDays):
		return days, HeldNot
	case quarter < maxLeadDays:
		return quarter, HeldQuarter
	}
	return maxLeadDays, HeldDays
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
func (v *sight) deferral(s *Standing) *ledger.Logged[model.PutOff] {
	defers := v.book.PutOffsWithin(s.Chore.ID, v.history[s.Chore.ID].present().Mark, v.end)
	if len(defers) == 0 {
		return nil
	}
	last := defers[len(defers)-1]
	if last.What.Until <= v.on {
		return nil
	}
	return &last
}

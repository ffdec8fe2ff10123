package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule/life"
)

// daysUnit is the unit of a calendar clock.
const daysUnit = "d"

// farAge is an age in days beyond which a calendar clock gives no date.
const farAge = 1_000_000

// calendarClock counts the days since the start.
type calendarClock struct {
	clock model.Clock
	start model.Date
	on    model.Date
}

func openCalendar(v *sight, c model.Clock, start ledger.Start) clock {
	return &calendarClock{c, start.On, v.on}
}

func (c *calendarClock) life() (float64, model.Rule) {
	return float64(c.clock.Every.Days(c.start)), c.clock.Rule
}

func (c *calendarClock) pace() rate { return rate{1, true} }

func (c *calendarClock) closed(start, _ ledger.Start, on model.Date) (float64, bool) {
	return float64(on.Sub(start.On)), true
}

func (c *calendarClock) stand(p planner) ClockStanding {
	days, _ := c.life()
	s := ClockStanding{
		Clock: c.clock, Kind: c.clock.Kind, Unit: daysUnit, Stated: c.clock.Every.String(),
		Used: float64(c.on.Sub(c.start)), Life: days, Rate: 1, HasRate: true,
	}
	s.Age = s.Used
	p.plan(&s, c)
	s.Planned, s.Limit = c.dateOf(s.Plan.Age), c.dateOf(s.limitAge())
	if s.Planned.IsZero() {
		s.Reason = ReasonFar
	}
	return s
}

func (c *calendarClock) dateOf(age float64) model.Date {
	if age >= farAge {
		return 0
	}
	return c.start.AddDays(round(age))
}

func (c *calendarClock) chance(s *ClockStanding, hidden bool) float64 { return lifeChance(s, hidden) }

// week is the days over which risk is counted.
const week = 7

// lifeChance is the chance of failing within a week at the present age and rate: having worked until now, or, of wear
// that can't be seen in daily use, at all.
func lifeChance(s *ClockStanding, hidden bool) float64 {
	w := life.Weibull{Shape: s.Shape, Median: s.Median}
	ahead := float64(week * s.Rate)
	if hidden {
		return w.FailedBy(s.Age + ahead)
	}
	return w.FailsWithin(s.Age, ahead)
}

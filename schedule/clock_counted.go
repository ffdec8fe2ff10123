package schedule

import (
	"strconv"

	"brine/wrasse/model"
)

// farDays is how far ahead, in days, the reaching of an amount is no date any more.
const farDays = 36500

// gramsUnit is the unit of a load.
const gramsUnit = "g"

// countedClock counts what was used since the start: of a counter, or the grams its litres carried.
type countedClock struct {
	clock  model.Clock
	start  model.Start
	sight  *sight
	tally  *model.Tally
	factor float64 // 1 + waste over product, of a stage that also passes the waste
	rate   rate    // before the factor
	unit   string
	silent Reason // why there are no ages at all, if there are none
}

func openUsage(v *sight, c model.Clock, start model.Start) clock {
	counter, _ := v.book.Counter(c.Counter)
	return &countedClock{
		clock: c, start: start, sight: v, tally: v.book.Tally(c.Counter), factor: 1 + c.FeedRatio,
		rate: v.rate(counter), unit: counter.Unit,
	}
}

func openLoad(v *sight, c model.Clock, start model.Start) clock {
	out := &countedClock{clock: c, start: start, sight: v, factor: 1 + c.FeedRatio, unit: gramsUnit}
	if l := v.load(c); l != nil {
		out.tally, out.rate = l.grams, l.rate
	} else {
		out.silent = ReasonNoInlet
	}
	return out
}

func (c *countedClock) counted() *model.Tally {
	if c.silent == ReasonNone && c.tally == nil {
		return &model.Tally{}
	}
	return c.tally
}

func (c *countedClock) life() (float64, model.Rule) { return c.clock.Amount, c.clock.Rule }

func (c *countedClock) known() bool { return c.silent == ReasonNone }

func (c *countedClock) perDay() float64 { return c.rate.perDay * c.factor }

func (c *countedClock) used() float64 {
	return float64(c.tally.Between(c.start.Mark, c.sight.end) * c.factor)
}

func (c *countedClock) stand(p planner) ClockStanding {
	s := ClockStanding{
		Clock: c.clock, Kind: c.clock.Kind, Unit: c.unit,
		Stated: strconv.FormatFloat(c.clock.Amount, 'f', -1, 64),
		Used:   c.used(), Life: c.clock.Amount, Rate: c.perDay(), HasRate: c.rate.ok,
	}
	p.plan(&s, c)
	s.Planned, s.Limit = c.reaches(s.Plan.Age), c.reaches(s.Median)
	if s.Planned.IsZero() {
		s.Reason = c.why(&s)
	}
	return s
}

func (c *countedClock) why(s *ClockStanding) Reason {
	switch {
	case c.silent != ReasonNone:
		return c.silent
	case !s.HasRate:
		return ReasonNoRate
	case s.Rate <= 0:
		return ReasonStill
	}
	return ReasonFar
}

// reaches is the date on which the present cycle reached an amount, or will at the present rate.
func (c *countedClock) reaches(amount float64) model.Date {
	if !c.known() || !c.rate.ok {
		return 0
	}
	if d, ok := c.reached(amount); ok {
		return d
	}
	if !(c.perDay() > 0) {
		return 0
	}
	days := ceil((amount - c.used()) / c.perDay())
	if days >= farDays {
		return 0
	}
	return c.sight.on.AddDays(days)
}

// reached is the date of the entry with which the present cycle came to an amount.
func (c *countedClock) reached(amount float64) (model.Date, bool) {
	return c.tally.Reached(c.start.Mark, c.sight.end, least(amount)/c.factor)
}

// due takes the lead off the amount, so that a due date once reached stays where it is.
func (c *countedClock) due(s *ClockStanding, slip float64) (model.Date, lead) {
	planned := s.Plan.Age
	m := min(slip, maxAmountLead)
	sooner := float64(planned * (1 - m))
	perDay := c.perDay()
	if d, ok := c.reached(sooner); ok {
		perDay = sooner / float64(max(1, d.Sub(c.start.On)))
	}
	early, held := float64(m*planned), HeldNot
	if slip > maxAmountLead {
		held = HeldQuarter
	}
	if most := float64(maxLeadDays * perDay); most < early {
		early, held = most, HeldDays
	}
	due := c.reaches(planned - early)
	if due.IsZero() || due > s.Planned {
		due = s.Planned
	}
	return due, lead{early, c.unit, held}
}

// maxAmountLead is the largest share of a planned amount that reach takes off it.
const maxAmountLead = 0.25

func (c *countedClock) chance(s *ClockStanding, hidden bool) float64 { return lifeChance(s, hidden) }

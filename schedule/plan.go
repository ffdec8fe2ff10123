package schedule

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule/life"
)

// planner plans the ages of one clock of a chore.
type planner struct {
	chore    *model.Chore
	index    int // of the clock in the chore
	price    Price
	learns   bool     // this is the clock that the ticks teach
	lessons  []lesson // what they taught, when learns
	evidence Evidence
}

// What a chance is worth. Our own choice: at care "usual" a day on which something is spent that only looks bad weighs
// as much as 35/24 minutes of work.
const (
	minutesOfDay   = 35.0 / 24
	leastChance    = 0.005
	mostChance     = 0.5
	chanceUnknown  = 0.20 // where no rate tells how many days a life is
	leastMinutes   = 1.0
	minuteValue    = 0.3 // money a minute, where the book says nothing
	leastUntaught  = 0.7 // of a life as stated: the least age planned on a guess
	commonPractice = 0.2 // chance that is taken where "renew at five months what lasts six" is the rule
)

// careFactors are what the chance taken is multiplied by, by the book's word for care.
var careFactors = map[model.Care]float64{model.CareCareful: 0.5, "": 1, model.CareUsual: 1, model.CareEasy: 2}

// Price is what doing a chore costs and what a day of failure weighs.
type Price struct {
	Hands   int     // minutes of work and of getting at it
	Minutes float64 // those, and the ones that its spares are worth; at least 1
	Weight  float64 // of a failed day: 1, 3 or 10
	Care    float64 // factor of the book's care: 0.5, 1 or 2
}

// price is that of a chore.
func (v *sight) price(c *model.Chore, component model.Component) Price {
	def := v.book.Def()
	value := def.MinuteValue
	if !(value > 0) {
		value = minuteValue
	}
	hands := c.Minutes + leaderOf(v.book, component).AccessMinutes
	return Price{hands, max(leastMinutes, float64(hands)+v.spareCost(c)/value), harm[c.Consequence], careFactors[def.Care]}
}

// leaderOf is the component that is opened to get at one.
func leaderOf(b *ledger.Book, c model.Component) model.Component {
	if c.OpensWith != "" {
		c, _ = b.Component(c.OpensWith)
	}
	return c
}

// chance is the chance taken of being spent by the planned age, of a life with a median that is aged at a pace.
func (p Price) chance(median float64, pace rate) float64 {
	if !pace.positive() {
		return chanceUnknown
	}
	days := median / pace.perDay
	return min(mostChance, max(leastChance, minutesOfDay*p.Care*p.Minutes/(p.Weight*days)))
}

// belief is all that an age is planned from but the lessons.
type belief struct {
	prior    life.Prior
	untaught float64 // p0: no heavy finding failed before it
	stated   float64
	rule     model.Rule
	cost     *model.Cost
	price    Price
	pace     rate
}

// believe is all that is known of a clock before its lessons.
func (p planner) believe(c ager) belief {
	x, rule := c.life()
	b := belief{stated: x, rule: rule, cost: p.chore.Cost, price: p.price, pace: c.pace()}
	b.prior, b.untaught = beliefIn(x, rule)
	return b
}

// beliefIn is what is believed of a life before the log says anything, and the age by which nothing is taken to have
// failed. A rule "at least every X" is taken as a life of which 20 % have failed at X; an observed life "lasts about X"
// as its median.
func beliefIn(x float64, rule model.Rule) (prior life.Prior, untaught float64) {
	prior = life.Around(x)
	if rule == model.RuleEvery {
		prior = life.Around(life.RuleMedian(x, commonPractice))
	}
	return prior, life.Weibull{Shape: prior.Shape, Median: prior.Median}.Quantile(commonPractice)
}

// plan fills in the life of a clock and the age it plans.
func (p planner) plan(s *ClockStanding, c ager) {
	b := p.believe(c)
	var lessons []lesson
	if p.learns {
		s.Learns, s.Evidence = true, p.evidence
		lessons = p.lessons
	}
	s.Price = p.price
	var fit life.Fit
	s.Plan, fit = b.plan(lessons)
	s.Observations, s.Shape, s.Median = len(lessons), fit.Shape, fit.Median
}

// plan is the age planned from lessons. A word for the latest cycle never plans a later age than a better word would,
// and cycles found good never shorten the plan that stood before them.
func (b belief) plan(lessons []lesson) (Plan, life.Fit) {
	plan, fit := b.alone(lessons)
	n := len(lessons)
	if n == 0 {
		return plan, fit
	}
	last := lessons[n-1]
	instead := func(kinds ...lessonKind) {
		for _, k := range kinds {
			worse := slices.Clone(lessons)
			worse[n-1].kind = k
			of, _ := b.alone(worse)
			plan.atLeast(of, PlanWorse)
		}
	}
	switch last.kind {
	case heavyThen:
		instead(failedBy)
	case goodThen:
		instead(heavyThen, failedBy)
		run := n
		for run > 0 && lessons[run-1].kind == goodThen {
			run--
		}
		before, _ := b.alone(lessons[:run])
		plan.atLeast(before, PlanBefore)
	}
	return plan, fit
}

// alone is the age planned from lessons by their own fit, chance, costs and guard.
func (b belief) alone(lessons []lesson) (Plan, life.Fit) {
	observations := make([]life.Observation, len(lessons))
	for i, l := range lessons {
		observations[i] = b.observed(l)
	}
	fit := life.Mode(b.prior, observations)
	q := b.price.chance(fit.Median, b.pace)
	plan := Plan{Quantile: q, Age: fit.Quantile(q), By: PlanLife}
	taught := len(lessons) > 0
	switch {
	case b.cost != nil:
		plan.Age, plan.By = fit.Median, PlanMedian
		if age, ok := fit.ReplacementAge(b.cost.Planned, b.cost.Failure); ok && age <= fit.Median {
			plan.Age, plan.By = age, PlanCost
		}
	case !taught && b.rule == model.RuleEvery:
		plan.Age, plan.By = b.stated, PlanRule
	case !taught && plan.Age < leastUntaught*b.stated:
		plan.Age, plan.By = leastUntaught*b.stated, PlanGuess
	}
	plan.Log = plan.Age
	if b.rule == model.RuleEvery && plan.Age > b.stated {
		plan.Age, plan.By = b.stated, PlanRule
	}
	if taught {
		if last := lessons[len(lessons)-1]; last.kind == failedBy && plan.Age > last.age {
			plan.Age, plan.Log, plan.By = last.age, last.age, PlanGuard
		}
	}
	return plan, fit
}

// atLeast lifts a planned age to that of another plan.
func (p *Plan) atLeast(other Plan, by PlanBy) {
	if p.Log = max(p.Log, other.Log); other.Age > p.Age {
		p.Age, p.By = other.Age, by
		if other.By == PlanRule {
			p.By = PlanRule
		}
	}
}

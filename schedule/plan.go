package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/schedule/life"
)

// quantiles are the fractions of failures accepted before the planned age, by consequence.
var quantiles = map[int]float64{1: 0.30, 2: 0.20, 3: 0.10}

// planner plans the ages of one clock of a chore.
type planner struct {
	chore    *model.Chore
	index    int // of the clock in the chore
	quantile float64
	learns   bool     // this is the clock that the ticks teach
	taught   life.Fit // what they taught, when learns
	evidence Evidence
}

// prior is what is believed of a life before the log says anything. A rule "at least every X" is taken as a life whose
// accepted quantile is X; an observed life "lasts about X" as its median.
func prior(x float64, rule model.Rule, quantile float64) life.Prior {
	if rule == model.RuleEvery {
		return life.Around(life.RuleMedian(x, quantile))
	}
	return life.Around(x)
}

// untaught is the planned age with no history and no costs.
func untaught(x float64, rule model.Rule, quantile float64) float64 {
	if rule == model.RuleEvery {
		return x
	}
	p := prior(x, rule, quantile)
	return life.Weibull{Shape: p.Shape, Median: p.Median}.Quantile(quantile)
}

// plan fills in the life of a clock and the age it plans.
func (p planner) plan(s *ClockStanding, c ager) {
	x, rule := c.life()
	before := prior(x, rule, p.quantile)
	w := life.Weibull{Shape: before.Shape, Median: before.Median}
	if p.learns {
		s.Learns, s.Evidence, s.Observations = true, p.evidence, p.taught.Observations
		if s.Observations > 0 {
			w = p.taught.Weibull
		}
	}
	s.Shape, s.Median = w.Shape, w.Median
	s.Plan = p.age(w, x, rule, s.Observations)
}

func (p planner) age(w life.Weibull, x float64, rule model.Rule, observations int) Plan {
	plan := Plan{Quantile: p.quantile, Age: w.Quantile(p.quantile), By: PlanLife}
	if rule == model.RuleEvery && observations == 0 {
		plan.Age, plan.By = x, PlanRule
	}
	if cost := p.chore.Cost; cost != nil {
		if age, ok := w.ReplacementAge(cost.Planned, cost.Failure); ok {
			plan.Age, plan.By = age, PlanCost
			if age > w.Median {
				plan.Age, plan.By = w.Median, PlanMedian
			}
		}
	}
	plan.Log = plan.Age
	if rule == model.RuleEvery && plan.Age > x {
		plan.Age, plan.By = x, PlanRule
	}
	return plan
}

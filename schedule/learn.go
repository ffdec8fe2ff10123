package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/schedule/life"
)

// mayLearn tells whether the ticks of a chore move its dates.
func mayLearn(c *model.Chore) bool {
	return !c.Fixed && c.Work != model.WorkTest && c.Work != model.WorkRead
}

// learn makes observations of a chore's closed cycles, in the unit of the clock that learns, and fits a life to them.
func (v *sight) learn(c *model.Chore, clocks []clock, h history, quantile float64) (life.Fit, Evidence) {
	i := learner(c.Clocks)
	if i < 0 || !mayLearn(c) {
		return life.Fit{}, Evidence{}
	}
	by := clocks[i].(ager)
	if !by.known() {
		return life.Fit{}, Evidence{}
	}
	x, rule := by.life()
	t := teacher{by: by, least: untaught(x, rule, quantile)}
	for _, other := range clocks {
		if w, ok := other.(watcher); ok {
			t.watchers = append(t.watchers, w)
		}
	}
	for _, cycle := range h.closed() {
		t.take(cycle)
	}
	fit := v.memo.fit(c.ID, prior(x, rule, quantile), t.taken)
	return fit, t.evidence
}

// teacher gathers what closed cycles tell of a life.
type teacher struct {
	by       ager
	watchers []watcher
	least    float64 // the age planned with no history and no costs: no heavy finding failed before it

	taken    []life.Observation
	evidence Evidence
}

// take turns one closed cycle into an observation, or leaves it out.
func (t *teacher) take(c cycle) {
	t.evidence.Cycles++
	observation, ok := t.observe(c)
	if !ok {
		t.evidence.Untaught++
		return
	}
	t.taken = append(t.taken, observation)
}

func (t *teacher) observe(c cycle) (life.Observation, bool) {
	if c.end.Tick == nil || c.start.About() || c.end.About() {
		return life.Observation{}, false
	}
	age := t.by.age(c.start.Mark, c.at())
	if !(age > 0) {
		return life.Observation{}, false
	}
	if since, ok := t.crossing(c); ok {
		at := t.by.age(c.start.Mark, c.endOfDay(since))
		if !(at > 0) {
			return life.Observation{}, false
		}
		t.evidence.FailedAt++
		t.evidence.FailAges = append(t.evidence.FailAges, Age{since, at, true})
		return life.FailedAt(at), true
	}
	end := c.end.On
	switch c.end.Tick.Found {
	case model.FoundClean, model.FoundLight:
		t.evidence.Good++
		return life.Survived(age), true
	case model.FoundHeavy:
		t.evidence.Heavy++
		t.evidence.HeavyAges = append(t.evidence.HeavyAges, Age{end, age, false})
		return life.Worn(age, t.least), true
	case model.FoundFailed:
		t.evidence.Failed++
		t.evidence.FailAges = append(t.evidence.FailAges, Age{end, age, false})
		return life.FailedBy(age), true
	}
	return life.Observation{}, false
}

// crossing is the earliest date from which a gauge of the chore stood confirmed beyond its threshold when the cycle
// was ticked off.
func (t *teacher) crossing(c cycle) (since model.Date, ok bool) {
	for _, w := range t.watchers {
		if d, crossed := w.crossing(c.start.Mark, c.end.Mark); crossed && (!ok || d < since) {
			since, ok = d, true
		}
	}
	return since, ok
}

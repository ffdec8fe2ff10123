package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/schedule/life"
)

// learn makes observations of a chore's closed cycles, in the unit of the clock that learns, and fits a life to them.
func (v *sight) learn(c *model.Chore, clocks []clock, h history, quantile float64) (life.Fit, Evidence) {
	if !c.Learns() {
		return life.Fit{}, Evidence{}
	}
	by := clocks[c.Learner()].(ager)
	x, rule := by.life()
	lessons := v.book.Lessons(c, h.starts, model.Teaching{Counted: by.counted(), Series: v.series})
	t := teacher{least: untaught(x, rule, quantile), taken: make([]life.Observation, 0, len(lessons))}
	for _, l := range lessons {
		t.take(l)
	}
	if t.evidence.Cycles == 0 {
		return life.Fit{}, Evidence{}
	}
	fit := v.memo.fit(c.ID, prior(x, rule, quantile), t.taken)
	return fit, t.evidence
}

// teacher gathers what closed cycles tell of a life.
type teacher struct {
	least float64 // the age planned with no history and no costs: no heavy finding failed before it

	taken    []life.Observation
	evidence Evidence
}

// take turns a lesson into an observation, or leaves it out.
func (t *teacher) take(l model.Lesson) {
	e := &t.evidence
	e.Cycles++
	switch l.Kind {
	case model.LessonGood:
		e.Good++
		t.taken = append(t.taken, life.Survived(l.Age))
	case model.LessonHeavy:
		e.Heavy++
		t.taken = append(t.taken, life.Worn(l.Age, t.least))
	case model.LessonFailed:
		e.Failed++
		e.FailAges = newest(e.FailAges, Age{l.On, l.Age, false})
		t.taken = append(t.taken, life.FailedBy(l.Age))
	case model.LessonFailedAt:
		e.FailedAt++
		e.FailAges = newest(e.FailAges, Age{l.On, l.Age, true})
		t.taken = append(t.taken, life.FailedAt(l.Age))
	default:
		e.Untaught++
	}
}

// agesKept is how many ages of failure a standing names: the sentences made of them name fewer.
const agesKept = 16

// newest adds an age to the newest that are kept.
func newest(ages []Age, a Age) []Age {
	n := len(ages)
	if n == 0 {
		ages = make([]Age, 0, agesKept)
	}
	if n >= agesKept {
		ages = ages[:copy(ages, ages[n-agesKept+1:])]
	}
	return append(ages, a)
}

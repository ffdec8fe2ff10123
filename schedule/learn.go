package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/schedule/life"
)

// learn fits a life to what a chore's closed cycles teach, in the unit of the clock that learns.
func (v *sight) learn(c *model.Chore, clocks []clock, h history, quantile float64) (life.Fit, Evidence) {
	t := v.taught(c, clocks, h, quantile)
	if len(t.lessons) == 0 {
		return life.Fit{}, Evidence{}
	}
	return life.Mode(t.prior, t.observations()), t.evidence()
}

// taught is what a chore's closed cycles teach; no lessons where it doesn't learn.
func (v *sight) taught(c *model.Chore, clocks []clock, h history, quantile float64) taught {
	if !c.Learns() {
		return taught{}
	}
	by := clocks[c.Learner()].(ager)
	x, rule := by.life()
	lessons := v.book.LessonsOf(c, h.starts, model.Teaching{Counted: by.counted(), Series: v.series})
	return taught{prior: prior(x, rule, quantile), least: untaught(x, rule, quantile), lessons: lessons}
}

// taught is what a life is fitted to.
type taught struct {
	prior   life.Prior
	least   float64 // the age planned with no history and no costs: no heavy finding failed before it
	lessons []model.Lesson
}

// observations are the lessons that teach.
func (t taught) observations() []life.Observation {
	out := make([]life.Observation, 0, len(t.lessons))
	for _, l := range t.lessons {
		switch l.Kind {
		case model.LessonGood:
			out = append(out, life.Survived(l.Age))
		case model.LessonHeavy:
			out = append(out, life.Worn(l.Age, t.least))
		case model.LessonFailed:
			out = append(out, life.FailedBy(l.Age))
		case model.LessonFailedAt:
			out = append(out, life.FailedAt(l.Age))
		}
	}
	return out
}

// failuresNamed is how many of the newest failures are named: the sentences made of them name fewer.
const failuresNamed = 16

// evidence is what the lessons were.
func (t taught) evidence() Evidence {
	e := Evidence{Cycles: len(t.lessons)}
	for _, l := range t.lessons {
		switch l.Kind {
		case model.LessonNone:
			e.Untaught++
		case model.LessonGood:
			e.Good++
		case model.LessonHeavy:
			e.Heavy++
		case model.LessonFailed:
			e.Failed++
			e.FailAges = append(e.FailAges, Age{l.On, l.Age, false})
		case model.LessonFailedAt:
			e.FailedAt++
			e.FailAges = append(e.FailAges, Age{l.On, l.Age, true})
		}
	}
	e.FailAges = e.FailAges[max(0, len(e.FailAges)-failuresNamed):]
	return e
}

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
	lessons := v.book.LessonsOf(c, h.starts, model.Teaching{Counted: by.counted(), Series: v.series})
	if lessons.Len() == 0 {
		return life.Fit{}, Evidence{}
	}
	t := taught{prior: prior(x, rule, quantile), least: untaught(x, rule, quantile), lessons: &lessons}
	return v.memo.fit(c.ID, t), t.evidence()
}

// taught is what a life is fitted to.
type taught struct {
	prior   life.Prior
	least   float64 // the age planned with no history and no costs: no heavy finding failed before it
	lessons *model.Lessons
}

// observations are the lessons that teach.
func (t taught) observations() []life.Observation {
	all := t.lessons.All()
	out := make([]life.Observation, 0, len(all))
	for _, l := range all {
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

// teaches tells whether there is any such lesson.
func (t taught) teaches() bool { return t.lessons.Len() > t.lessons.Count(model.LessonNone) }

// evidence is what the lessons were.
func (t taught) evidence() Evidence {
	e := Evidence{
		Cycles:   t.lessons.Len(),
		Good:     t.lessons.Count(model.LessonGood),
		Heavy:    t.lessons.Count(model.LessonHeavy),
		Failed:   t.lessons.Count(model.LessonFailed),
		FailedAt: t.lessons.Count(model.LessonFailedAt),
		Untaught: t.lessons.Count(model.LessonNone),
	}
	for _, l := range t.lessons.Failures() {
		e.FailAges = append(e.FailAges, Age{l.On, l.Age, l.Kind == model.LessonFailedAt})
	}
	return e
}

// digest is that of all that the life is fitted to.
func (t taught) digest() [digestSize]byte {
	var d digest
	d.number(t.prior.Shape)
	d.number(t.prior.Median)
	d.number(t.prior.ShapeSpan)
	d.number(t.prior.MedianSpan)
	d.number(t.least)
	d.word(uint64(t.lessons.Len()))
	of := t.lessons.Digest()
	d.word(of[0])
	d.word(of[1])
	return d.sum()
}

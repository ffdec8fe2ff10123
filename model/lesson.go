package model

// LessonKind is what a closed cycle teaches of a life.
type LessonKind uint8

// What a closed cycle may teach.
const (
	LessonNone     LessonKind = iota // nothing recorded, a guessed date, cut by new service, or of no age
	LessonGood                       // found clean or light: still good at its age
	LessonHeavy                      // found heavy
	LessonFailed                     // found failed, at some unknown age before
	LessonFailedAt                   // a gauge of the chore crossed its threshold at that age
)

// Lesson is what one closed cycle tells of how long a chore's work lasts.
type Lesson struct {
	Kind LessonKind
	On   Date    // the tick that ended it, or the date of the crossing
	Age  float64 // reached by then, in the unit of the clock that learns
}

// Learner is the index of the clock that a chore's ticks teach: its first usage or load clock, else its first calendar
// clock; -1 when there is none.
func (c *Chore) Learner() int {
	calendar := -1
	for i := range c.Clocks {
		switch c.Clocks[i].Kind {
		case ClockUsage, ClockLoad:
			return i
		case ClockCalendar:
			if calendar < 0 {
				calendar = i
			}
		}
	}
	return calendar
}

// Learns tells whether the ticks of a chore move its dates.
func (c *Chore) Learns() bool {
	return !c.Fixed && c.Work != WorkTest && c.Work != WorkRead && c.Learner() >= 0
}

// Beyond tells whether a value lies strictly on the bad side of a reading clock's threshold, by more than rounding.
func (c *Clock) Beyond(v float64) bool {
	limit := c.Limit
	if c.Bad == SideBelow {
		v, limit = -v, -limit
	}
	return v > limit+float64(1e-9*max(limit, -limit))
}

// Run is how many of the last values all lie beyond the threshold.
func (c *Clock) Run(values []Level) int {
	n := 0
	for n < len(values) && c.Beyond(values[len(values)-1-n].Value) {
		n++
	}
	return n
}

// ConfirmedRun is how many readings in a row beyond a threshold confirm that it was crossed.
const ConfirmedRun = 2

// Teaching is what the lessons of a chore are taken from.
type Teaching struct {
	Counted *Tally  // of the clock that learns: amounts or grams; nil where it is a calendar clock
	Series  *Series // of the gauges its reading clocks watch
}

// LessonsOf are what the cycles between a chore's starts teach, in their order. There are none for a chore that doesn't
// learn, or by a load that can't be told. O(starts).
func (b *Book) LessonsOf(c *Chore, starts []Start, from Teaching) []Lesson {
	i := c.Learner()
	if !c.Learns() || c.Clocks[i].Kind != ClockCalendar && from.Counted == nil {
		return nil
	}
	out := make([]Lesson, 0, len(starts))
	for k := 1; k < len(starts); k++ {
		out = append(out, from.lesson(c, &c.Clocks[i], starts[k-1], starts[k]))
	}
	return out
}

// lesson is what one cycle teaches.
func (t Teaching) lesson(c *Chore, by *Clock, start, end Start) Lesson {
	if end.Tick == nil || start.About() || end.About() {
		return Lesson{}
	}
	age := t.age(by, start.Mark, end.Mark, end.On)
	if !(age > 0) {
		return Lesson{}
	}
	if since, ok := t.crossing(c, start.Mark, end.Mark); ok {
		stop := EndOf(since)
		if end.Mark.Before(stop) {
			stop = end.Mark
		}
		at := t.age(by, start.Mark, stop, since)
		if !(at > 0) {
			return Lesson{}
		}
		return Lesson{LessonFailedAt, since, at}
	}
	switch end.Tick.Found {
	case FoundClean, FoundLight:
		return Lesson{LessonGood, end.On, age}
	case FoundHeavy:
		return Lesson{LessonHeavy, end.On, age}
	case FoundFailed:
		return Lesson{LessonFailed, end.On, age}
	}
	return Lesson{}
}

// age is what a cycle had gathered by a place in the log, which lies on a date.
func (t Teaching) age(by *Clock, from, end Mark, on Date) float64 {
	if by.Kind == ClockCalendar {
		return float64(on.Sub(from.On))
	}
	return float64(t.Counted.Between(from, end) * (1 + by.FeedRatio))
}

// crossing is the earliest date from which a gauge of the chore stood confirmed beyond its threshold when the cycle
// was ticked off.
func (t Teaching) crossing(c *Chore, after, end Mark) (since Date, ok bool) {
	for i := range c.Clocks {
		watch := &c.Clocks[i]
		if watch.Kind != ClockReading {
			continue
		}
		values := t.Series.Of(watch.Gauge, after, end)
		n := watch.Run(values)
		if n < ConfirmedRun {
			continue
		}
		if d := values[len(values)-n].On; !ok || d < since {
			since, ok = d, true
		}
	}
	return since, ok
}

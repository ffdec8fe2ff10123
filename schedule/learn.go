package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule/life"
)

// lessonKind is what a closed cycle teaches of a life.
type lessonKind uint8

const (
	untaught  lessonKind = iota // nothing recorded, a guessed date, cut by new service, of no age, or hardly logged
	goodThen                    // found clean or light: still good at its age
	heavyThen                   // found heavy
	failedBy                    // found failed, at some unknown age before
	failedAt                    // a gauge of the chore crossed its threshold at that age
)

// lesson is what one closed cycle tells of how long a chore's work lasts.
type lesson struct {
	kind lessonKind
	on   model.Date // the tick that ended it, or the date of the crossing
	age  float64    // reached by then, in the unit of the clock that learns
}

// lessons are what the closed cycles of a chore taught, in their order, by the clock that learns.
func (v *sight) lessons(c *model.Chore, clocks []clock, h history) ([]lesson, Evidence) {
	by := clocks[c.Learner()].(ager)
	var out []lesson
	var e Evidence
	for k := 1; k < len(h.starts); k++ {
		l := v.lesson(c, by, h.starts[k-1], h.starts[k], &e)
		if e.take(l); l.kind != untaught {
			out = append(out, l)
		}
	}
	return out, e
}

// lesson is what one cycle teaches.
func (v *sight) lesson(c *model.Chore, by ager, start, end ledger.Start, e *Evidence) lesson {
	if end.Tick == nil || start.About() || end.About() {
		return lesson{}
	}
	age, told := by.closed(start, end, end.On)
	if told && !(age > 0) {
		return lesson{}
	}
	watched := v.watched(c, start.Mark, end.Mark)
	if !watched.crossed.IsZero() {
		if at, ok := by.closed(start, end, watched.crossed); ok && at > 0 {
			return lesson{failedAt, watched.crossed, at}
		}
		return lesson{}
	}
	if !told {
		return lesson{}
	}
	switch found := end.Tick.Found; found {
	case model.FoundClean, model.FoundLight:
		return lesson{goodThen, end.On, age}
	case model.FoundHeavy, model.FoundFailed:
		if r, ok := watched.readGood(end.On); ok {
			r.Found = found
			e.overrule(r)
			return lesson{goodThen, end.On, age}
		}
		if found == model.FoundHeavy {
			return lesson{heavyThen, end.On, age}
		}
		return lesson{failedBy, end.On, age}
	}
	return lesson{}
}

// freshReading is how many days before a tick a reading may be taken to be believed against what was found.
const freshReading = 7

// watched is what the reading clocks of a chore say of a cycle when it is ticked off.
type watched struct {
	crossed model.Date // the earliest date from which a gauge stands confirmed beyond its threshold; none when none does
	good    Overruled  // the latest reading, when no gauge's latest is beyond; no gauge otherwise
}

// readGood is the reading that overrules what is found heavy or failed on a date; ok is false when none does.
func (w watched) readGood(on model.Date) (o Overruled, ok bool) {
	w.good.On = on
	return w.good, w.good.Gauge != "" && on.Sub(w.good.Read) <= freshReading
}

// ReadGood is the reading that would overrule a chore's part found heavy or failed, were it ticked on a date: at most a
// week old, while no gauge of the chore stands beyond its threshold. Found is left empty; ok is false when there is none.
func ReadGood(b *ledger.Book, chore model.ID, on model.Date) (o Overruled, ok bool) {
	c, _ := b.Chore(chore)
	starts := b.Starts(chore, on)
	if len(starts) == 0 || !c.Learns() {
		return Overruled{}, false
	}
	v := &sight{series: b.Series(on)}
	return v.watched(&c, starts[len(starts)-1].Mark, model.EndOf(on)).readGood(on)
}

func (v *sight) watched(c *model.Chore, after, end model.Mark) watched {
	var out watched
	beyond := false
	for i := range c.Clocks {
		watch := &c.Clocks[i]
		if watch.Kind != model.ClockReading {
			continue
		}
		values := v.series.Against(watch, after, end)
		if len(values) == 0 {
			continue
		}
		n := ledger.RunBeyond(watch, values)
		beyond = beyond || n > 0
		if n >= model.ConfirmedRun {
			out.crossed = model.Earlier(out.crossed, values[len(values)-n].On)
		}
		if last := values[len(values)-1]; out.good.Gauge == "" || last.On > out.good.Read {
			out.good = Overruled{Gauge: watch.Gauge, Read: last.On, Value: last.Value}
		}
	}
	if beyond {
		out.good = Overruled{}
	}
	return out
}

// failAgesKept is how many failures are told apart: the sentences made of them name fewer.
const failAgesKept = 16

// take counts a lesson.
func (e *Evidence) take(l lesson) {
	e.Cycles++
	switch l.kind {
	case untaught:
		e.Untaught++
	case goodThen:
		e.Good++
	case heavyThen:
		e.Heavy++
	case failedBy:
		e.Failed++
	case failedAt:
		e.FailedAt++
	}
	if l.kind == failedBy || l.kind == failedAt {
		e.FailAges = append(e.FailAges[max(0, len(e.FailAges)+1-failAgesKept):], Age{l.on, l.age, l.kind == failedAt})
	}
}

// overrule remembers the latest word that a reading overrode.
func (e *Evidence) overrule(o Overruled) {
	e.Overruled++
	e.Latest = o
}

// observed is a lesson as the fit takes it. What outlives the prior's median three times says no more.
func (b belief) observed(l lesson) life.Observation {
	switch l.kind {
	case goodThen:
		return life.Survived(min(l.age, mostOutlived*b.prior.Median))
	case heavyThen:
		return life.Worn(l.age, b.untaught)
	case failedBy:
		return life.FailedBy(l.age)
	}
	return life.FailedAt(l.age)
}

// mostOutlived is how many prior medians an age that was survived is taken for at the most.
const mostOutlived = 3

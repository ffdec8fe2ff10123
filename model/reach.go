package model

import (
	"errors"
	"maps"
	"slices"
)

// ErrRebuild is the error of what can only be answered by folding the whole log: a definition that is amended or struck,
// because every later entry was accepted for what it said.
var ErrRebuild = errors.New("needs the whole log to be folded anew")

// reaches is an ErrPast when an event, that comes into the book or goes from it, changes what is not held: where it
// stands among events that are dropped, or in a cycle that is carried.
func (b *Book) reaches(e *Entry) error {
	whole := things{}
	l, _ := listOf(e.Body)
	at := e.Mark()
	if l.kind == KindReading {
		at.Seq = 0 // the last of a date is that of the whole date
	}
	if d := b.past.dropped[l]; d.n > 0 && !d.last.Before(at) {
		maps.Copy(whole, b.closure(thingOf(l)))
	}
	carriedTo := func(at Mark, asked func(*Chore) bool) {
		for _, id := range b.chores.order {
			if from := b.past.from(id); from != (Mark{}) && !from.Before(at) {
				if c := b.chores.byID[id]; asked(&c) {
					maps.Copy(whole, b.closure(thing{KindChore, id}))
				}
			}
		}
	}
	switch w := e.Body.(type) {
	case Tick:
		of := b.chores.byID[w.Chore]
		renewal := b.renewsMembrane(&of)
		carriedTo(at, func(c *Chore) bool { return c.ID == w.Chore || renewal && watches(c, NormalisedFlow) })
	case Usage, MeterReset:
		if d := b.past.dropped[list{KindUsage, l.id}]; d.n > 0 && !d.last.Before(at) {
			maps.Copy(whole, b.closure(thingOf(l)))
		}
		carriedTo(at, func(c *Chore) bool { return b.asks(c, thingOf(l)) })
	case Reading:
		if w.Counts() {
			carriedTo(at, func(c *Chore) bool { return b.asks(c, thingOf(l)) })
			b.reweighs(whole, w.Gauge, e.On)
		}
	case Away:
		carriedTo(Mark{On: e.On}, func(*Chore) bool { return true })
	}
	if len(whole) > 0 {
		return &errPast{whole}
	}
	return nil
}

// reweighs adds what a reading of a date changes by the line it draws from the reading before it: the weights of all
// litres since.
func (b *Book) reweighs(whole things, gauge ID, on Date) {
	before := upTo(b.readings.of(gauge), markOf, Mark{On: on})
	since := FirstDate
	for i := len(before) - 1; i >= 0 && since == FirstDate; i-- {
		if before[i].What.Counts() {
			since = before[i].On + 1
		}
	}
	for _, of := range b.loads() {
		if of.Inlet != gauge && of.Outlet != gauge {
			continue
		}
		if d := b.past.dropped[list{KindUsage, of.Counter}]; d.n > 0 && d.last.On >= since {
			maps.Copy(whole, b.closure(thing{KindCounter, of.Counter}))
		}
		for _, id := range b.chores.order {
			c := b.chores.byID[id]
			if i := c.Learner(); i < 0 || c.Clocks[i].Kind != ClockLoad || c.Clocks[i].Counting() != of {
				continue
			}
			if from := b.past.from(id); from != (Mark{}) && from.On >= since {
				maps.Copy(whole, b.closure(thing{KindChore, id}))
			}
		}
	}
}

// redefines is what a definition, before it is taken in, changes the past of; all of it must be held whole, or it is
// an ErrPast.
func (b *Book) redefines(e *Entry) (things, error) {
	changed := things{}
	switch d := e.Body.(type) {
	case Chore:
		was, ok := b.chores.get(d.ID)
		if !ok || was.Work != d.Work || was.Fixed != d.Fixed || was.Component != d.Component || !slices.Equal(was.Clocks, d.Clocks) {
			for _, c := range []Chore{was, d} {
				b.eachAsked(&c, func(t thing) { maps.Copy(changed, b.closure(t)) })
			}
			changed[thing{KindChore, d.ID}] = true
		}
	case Component:
		was, ok := b.components.get(d.ID)
		if ok && (was.Stage != d.Stage || was.InService != d.inService(e)) {
			if was.Stage == StageMembrane || d.Stage == StageMembrane {
				changed = b.allThings()
			}
			for _, id := range b.chores.order {
				if b.chores.byID[id].Component == d.ID {
					maps.Copy(changed, b.closure(thing{KindChore, id}))
				}
			}
		}
	case Counter:
		if was, ok := b.counters.get(d.ID); ok && was.Style != d.Style {
			changed = b.allThings()
		}
	case Gauge:
		if was := b.gauges.byID[d.ID]; was.Role != d.Role || was.Retired.IsZero() != d.Retired.IsZero() {
			changed = b.allThings()
		}
	}
	for t := range changed {
		if !b.holds(t) {
			return nil, &errPast{changed}
		}
	}
	return changed, nil
}

// holds tells whether a thing is held whole.
func (b *Book) holds(t thing) bool {
	if t.kind == KindChore && b.past.from(t.id) != (Mark{}) {
		return false
	}
	for i := range listKinds {
		if l := (list{listKinds[i].kind, t.id}); thingOf(l) == t && b.past.dropped[l].n > 0 {
			return false
		}
	}
	return true
}

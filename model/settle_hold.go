package model

import (
	"slices"
	"sort"
)

// lowest is the first date about which nothing that is carried would be otherwise.
func (b *Book) lowest(loads []Counting) Date {
	floor := FirstDate
	for _, d := range b.past.dropped {
		floor = max(floor, d.last.On)
	}
	for _, c := range b.past.chores {
		floor = max(floor, c.from.On)
	}
	for _, of := range loads { // litres that are carried were weighed with the reading after them
		last := b.past.dropped[list{KindUsage, of.Counter}].last.On
		for _, id := range b.chores.order {
			c := b.chores.byID[id]
			if i := c.Learner(); i >= 0 && c.Clocks[i].Kind == ClockLoad && c.Clocks[i].Counting() == of {
				last = max(last, b.past.from(id).On)
			}
		}
		if last != 0 {
			floor = max(floor, b.levelAfter(of.Inlet, last), b.levelAfter(of.Outlet, last))
		}
	}
	return floor
}

// levelAfter is the date of the first settled reading of a gauge on a date or after it.
func (b *Book) levelAfter(gauge ID, on Date) Date {
	readings := within(b.readings.of(gauge), markOf, Mark{On: on}, EndOf(LastDate))
	for i := range readings {
		if readings[i].What.Counts() {
			return readings[i].On
		}
	}
	return 0
}

// known is the date up to which no reading still to come can change what a load clock's water carried.
func (b *Book) known(c *Clock) Date {
	d := b.lastLevel(c.Inlet)
	if out := b.lastLevel(c.Outlet); out != 0 {
		d = min(d, out)
	}
	return d
}

// lastLevel is the date of the last settled reading of a gauge.
func (b *Book) lastLevel(gauge ID) Date {
	readings := b.readings.of(gauge)
	for i := len(readings) - 1; i >= 0; i-- {
		if readings[i].What.Counts() {
			return readings[i].On
		}
	}
	return 0
}

// needed is the index of the first event of a list that something asks for.
func (s *settler) needed(k *listKind, l list) int {
	b := s.book
	switch k.kind {
	case KindTick:
		c := b.chores.byID[l.id]
		m := b.past.from(l.id)
		if b.renewsMembrane(&c) {
			if at, ask := b.flowFrom(); ask && at.Before(m) {
				m = at
			}
		}
		return k.placeOf(b, l.id, m)
	case KindDefer:
		return k.placeOf(b, l.id, b.past.from(l.id))
	case KindFault:
		return k.placeOf(b, l.id, s.oldest(func(c *Chore) bool { return c.Component == l.id }))
	case KindUsage:
		m := s.oldest(func(c *Chore) bool { return b.asks(c, thingOf(l)) })
		for _, of := range s.loads {
			if of.Counter != l.id {
				continue
			}
			if in := b.lastLevel(of.Inlet); in != 0 {
				if end := EndOf(b.known(&Clock{Inlet: of.Inlet, Outlet: of.Outlet})); end.Before(m) {
					m = end
				}
			}
		}
		return k.placeOf(b, l.id, m)
	case KindReading:
		return s.readings(k, l.id)
	}
	return k.size(b, l.id)
}

// oldest is the oldest start from which a chore that is asked for is held; the end of time when none is.
func (s *settler) oldest(asked func(*Chore) bool) Mark {
	m := EndOf(LastDate)
	for _, id := range s.book.chores.order {
		c := s.book.chores.byID[id]
		if from := s.book.past.from(id); asked(&c) && from.Before(m) {
			m = from
		}
	}
	return m
}

// readings is the index of the first reading of a gauge that a chore watches or a load weighs litres with.
func (s *settler) readings(k *listKind, gauge ID) int {
	b := s.book
	m := s.oldest(func(c *Chore) bool { return b.asks(c, thing{KindGauge, gauge}) })
	m.Seq = 0 // a derived gauge takes what was read on the date
	if g := b.gauges.byID[gauge]; slices.Contains(flowRoles, g.Role) {
		if at, ask := b.flowFrom(); ask && at.Before(m) {
			m = Mark{On: at.On}
		}
	}
	at := k.placeOf(b, gauge, m)
	for _, of := range s.loads {
		if amounts := b.Amounts(of.Counter); (of.Inlet == gauge || of.Outlet == gauge) && len(amounts) > 0 {
			at = min(at, b.levelBefore(gauge, amounts[0].On))
		}
	}
	return at
}

// levelBefore is the index of the first reading of the last date, not after another, on which a gauge has a settled one.
func (b *Book) levelBefore(gauge ID, on Date) int {
	readings := b.readings.of(gauge)
	i := len(upTo(readings, markOf, EndOf(on)))
	for i > 0 && !readings[i-1].What.Counts() {
		i--
	}
	if i == 0 {
		return 0
	}
	return len(upTo(readings, markOf, Mark{On: readings[i-1].On}))
}

// flowFrom is the renewal of a membrane from which on the normalised flow is needed; ask is false when nothing watches it.
func (b *Book) flowFrom() (at Mark, ask bool) {
	oldest := EndOf(LastDate)
	for _, id := range b.chores.order {
		c := b.chores.byID[id]
		if !watches(&c, NormalisedFlow) {
			continue
		}
		ask = true
		if from := b.past.from(id); from.Before(oldest) {
			oldest = from
		}
	}
	if !ask {
		return Mark{}, false
	}
	renewals := b.membraneRenewals(LastDate)
	n := sort.Search(len(renewals), func(i int) bool { return oldest.Before(renewals[i]) })
	if n == 0 {
		return Mark{}, true
	}
	return renewals[n-1], true
}

package model

import (
	"maps"
	"slices"
)

// settler moves the past of a book forward: it carries what is no longer needed event by event. How far depends on what
// the book holds and on nothing else, so that a book moved forward act by act equals one settled at once.
//
// A chore carries the lessons and slips of its cycles up to the start before its present one; where it learns by a load,
// no further than the water is known. A list drops whole chunks of what comes before the latest few and before the
// oldest of those starts among the chores that ask for it.
type settler struct {
	book    *Book
	touched things
	series  *Series
	grams   map[Counting]*Tally
	loads   []Counting // all that is weighed
}

// settle moves the past of the things touched forward, and of what depends on them. It fails with an errPast when some
// of it would have to move back.
func (b *Book) settle(touched things) error {
	s := &settler{book: b, touched: maps.Clone(touched), series: b.Series(LastDate), grams: map[Counting]*Tally{}, loads: b.loads()}
	b.past = b.past.clone()
	s.spread()
	for _, id := range b.chores.order {
		if s.touched[thing{KindChore, id}] {
			if err := s.chore(b.chores.byID[id]); err != nil {
				return err
			}
		}
	}
	for _, k := range listKinds {
		for t := range s.touched {
			l := list{k.kind, t.id}
			if thingOf(l) != t || k.hold == 0 || k.kind == KindReading {
				continue
			}
			if err := s.list(&k, l); err != nil {
				return err
			}
		}
	}
	k := listKindOf(KindReading) // what a load needs of its gauges depends on which of its litres are held
	for t := range s.touched {
		if t.kind == KindGauge {
			if err := s.list(k, list{k.kind, t.id}); err != nil {
				return err
			}
		}
	}
	b.past.brief = true
	b.past.floor = b.lowest(s.loads)
	return nil
}

func (p past) clone() past {
	p.dropped, p.chores, p.counted = copied(p.dropped), copied(p.chores), copied(p.counted)
	p.stock, p.known = copied(p.stock), copied(p.known)
	return p
}

// spread adds what is held for the sake of the things touched: those that a chore's clocks ask.
func (s *settler) spread() {
	b := s.book
	for _, id := range b.chores.order {
		c := b.chores.byID[id]
		if i := c.Learner(); i >= 0 && c.Clocks[i].Kind == ClockLoad {
			// How far its cycles are settled depends on how far its water is known.
			if s.touched[thing{KindGauge, c.Clocks[i].Inlet}] || s.touched[thing{KindGauge, c.Clocks[i].Outlet}] {
				s.touched[thing{KindChore, id}] = true
			}
		}
	}
	if flow := s.renewed(); flow {
		for _, id := range b.chores.order {
			if c := b.chores.byID[id]; b.renewsMembrane(&c) {
				s.touched[thing{KindChore, id}] = true
			}
		}
		for _, role := range flowRoles {
			if g, ok := b.GaugeByRole(role); ok {
				s.touched[thing{KindGauge, g.ID}] = true
			}
		}
	}
	for _, id := range b.chores.order {
		if c := b.chores.byID[id]; s.touched[thing{KindChore, id}] {
			b.eachAsked(&c, func(t thing) { s.touched[t] = true })
		}
	}
	for _, of := range s.loads {
		in, out, by := thing{KindGauge, of.Inlet}, thing{KindGauge, of.Outlet}, thing{KindCounter, of.Counter}
		if s.touched[in] || s.touched[out] {
			s.touched[by] = true
		}
	}
	for _, of := range s.loads {
		if s.touched[thing{KindCounter, of.Counter}] {
			s.touched[thing{KindGauge, of.Inlet}] = true
			if of.Outlet != "" {
				s.touched[thing{KindGauge, of.Outlet}] = true
			}
		}
	}
}

// renewed tells whether a membrane's renewal or a watcher of its flow is touched, and its flow is watched at all.
func (s *settler) renewed() bool {
	b := s.book
	watched, touched := false, false
	for _, id := range b.chores.order {
		c := b.chores.byID[id]
		w := watches(&c, NormalisedFlow)
		watched = watched || w
		touched = touched || s.touched[thing{KindChore, id}] && (w || b.renewsMembrane(&c))
	}
	return watched && touched
}

// chore carries the cycles of a chore that need not be held.
func (s *settler) chore(c Chore) error {
	b := s.book
	was := chorePast{}
	if c := b.past.chores[c.ID]; c != nil {
		was = *c
	}
	starts := b.Starts(c.ID, LastDate)
	var learner *Clock
	if i := c.Learner(); i >= 0 {
		learner = &c.Clocks[i]
	}
	last := max(0, len(starts)-2) // index of the start up to which is carried
	for last > 0 && learner != nil && learner.Kind == ClockLoad && starts[last].On > b.known(learner) {
		last--
	}
	if was.from != (Mark{}) && (len(starts) == 0 || starts[0].Mark != was.from || len(starts) == 1) {
		return s.further(thing{KindChore, c.ID})
	}
	if last == 0 {
		if was.from == (Mark{}) {
			s.taught(c.ID, 0, 0)
		}
		return nil
	}
	carried := starts[:last+1]
	var from Teaching
	if learner != nil {
		from = Teaching{s.counted(learner), s.series}
	}
	now := chorePast{from: carried[last].Mark, lessons: b.LessonsOf(&c, carried, from), slips: was.slips, used: was.used}
	away := b.absence(planned(carried), LastDate)
	for i := 1; i < len(carried); i++ {
		if slip, ok := away.Slip(carried[i-1], carried[i]); ok {
			now.slips.Add(slip)
		}
	}
	b.past.chores[c.ID] = &now
	b.made.things[thing{KindChore, c.ID}] = true
	s.taught(c.ID, was.lessons.Len(), now.lessons.Len())
	return nil
}

// taught remembers that the carried lessons of a chore changed from one on, and how many they are.
func (s *settler) taught(chore ID, from, n int) {
	b := s.book
	if b.past.known[chore] == n && from == n {
		return
	}
	b.made.taught[chore], b.made.knew[chore] = from, b.past.known[chore]
	b.past.known[chore] = n
}

// planned is the earliest date that a tick among starts was planned for.
func planned(starts []Start) Date {
	first := LastDate
	for _, s := range starts {
		if s.Tick != nil && !s.Tick.Planned.IsZero() {
			first = min(first, s.Tick.Planned)
		}
	}
	return first
}

// counted is what a clock that learns counts, nil for a calendar clock and for a load that can't be told.
func (s *settler) counted(c *Clock) *Tally {
	switch c.Kind {
	case ClockUsage:
		if t := s.book.Tally(c.Counter); t != nil {
			return t
		}
		return &Tally{}
	case ClockLoad:
		return s.load(c.Counting())
	}
	return nil
}

func (s *settler) load(of Counting) *Tally {
	if t, made := s.grams[of]; made {
		return t
	}
	s.grams[of] = nil
	if carried, ok := s.book.Concentration(Clock{Counter: of.Counter, Inlet: of.Inlet, Outlet: of.Outlet}, LastDate); ok {
		s.grams[of] = s.book.Tally(of.Counter).Grams(carried, LastDate)
	}
	return s.grams[of]
}

// list drops the chunks of a list that need not be held.
func (s *settler) list(k *listKind, l list) error {
	b := s.book
	was := b.past.dropped[l]
	size := k.size(b, l.id)
	spare := max(0, min(size-k.hold, s.needed(k, l)))
	n := (was.n + spare) / chunkLen * chunkLen
	if was.n+size-k.hold < was.n { // fewer than there were: some of those dropped should be back
		n = max(0, was.n+size-k.hold) / chunkLen * chunkLen
	}
	switch {
	case n < was.n:
		return s.further(thingOf(l))
	case n == was.n:
		return nil
	}
	b.made.things[thingOf(l)] = true
	s.carry(k.kind, l.id, n-was.n)
	b.past.dropped[l] = dropped{n, k.mark(b, l.id, n-was.n-1)}
	k.drop(b, l.id, n-was.n)
	if k.kind == KindUsage {
		b.tallies[l.id] = &count{tally: b.Tally(l.id).without(n-was.n, b.past.counted[Counting{Counter: l.id}])}
	}
	return nil
}

// carry adds the first n events of a list to what lies before it.
func (s *settler) carry(kind Kind, id ID, n int) {
	b := s.book
	switch kind {
	case KindTick:
		c := chorePast{}
		if was := b.past.chores[id]; was != nil {
			c = *was
		}
		c.used = copied(c.used)
		for _, t := range b.ticks.of(id)[:n] {
			for _, use := range t.Uses {
				c.used[use.Spare] += use.Quantity
			}
		}
		b.past.chores[id] = &c
	case KindStock:
		p := b.past.stock[id]
		for _, e := range b.stocks.of(id)[:n] {
			p.sum += e.What.Change
			p.bought = p.bought || e.What.Change > 0
		}
		b.past.stock[id] = p
	case KindUsage:
		p := b.past.counted[Counting{Counter: id}]
		for _, a := range b.Tally(id).amounts[:n] {
			p = p.plus(a.On, a.Qty)
		}
		p.meter = b.usages.of(id)[n-1].What.Meter
		b.past.counted[Counting{Counter: id}] = p
		for _, of := range s.loads {
			if of.Counter != id {
				continue
			}
			p := b.past.counted[of]
			if t := s.load(of); t != nil {
				for _, a := range t.amounts[:n] {
					p = p.plus(a.On, a.Qty)
				}
				b.past.counted[of] = p
			}
		}
	}
}

// without is a tally that no longer holds its first amounts.
func (t *Tally) without(n int, before tallyPast) *Tally {
	return newTally(before, slices.Clone(t.amounts[n:]))
}

package model

import (
	"maps"
	"slices"
	"sort"
)

// things is a set of parts of a book that are kept folded on their own: chores, counters, gauges, spares, components,
// and, with no id, what belongs to the book itself.
type things map[thing]bool

// thing names one such part, by the kind of entry that defines it.
type thing struct {
	kind Kind
	id   ID
}

// thingOf is the part that a list is kept with.
func thingOf(l list) thing {
	switch l.kind {
	case KindTick, KindDefer:
		return thing{KindChore, l.id}
	case KindUsage, KindMeterReset:
		return thing{KindCounter, l.id}
	case KindReading:
		return thing{KindGauge, l.id}
	case KindStock:
		return thing{KindSpare, l.id}
	case KindFlag, KindFault:
		return thing{KindComponent, l.id}
	}
	return thing{kind: KindBook}
}

// allThings are all parts of a book.
func (b *Book) allThings() things {
	out := things{{kind: KindBook}: true}
	for _, id := range b.chores.order {
		out[thing{KindChore, id}] = true
	}
	for _, id := range b.counters.order {
		out[thing{KindCounter, id}] = true
	}
	for _, id := range b.gauges.order {
		out[thing{KindGauge, id}] = true
	}
	for _, id := range b.spares.order {
		out[thing{KindSpare, id}] = true
	}
	for _, id := range b.components.order {
		out[thing{KindComponent, id}] = true
	}
	return out
}

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
}

// settle moves the past of the things touched forward, and of what depends on them. It fails with an errPast when some
// of it would have to move back.
func (b *Book) settle(touched things) error {
	s := &settler{book: b, touched: maps.Clone(touched), series: b.Series(LastDate), grams: map[Counting]*Tally{}}
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
	b.past.floor = b.lowest()
	return nil
}

func (p past) clone() past {
	p.dropped, p.chores, p.counted = copied(p.dropped), copied(p.chores), copied(p.counted)
	p.stock, p.known = copied(p.stock), copied(p.known)
	return p
}

// lowest is the first date about which nothing that is carried would be otherwise.
func (b *Book) lowest() Date {
	floor := FirstDate
	for _, d := range b.past.dropped {
		floor = max(floor, d.last.On)
	}
	for _, c := range b.past.chores {
		floor = max(floor, c.from.On)
	}
	for _, of := range b.loads() { // litres that are carried were weighed with the reading after them
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
	readings := within(b.readings[gauge], markOf, Mark{On: on}, EndOf(LastDate))
	for i := range readings {
		if readings[i].What.Counts() {
			return readings[i].On
		}
	}
	return 0
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
	for _, of := range b.loads() {
		in, out, by := thing{KindGauge, of.Inlet}, thing{KindGauge, of.Outlet}, thing{KindCounter, of.Counter}
		if s.touched[in] || s.touched[out] {
			s.touched[by] = true
		}
	}
	for _, of := range b.loads() {
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

func (b *Book) renewsMembrane(c *Chore) bool {
	return c.Work == WorkRenew && b.components.byID[c.Component].Stage == StageMembrane
}

func watches(c *Chore, gauge ID) bool {
	return slices.ContainsFunc(c.Clocks, func(k Clock) bool { return k.Kind == ClockReading && k.Gauge == gauge })
}

var flowRoles = []string{RoleFlowProduct, RoleFlowWaste, RolePressureLine, RolePressureMembrane, RoleTemperatureWater, RoleTDSTap}

// partsOf are the roles of the gauges that a derived one is computed from.
func partsOf(derived ID) []string {
	switch derived {
	case Rejection:
		return []string{RoleTDSTap, RoleTDSMembrane, RoleTemperatureWater}
	case WasteRatio:
		return []string{RoleFlowProduct, RoleFlowWaste}
	case PrefilterDrop:
		return []string{RolePressureLine, RolePressureMembrane}
	case NormalisedFlow:
		return flowRoles
	}
	return nil
}

// eachAsked calls each for what a chore's clocks ask, and for its component, whose faults its ticks close.
func (b *Book) eachAsked(c *Chore, each func(thing)) {
	each(thing{KindComponent, c.Component})
	for i := range c.Clocks {
		switch k := &c.Clocks[i]; k.Kind {
		case ClockUsage, ClockLoad:
			each(thing{KindCounter, k.Counter})
			if k.Kind == ClockLoad {
				each(thing{KindGauge, k.Inlet})
				if k.Outlet != "" {
					each(thing{KindGauge, k.Outlet})
				}
			}
		case ClockReading:
			if !k.Gauge.Derived() {
				each(thing{KindGauge, k.Gauge})
			}
			for _, role := range partsOf(k.Gauge) {
				if g, ok := b.GaugeByRole(role); ok {
					each(thing{KindGauge, g.ID})
				}
			}
		}
	}
}

// asks tells whether a chore's clocks ask a counter or a gauge.
func (b *Book) asks(c *Chore, t thing) bool {
	for i := range c.Clocks {
		k := &c.Clocks[i]
		switch {
		case t.kind == KindCounter && (k.Kind == ClockUsage || k.Kind == ClockLoad) && k.Counter == t.id,
			t.kind == KindGauge && k.Kind == ClockLoad && (k.Inlet == t.id || k.Outlet == t.id),
			t.kind == KindGauge && k.Kind == ClockReading && k.Gauge == t.id,
			t.kind == KindGauge && k.Kind == ClockReading && k.Gauge.Derived() &&
				slices.Contains(partsOf(k.Gauge), b.gauges.byID[t.id].Role):
			return true
		}
	}
	return false
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
	readings := b.readings[gauge]
	for i := len(readings) - 1; i >= 0; i-- {
		if readings[i].What.Counts() {
			return readings[i].On
		}
	}
	return 0
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
		b.tallies[l.id] = b.tallies[l.id].without(n-was.n, b.past.counted[Counting{Counter: l.id}])
	}
	return nil
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
		for _, of := range b.loadsOf(l.id) {
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
	for _, of := range b.loads() {
		if amounts := b.Amounts(of.Counter); (of.Inlet == gauge || of.Outlet == gauge) && len(amounts) > 0 {
			at = min(at, b.levelBefore(gauge, amounts[0].On))
		}
	}
	return at
}

// levelBefore is the index of the first reading of the last date, not after another, on which a gauge has a settled one.
func (b *Book) levelBefore(gauge ID, on Date) int {
	readings := b.readings[gauge]
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

// loads are what is weighed by what the water carried, each once.
func (b *Book) loads() []Counting {
	var out []Counting
	for _, id := range b.chores.order {
		c := b.chores.byID[id]
		for i := range c.Clocks {
			if of := c.Clocks[i].Counting(); c.Clocks[i].Kind == ClockLoad && !slices.Contains(out, of) {
				out = append(out, of)
			}
		}
	}
	return out
}

// loadsOf are those of them that weigh a counter's litres.
func (b *Book) loadsOf(counter ID) []Counting {
	return slices.DeleteFunc(b.loads(), func(of Counting) bool { return of.Counter != counter })
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
		for _, t := range b.ticks[id][:n] {
			for _, use := range t.Uses {
				c.used[use.Spare] += use.Quantity
			}
		}
		b.past.chores[id] = &c
	case KindStock:
		p := b.past.stock[id]
		for _, e := range b.stocks[id][:n] {
			p.sum += e.What.Change
			p.bought = p.bought || e.What.Change > 0
		}
		b.past.stock[id] = p
	case KindUsage:
		p := b.past.counted[Counting{Counter: id}]
		for _, a := range b.tallies[id].amounts[:n] {
			p = p.plus(a.On, a.Qty)
		}
		p.meter = b.usages[id][n-1].What.Meter
		b.past.counted[Counting{Counter: id}] = p
		for _, of := range b.loadsOf(id) {
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

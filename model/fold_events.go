package model

import (
	"cmp"
	"slices"
)

// listOf names the list that an event stands in: its kind and the id of its thing, "" for what belongs to the book itself.
// ok is false for definitions and amends.
func listOf(body Body) (kind Kind, id ID, ok bool) {
	switch w := body.(type) {
	case Tick:
		return KindTick, w.Chore, true
	case Usage:
		return KindUsage, w.Counter, true
	case MeterReset:
		return KindMeterReset, w.Counter, true
	case Reading:
		return KindReading, w.Gauge, true
	case Stock:
		return KindStock, w.Spare, true
	case Flag:
		return KindFlag, w.Component, true
	case PutOff:
		return KindPutOff, w.Chore, true
	case Fault:
		return KindFault, w.Component, true
	case Normal:
		return KindNormal, w.Component, true
	case Level:
		return KindLevel, w.Vessel, true
	case Draw:
		return KindDraw, w.Vessel, true
	case Need:
		return KindNeed, w.Vessel, true
	case Away, Batch, Note, Repair:
		return body.Kind(), "", true
	}
	return "", "", false
}

// event adds what happened on a date to the things it happened to.
func (f *folder) event(e *Entry) error {
	b := f.book
	f.at = e.Seq
	switch w := e.Body.(type) {
	case Tick:
		return f.tick(e, w)
	case Usage:
		return f.usage(e, w)
	case MeterReset:
		if err := f.known(KindCounter, "counter", w.Counter); err != nil {
			return err
		}
		b.resets.add(w.Counter, logged(e, w), f.shared)
		f.counted(w.Counter)
	case Reading:
		if err := f.known(KindGauge, "gauge", w.Gauge); err != nil {
			return err
		}
		b.readings.add(w.Gauge, logged(e, w), f.shared)
	case Stock:
		if err := f.known(KindSpare, "spare", w.Spare); err != nil {
			return err
		}
		b.stocks.add(w.Spare, logged(e, w), f.shared)
	case Flag:
		return f.flag(e, w)
	case PutOff:
		if err := f.known(KindChore, "chore", w.Chore); err != nil {
			return err
		}
		b.putOffs.add(w.Chore, logged(e, w), f.shared)
	case Fault:
		if err := f.known(KindComponent, "component", w.Component); err != nil {
			return err
		}
		b.faults.add(w.Component, logged(e, w), f.shared)
		f.faults = true
	case Repair:
		return f.repair(e, w)
	case Normal:
		if err := f.known(KindComponent, "component", w.Component); err != nil {
			return err
		}
		b.normals.add(w.Component, logged(e, w), f.shared)
	case Level:
		if err := f.known(KindVessel, "vessel", w.Vessel); err != nil {
			return err
		}
		b.levels.add(w.Vessel, logged(e, w), f.shared)
	case Draw:
		if err := cmp.Or(f.known(KindVessel, "vessel", w.Vessel), f.optional(KindVessel, "into", w.Into)); err != nil {
			return err
		}
		b.draws.add(w.Vessel, logged(e, w), f.shared)
	case Need:
		if err := cmp.Or(f.known(KindVessel, "vessel", w.Vessel), f.optional(KindChore, "chore", w.Chore)); err != nil {
			return err
		}
		b.needs.add(w.Vessel, logged(e, w), f.shared)
	case Note:
		if w.OnWhat != "" && !b.hasAny(w.OnWhat, e.Seq) {
			return wrong("on_what", w.OnWhat, "the id of something in the book, or kind:id")
		}
		b.notes.add("", logged(e, w), f.shared)
	case Away:
		b.aways.add("", logged(e, w), f.shared)
	case Batch:
		if err := cmp.Or(f.optional(KindVessel, "from", w.From), f.optional(KindVessel, "into", w.Into)); err != nil {
			return err
		}
		b.batches.add("", logged(e, w), f.shared)
	}
	return nil
}

// repair adds a repair. That its fault is there is checked at the end: an amend may move either.
func (f *folder) repair(e *Entry, w Repair) error {
	for _, use := range w.Uses {
		if err := f.known(KindSpare, "uses.spare", use.Spare); err != nil {
			return err
		}
	}
	f.book.repairs.add("", logged(e, w), f.shared)
	f.faults = true
	return nil
}

// checkRepairs holds every repair to a fault that stands and was reported not later. O(repairs times components).
func (b *Book) checkRepairs() error {
	for _, r := range b.repairs.of("") {
		switch f, ok := b.Fault(r.What.Fault); {
		case !ok:
			return &EntryError{r.Seq, wrong("fault", r.What.Fault, "the seq of a fault that stands")}
		case r.On < f.On:
			return &EntryError{r.Seq, wrong("on", r.On, "a date not before the fault, %s", f.On)}
		}
	}
	return nil
}

// FoundWords are the as-found words of a kind of work; none for work read.
func FoundWords(w Work) []Found {
	switch w {
	case WorkClean, WorkRenew:
		return []Found{FoundClean, FoundLight, FoundHeavy, FoundFailed}
	case WorkTest:
		return []Found{FoundPassed, FoundFailed}
	}
	return nil
}

func (f *folder) tick(e *Entry, t Tick) error {
	if err := f.known(KindChore, "chore", t.Chore); err != nil {
		return err
	}
	c, err := definedAt(f.book, f.book.chores, t.Chore, e.Seq)
	if err != nil {
		return err
	}
	if words := FoundWords(c.Work); t.Found != "" && !slices.Contains(words, t.Found) {
		if words == nil {
			return wrong("found", t.Found, "no as-found word: work %s has none", c.Work)
		}
		return wrong("found", t.Found, "%s for work %s", oneOf(words...), c.Work)
	}
	f.book.ticks.add(t.Chore, TickRecord{happening(e), t, f.book.reachAt(c.Component, e.Seq), c.Spares}, f.shared)
	return nil
}

func (f *folder) usage(e *Entry, u Usage) error {
	if err := f.known(KindCounter, "counter", u.Counter); err != nil {
		return err
	}
	c, err := definedAt(f.book, f.book.counters, u.Counter, e.Seq)
	if err != nil {
		return err
	}
	switch {
	case c.Style == StyleAmount && u.Meter != nil:
		return wrong("meter", *u.Meter, "an amount: %s counts amounts, not a running meter", u.Counter)
	case c.Style == StyleMeter && u.Amount != nil:
		return wrong("amount", *u.Amount, "a meter value: %s is a running meter", u.Counter)
	}
	f.book.usages.add(u.Counter, logged(e, u), f.shared)
	f.counted(u.Counter)
	return nil
}

// flag adds a flag; a rebuilt one with a new grade regrades its component from its own
// seq on.
func (f *folder) flag(e *Entry, w Flag) error {
	if err := f.known(KindComponent, "component", w.Component); err != nil {
		return err
	}
	f.book.flags.add(w.Component, logged(e, w), f.shared)
	if w.Reach != 0 || w.AccessMinutes != nil {
		c := f.book.components.byID[w.Component]
		w.Regrade(&c)
		f.book.components.byID[c.ID] = c
	}
	return nil
}

// definedAt is the definition that held when an entry was written; there is one. Any but the latest is read from the file.
func definedAt[D Body](b *Book, r registry[D], id ID, seq Seq) (D, error) {
	latest, by, ok := r.at(id, seq)
	if latest || !ok {
		return r.byID[id], nil
	}
	e, err := b.Written(by)
	if err == nil {
		e, err = b.corrected.reads(e)
	}
	if err != nil || e == nil {
		return r.byID[id], err
	}
	return e.Body.(D), nil
}

// reachAt is the grade that a component had when an entry was written.
func (b *Book) reachAt(component ID, seq Seq) int {
	latest, _, _ := b.components.at(component, seq)
	flags := b.flags.of(component)
	if latest && !slices.ContainsFunc(flags, func(f Logged[Flag]) bool { return f.Seq > seq && f.What.Reach != 0 }) {
		return b.components.byID[component].Reach
	}
	c, _ := b.ComponentBefore(component, seq)
	return c.Reach
}

package ledger

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
)

// listOf names the list that an event stands in: its kind and the id of its thing, "" for what belongs to the book itself.
// ok is false for definitions and amends.
func listOf(body model.Body) (kind model.Kind, id model.ID, ok bool) {
	switch w := body.(type) {
	case model.Tick:
		return model.KindTick, w.Chore, true
	case model.Usage:
		return model.KindUsage, w.Counter, true
	case model.MeterReset:
		return model.KindMeterReset, w.Counter, true
	case model.Reading:
		return model.KindReading, w.Gauge, true
	case model.Stock:
		return model.KindStock, w.Spare, true
	case model.Flag:
		return model.KindFlag, w.Component, true
	case model.PutOff:
		return model.KindPutOff, w.Chore, true
	case model.Fault:
		return model.KindFault, w.Component, true
	case model.Normal:
		return model.KindNormal, w.Component, true
	case model.Level:
		return model.KindLevel, w.Vessel, true
	case model.Draw:
		return model.KindDraw, w.Vessel, true
	case model.Need:
		return model.KindNeed, w.Vessel, true
	case model.Away, model.Batch, model.Note, model.Repair:
		return body.Kind(), "", true
	}
	return "", "", false
}

// event adds what happened on a date to the things it happened to.
func (f *folder) event(e *model.Entry) error {
	b := f.book
	f.at = e.Seq
	switch w := e.Body.(type) {
	case model.Tick:
		return f.tick(e, w)
	case model.Usage:
		return f.usage(e, w)
	case model.MeterReset:
		if err := f.known(model.KindCounter, "counter", w.Counter); err != nil {
			return err
		}
		b.resets.add(w.Counter, logged(e, w), f.shared)
		f.counted(w.Counter)
	case model.Reading:
		if err := f.known(model.KindGauge, "gauge", w.Gauge); err != nil {
			return err
		}
		b.readings.add(w.Gauge, logged(e, w), f.shared)
	case model.Stock:
		if err := f.known(model.KindSpare, "spare", w.Spare); err != nil {
			return err
		}
		b.stocks.add(w.Spare, logged(e, w), f.shared)
	case model.Flag:
		return f.flag(e, w)
	case model.PutOff:
		if err := f.known(model.KindChore, "chore", w.Chore); err != nil {
			return err
		}
		b.putOffs.add(w.Chore, logged(e, w), f.shared)
	case model.Fault:
		if err := f.known(model.KindComponent, "component", w.Component); err != nil {
			return err
		}
		b.faults.add(w.Component, logged(e, w), f.shared)
		f.faults = true
	case model.Repair:
		return f.repair(e, w)
	case model.Normal:
		if err := f.known(model.KindComponent, "component", w.Component); err != nil {
			return err
		}
		b.normals.add(w.Component, logged(e, w), f.shared)
	case model.Level:
		if err := f.known(model.KindVessel, "vessel", w.Vessel); err != nil {
			return err
		}
		b.levels.add(w.Vessel, logged(e, w), f.shared)
	case model.Draw:
		if err := cmp.Or(f.known(model.KindVessel, "vessel", w.Vessel), f.optional(model.KindVessel, "into", w.Into)); err != nil {
			return err
		}
		b.draws.add(w.Vessel, logged(e, w), f.shared)
	case model.Need:
		if err := cmp.Or(f.known(model.KindVessel, "vessel", w.Vessel), f.optional(model.KindChore, "chore", w.Chore)); err != nil {
			return err
		}
		b.needs.add(w.Vessel, logged(e, w), f.shared)
	case model.Note:
		if w.OnWhat != "" && !b.hasAny(w.OnWhat, e.Seq) {
			return model.Wrong("on_what", w.OnWhat, "the id of something in the book, or kind:id")
		}
		b.notes.add("", logged(e, w), f.shared)
	case model.Away:
		b.aways.add("", logged(e, w), f.shared)
	case model.Batch:
		if err := cmp.Or(f.optional(model.KindVessel, "from", w.From), f.optional(model.KindVessel, "into", w.Into)); err != nil {
			return err
		}
		b.batches.add("", logged(e, w), f.shared)
	}
	return nil
}

// repair adds a repair. That its fault is there is checked at the end: an amend may move either.
func (f *folder) repair(e *model.Entry, w model.Repair) error {
	for _, use := range w.Uses {
		if err := f.known(model.KindSpare, "uses.spare", use.Spare); err != nil {
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
			return &EntryError{r.Seq, model.Wrong("fault", r.What.Fault, "the seq of a fault that stands")}
		case r.On < f.On:
			return &EntryError{r.Seq, model.Wrong("on", r.On, "a date not before the fault, %s", f.On)}
		}
	}
	return nil
}

// FoundWords are the as-found words of a kind of work; none for work read.
func FoundWords(w model.Work) []model.Found {
	switch w {
	case model.WorkClean, model.WorkRenew:
		return []model.Found{model.FoundClean, model.FoundLight, model.FoundHeavy, model.FoundFailed}
	case model.WorkTest:
		return []model.Found{model.FoundPassed, model.FoundFailed}
	}
	return nil
}

func (f *folder) tick(e *model.Entry, t model.Tick) error {
	if err := f.known(model.KindChore, "chore", t.Chore); err != nil {
		return err
	}
	c, err := definedAt(f.book, f.book.chores, t.Chore, e.Seq)
	if err != nil {
		return err
	}
	if words := FoundWords(c.Work); t.Found != "" && !slices.Contains(words, t.Found) {
		if words == nil {
			return model.Wrong("found", t.Found, "no as-found word: work %s has none", c.Work)
		}
		return model.Wrong("found", t.Found, "%s for work %s", model.OneOf(words...), c.Work)
	}
	if t.Offset != nil && (t.Found != model.FoundFailed || c.Work != model.WorkTest) {
		return model.Wrong("offset", *t.Offset, "none but for a test that failed")
	}
	uses := c.Spares
	if t.Assumed {
		uses = nil
	}
	f.book.ticks.add(t.Chore, TickRecord{happening(e), t, f.book.reachAt(c.Component, e.Seq), uses}, f.shared)
	return nil
}

func (f *folder) usage(e *model.Entry, u model.Usage) error {
	if err := f.known(model.KindCounter, "counter", u.Counter); err != nil {
		return err
	}
	c, err := definedAt(f.book, f.book.counters, u.Counter, e.Seq)
	if err != nil {
		return err
	}
	switch {
	case c.Style == model.StyleAmount && u.Meter != nil:
		return model.Wrong("meter", *u.Meter, "an amount: %s counts amounts, not a running meter", u.Counter)
	case c.Style == model.StyleMeter && u.Amount != nil:
		return model.Wrong("amount", *u.Amount, "a meter value: %s is a running meter", u.Counter)
	}
	f.book.usages.add(u.Counter, logged(e, u), f.shared)
	f.counted(u.Counter)
	return nil
}

// flag adds a flag; a rebuilt one with a new grade regrades its component from its own
// seq on.
func (f *folder) flag(e *model.Entry, w model.Flag) error {
	if err := f.known(model.KindComponent, "component", w.Component); err != nil {
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
func definedAt[D model.Body](b *Book, r registry[D], id model.ID, seq model.Seq) (D, error) {
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
func (b *Book) reachAt(component model.ID, seq model.Seq) int {
	latest, _, _ := b.components.at(component, seq)
	flags := b.flags.of(component)
	if latest && !slices.ContainsFunc(flags, func(f Logged[model.Flag]) bool { return f.Seq > seq && f.What.Reach != 0 }) {
		return b.components.byID[component].Reach
	}
	c, _ := b.ComponentBefore(component, seq)
	return c.Reach
}

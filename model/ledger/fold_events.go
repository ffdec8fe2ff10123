package ledger

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
)

// thingOf is what an event happened to, by kind and id: its list is of that. Both are "" of what happened to the book
// itself. ok is false for definitions and amends.
func thingOf(body model.Body) (kind model.Kind, id model.ID, ok bool) {
	switch w := body.(type) {
	case model.Tick:
		return model.KindChore, w.Chore, true
	case model.Usage:
		return model.KindCounter, w.Counter, true
	case model.MeterReset:
		return model.KindCounter, w.Counter, true
	case model.Reading:
		return model.KindGauge, w.Gauge, true
	case model.Stock:
		return model.KindSpare, w.Spare, true
	case model.Flag:
		return model.KindComponent, w.Component, true
	case model.PutOff:
		return model.KindChore, w.Chore, true
	case model.Fault:
		return model.KindComponent, w.Component, true
	case model.Normal:
		return model.KindComponent, w.Component, true
	case model.Level:
		return model.KindVessel, w.Vessel, true
	case model.Draw:
		return model.KindVessel, w.Vessel, true
	case model.Need:
		return model.KindVessel, w.Vessel, true
	case model.Away, model.Batch, model.Note, model.Repair:
		return "", "", true
	}
	return "", "", false
}

// event adds what happened on a date to the thing it happened to. An event names its thing in the field that is called
// as the kind of it.
func (f *folder) event(e *model.Entry) error {
	kind, id, _ := thingOf(e.Body)
	if kind != "" {
		if err := f.known(kind, string(kind), id); err != nil {
			return err
		}
	}
	if err := f.checkEvent(e); err != nil {
		return err
	}
	if t, ok := e.Body.(model.Tick); ok {
		return f.tick(e, t)
	}
	lists[e.Kind].add(f.book, id, e, f.shared)
	f.touch(e.Kind, id)
	if w, ok := e.Body.(model.Flag); ok {
		f.regrade(w)
	}
	return nil
}

// checkEvent holds an event to what the book holds, beside the thing that it happened to.
func (f *folder) checkEvent(e *model.Entry) error {
	switch w := e.Body.(type) {
	case model.Usage:
		return f.checkUsage(e, w)
	case model.Draw:
		return f.optional(model.KindVessel, "into", w.Into)
	case model.Need:
		return f.optional(model.KindChore, "chore", w.Chore)
	case model.Batch:
		return cmp.Or(f.optional(model.KindVessel, "from", w.From), f.optional(model.KindVessel, "into", w.Into))
	case model.Note:
		if w.OnWhat != "" && !f.book.hasAny(w.OnWhat, e.Seq) {
			return model.Wrong("on_what", w.OnWhat, "the id of something in the book, or kind:id")
		}
	case model.Repair: // that its fault is there is checked at the end: an amend may move either
		for _, use := range w.Uses {
			if err := f.known(model.KindSpare, "uses.spare", use.Spare); err != nil {
				return err
			}
		}
	}
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

func (f *folder) checkUsage(e *model.Entry, u model.Usage) error {
	c, err := definedAt(f.book, f.book.counters, u.Counter, e.Seq)
	switch {
	case err != nil:
		return err
	case c.Style == model.StyleAmount && u.Meter != nil:
		return model.Wrong("meter", *u.Meter, "an amount: %s counts amounts, not a running meter", u.Counter)
	case c.Style == model.StyleMeter && u.Amount != nil:
		return model.Wrong("amount", *u.Amount, "a meter value: %s is a running meter", u.Counter)
	}
	return nil
}

// regrade gives a component what a rebuilt flag with a new grade says of it, from the flag's own seq on.
func (f *folder) regrade(w model.Flag) {
	if w.Reach != 0 || w.AccessMinutes != nil {
		c := f.book.components.byID[w.Component]
		w.Regrade(&c)
		f.book.components.byID[c.ID] = c
	}
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

package ledger

import (
	"cmp"
	"slices"
	"strings"

	"brine/wrasse/model"
)

func (f *folder) component(e *model.Entry, c model.Component) error {
	if err := f.known(model.KindPlace, "place", c.Place); err != nil {
		return err
	}
	if c.InService = f.inService(e, &c); c.InService.IsZero() {
		return model.Missing("in_service", "the date the part went into service")
	}
	f.book.components.put(c.ID, c, e.Seq)
	f.book.versions[c.ID] = append(slices.Clip(f.book.versions[c.ID]), Version{e.Seq, c.InService, c.Reach, c.AccessMinutes, c.OpensWith, c.ServiceAbout()})
	f.openings = e.Seq
	return nil
}

// inService is the date a component's part went into service: by its definition, else as it was defined before, else by
// when it was first written.
func (f *folder) inService(e *model.Entry, c *model.Component) model.Date {
	was, defined := f.book.components.get(c.ID)
	switch {
	case !c.InService.IsZero():
		return c.InService
	case defined:
		return was.InService
	case !e.On.IsZero():
		return e.On
	}
	return e.Written()
}

func (f *folder) chore(e *model.Entry, c model.Chore) error {
	if err := f.known(model.KindComponent, "component", c.Component); err != nil {
		return err
	}
	for _, clock := range c.Clocks {
		if err := f.clock(clock); err != nil {
			return err
		}
	}
	for _, use := range c.Spares {
		if err := f.known(model.KindSpare, "spares.spare", use.Spare); err != nil {
			return err
		}
	}
	for _, take := range c.Takes {
		if err := f.known(model.KindVessel, "takes.vessel", take.Vessel); err != nil {
			return err
		}
	}
	for _, gauge := range c.DoneBy {
		if err := f.known(model.KindGauge, "done_by", gauge); err != nil {
			return err
		}
	}
	f.book.chores.put(c.ID, c, e.Seq)
	if len(c.Then) > 0 {
		f.calling = append(f.calling, e)
	}
	return nil
}

func (f *folder) vessel(e *model.Entry, v model.Vessel) error {
	if err := f.known(model.KindPlace, "place", v.Place); err != nil {
		return err
	}
	if err := f.optional(model.KindCounter, "fed_by", v.FedBy); err != nil {
		return err
	}
	f.book.vessels.put(v.ID, v, e.Seq)
	return nil
}

func (f *folder) clock(c model.Clock) error {
	switch c.Kind {
	case model.ClockUsage:
		return f.known(model.KindCounter, "usage", c.Counter)
	case model.ClockLoad:
		err := cmp.Or(f.known(model.KindCounter, "load", c.Counter), f.known(model.KindGauge, "inlet", c.Inlet))
		if err == nil && c.Outlet != "" {
			err = f.known(model.KindGauge, "outlet", c.Outlet)
		}
		return err
	case model.ClockReading:
		if !c.Gauge.Derived() {
			return f.known(model.KindGauge, "reading", c.Gauge)
		}
	case model.ClockLevel:
		return f.known(model.KindVessel, "level", c.Vessel)
	}
	return nil
}

// known refuses a reference to what the book doesn't hold at that point of the log.
func (f *folder) known(kind model.Kind, field string, id model.ID) error {
	if f.book.hadAt(kind, id, f.at) {
		return nil
	}
	return model.Wrong(field, id, "the id of a %s that an earlier entry defines", kind)
}

// optional refuses a reference as known does; an empty one is accepted.
func (f *folder) optional(kind model.Kind, field string, id model.ID) error {
	if id == "" {
		return nil
	}
	return f.known(kind, field, id)
}

// hadAt tells whether something was defined before an entry was written.
func (b *Book) hadAt(kind model.Kind, id model.ID, seq model.Seq) bool {
	of := b.definitions(kind)
	return of != nil && of.has(id, seq)
}

// hasAny tells whether a word named something when an entry was written: an id of any kind, or kind:id.
func (b *Book) hasAny(word string, seq model.Seq) bool {
	if kind, id, ok := strings.Cut(word, ":"); ok {
		return b.hadAt(model.Kind(kind), model.ID(id), seq)
	}
	return slices.ContainsFunc(model.Defined, func(k model.Kind) bool { return b.hadAt(k, model.ID(word), seq) })
}

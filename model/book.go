package model

import "slices"

// Book is what a log folds to, as a snapshot: the latest definitions, and the events
// of each thing in order of time. It is never changed; Extend returns a new one.
// The zero Book is empty and ready for use. What a method returns belongs to the Book
// and may not be written to.
type Book struct {
	base   Seq    // entries of the log that are not held; none in a full book
	source Source // where they are; nil in a full book

	log       []*Entry // as written; log[i] has seq base+i+1
	effective []*Entry // as it reads after the amends; nil when struck, and for amends
	struck    []bool

	def        BookDef
	places     registry[Place]
	components registry[Component]
	counters   registry[Counter]
	gauges     registry[Gauge]
	spares     registry[Spare]
	chores     registry[Chore]
	versions   map[ID][]Version

	ticks    events[TickRecord]
	usages   events[Logged[Usage]]
	resets   events[Logged[MeterReset]]
	tallies  map[ID]*count
	readings events[Logged[Reading]]
	stocks   events[Logged[Stock]]
	flags    events[Logged[Flag]]
	defers   events[Logged[Defer]]
	faults   events[Logged[Fault]]
	aways    *run[Logged[Away]]
	batches  *run[Logged[Batch]]
	notes    *run[Logged[Note]]

	past      past
	reordered bool   // of a folded book: some amend was made to amend another entry
	made      *made  // of a folded book: what the last Extend changed
	whole     things // of a folded book: what is held without any past
}

// TickRecord is a tick with what held when it was written.
type TickRecord struct {
	Happening
	Tick
	Reach int        // the component's grade at the time, by seq
	Uses  []SpareUse // what it took off the shelf
}

// Version is one definition of a component: when it was written and since when the
// part it describes has been in service.
type Version struct {
	Seq       Seq
	InService Date

	reach, accessMinutes int // as it graded the component
}

// Amount is what a counter counted at one entry, in the counter's unit. Of a running
// meter it is the difference from the value before; the first value, and the first
// after a reset, count 0.
type Amount struct {
	On  Date
	Seq Seq
	Qty float64
}

// Empty tells whether nothing was ever written.
func (b *Book) Empty() bool { return b.Last() == 0 }

// Last is the seq of the last entry, 0 in an empty book.
func (b *Book) Last() Seq { return b.base + Seq(len(b.log)) }

// Def is the latest definition of the book itself.
func (b *Book) Def() BookDef { return b.def }

// Place is the latest definition of a place.
func (b *Book) Place(id ID) (Place, bool) { return b.places.get(id) }

// Component is the latest definition of a component, its in-service date filled in
// and its grade as rebuilt.
func (b *Book) Component(id ID) (Component, bool) { return b.components.get(id) }

// Counter is the latest definition of a counter.
func (b *Book) Counter(id ID) (Counter, bool) { return b.counters.get(id) }

// Gauge is the latest definition of a gauge.
func (b *Book) Gauge(id ID) (Gauge, bool) { return b.gauges.get(id) }

// Spare is the latest definition of a spare.
func (b *Book) Spare(id ID) (Spare, bool) { return b.spares.get(id) }

// Chore is the latest definition of a chore.
func (b *Book) Chore(id ID) (Chore, bool) { return b.chores.get(id) }

// Places are all places, in the order in which they were first defined.
func (b *Book) Places() []Place { return b.places.all() }

// Components are all components, retired ones too, in order of first definition.
func (b *Book) Components() []Component { return b.components.all() }

// Counters are all counters, in order of first definition.
func (b *Book) Counters() []Counter { return b.counters.all() }

// Gauges are all gauges, in order of first definition.
func (b *Book) Gauges() []Gauge { return b.gauges.all() }

// Spares are all spares, in order of first definition.
func (b *Book) Spares() []Spare { return b.spares.all() }

// Chores are all chores, retired ones too, in order of first definition.
func (b *Book) Chores() []Chore { return b.chores.all() }

// Versions are the definitions of a component in the order they were written.
func (b *Book) Versions(component ID) []Version { return b.versions[component] }

// Ticks are the ticks of a chore in order of time.
func (b *Book) Ticks(chore ID) []TickRecord { return b.ticks.of(chore) }

// Usages are the usage entries of a counter in order of time, as typed.
func (b *Book) Usages(counter ID) []Logged[Usage] { return b.usages.of(counter) }

// Amounts are what a counter counted, in order of time.
func (b *Book) Amounts(counter ID) []Amount { return b.Tally(counter).Amounts() }

// Readings are the readings of a gauge in order of time, unsettled ones too.
func (b *Book) Readings(gauge ID) []Logged[Reading] { return b.readings.of(gauge) }

// StockChanges are the changes of a spare's stock other than by ticks.
func (b *Book) StockChanges(spare ID) []Logged[Stock] { return b.stocks.of(spare) }

// Flags are the flags of a component in order of time.
func (b *Book) Flags(component ID) []Logged[Flag] { return b.flags.of(component) }

// Defers are the times a chore was put off.
func (b *Book) Defers(chore ID) []Logged[Defer] { return b.defers.of(chore) }

// Faults are the faults reported of a component.
func (b *Book) Faults(component ID) []Logged[Fault] { return b.faults.of(component) }

// Aways are the spans nobody was there.
func (b *Book) Aways() []Logged[Away] { return b.aways.all() }

// Batches are the batches mixed, in order of time.
func (b *Book) Batches() []Logged[Batch] { return b.batches.all() }

// Notes are the notes, in order of time.
func (b *Book) Notes() []Logged[Note] { return b.notes.all() }

// Written is the entry of a seq as it was written; nil when the log has none. One that a folded book doesn't hold is read
// from its file.
func (b *Book) Written(seq Seq) (*Entry, error) {
	switch {
	case seq < 1 || seq > b.Last():
		return nil, nil
	case seq > b.base:
		return b.log[seq-b.base-1], nil
	}
	e, err := b.source.Entry(seq)
	if err == nil && e == nil {
		err = &EntryError{seq, wrong("seq", seq, "an entry of the log")}
	}
	return e, err
}

// Reads is the entry of a seq as it reads after all amends: nil when it is struck,
// and for amends, which read as what they change.
func (b *Book) Reads(seq Seq) *Entry {
	switch {
	case seq < 1 || seq > b.Last():
		return nil
	case seq > b.base:
		return b.effective[seq-b.base-1]
	}
	e, _, _ := b.resolved(seq)
	return e
}

// Struck tells whether the entry of a seq is struck.
func (b *Book) Struck(seq Seq) (bool, error) {
	switch {
	case seq < 1 || seq > b.Last():
		return false, nil
	case seq > b.base:
		return b.struck[seq-b.base-1], nil
	}
	_, struck, err := b.resolved(seq)
	return struck, err
}

// resolved is how an entry reads that is not held.
func (b *Book) resolved(seq Seq) (reads *Entry, struck bool, err error) {
	if b.reordered {
		return b.resolvedFromTheEnd(seq)
	}
	family, err := b.family(seq)
	if err != nil {
		return nil, false, err
	}
	effective, gone, err := resolve(family)
	if err != nil {
		return nil, false, err
	}
	i := slices.IndexFunc(family, func(e *Entry) bool { return e.Seq == seq })
	if i < 0 {
		return nil, false, ErrRebuild
	}
	return effective[i], gone[i], nil
}

// resolvedFromTheEnd is resolved for a log in which some amend was made to amend another entry than was written: any of
// those that follow an entry may amend it.
func (b *Book) resolvedFromTheEnd(seq Seq) (reads *Entry, struck bool, err error) {
	const stretch = 2048
	var w Backwards
	for to := b.Last(); to >= seq; to -= min(to, stretch) {
		entries, err := b.Entries(max(seq, to-min(to, stretch)+1), to)
		if err != nil {
			return nil, false, err
		}
		for _, e := range slices.Backward(entries) {
			reads, struck, _, err := w.Take(e)
			if err != nil || e.Seq == seq {
				return reads, struck, err
			}
		}
	}
	return nil, false, nil
}

// Act is the entries of the act that holds seq, as written; none when the log has no such entry.
func (b *Book) Act(seq Seq) ([]*Entry, error) {
	e, err := b.Written(seq)
	if err != nil || e == nil {
		return nil, err
	}
	if e.Act == 0 {
		return []*Entry{e}, nil
	}
	var out []*Entry
	for at := e.Act; at <= b.Last(); at++ {
		of, err := b.Written(at)
		if err != nil {
			return nil, err
		}
		if of.Act != e.Act {
			break
		}
		out = append(out, of)
	}
	return out, nil
}

// GaugeByRole is the gauge in use that plays a role.
func (b *Book) GaugeByRole(role string) (Gauge, bool) {
	for _, id := range b.gauges.order {
		if g := b.gauges.byID[id]; g.Role == role && g.Retired.IsZero() {
			return g, true
		}
	}
	return Gauge{}, false
}

// CounterByRole is the counter in use that plays a role.
func (b *Book) CounterByRole(role string) (Counter, bool) {
	for _, id := range b.counters.order {
		if c := b.counters.byID[id]; c.Role == role && c.Retired.IsZero() {
			return c, true
		}
	}
	return Counter{}, false
}

// SpareByRole is the spare in use that plays a role.
func (b *Book) SpareByRole(role string) (Spare, bool) {
	for _, id := range b.spares.order {
		if s := b.spares.byID[id]; s.Role == role && s.Retired.IsZero() {
			return s, true
		}
	}
	return Spare{}, false
}

// OnHand is the stock of a spare at the end of a date: its stock changes less what
// ticks used. It may be negative, which says "count it".
func (b *Book) OnHand(spare ID, on Date) float64 {
	sum := b.past.stock[spare].sum
	for _, s := range b.stocks.of(spare) {
		if s.On <= on {
			sum += s.What.Change
		}
	}
	for _, id := range b.chores.order {
		sum -= b.past.used(id, spare)
		for _, t := range b.ticks.of(id) {
			if t.On > on {
				break
			}
			for _, use := range t.Uses {
				if use.Spare == spare {
					sum -= use.Quantity
				}
			}
		}
	}
	return sum
}

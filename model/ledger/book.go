package ledger

import (
	"slices"

	"brine/wrasse/model"
)

// Book is what a log folds to, as a snapshot: the latest definitions, and all events
// of each thing in order of time. It is never changed; Extend returns a new one. Any
// goroutine may ask any book at any time.
// The zero Book is empty and ready for use. What a method returns belongs to the Book
// and may not be written to; a slice of nothing may be nil. What isn't said to cost
// more costs the same however long the log is, but a list that came with a snapshot is
// unpacked, in O(its length), by the first who asks for it.
type Book struct {
	source Source         // of the entries up to base; nil when there are none
	base   model.Seq      // entries that are not held
	log    []*model.Entry // those after base, as written

	amends    events[Logged[model.Amend]]
	corrected *corrections // what the amends come to; nil without any
	touched   []model.Seq  // older entries that the last Extend made to read otherwise
	again     bool         // the last Extend folded the log again

	def        model.BookDef
	places     registry[model.Place]
	components registry[model.Component]
	counters   registry[model.Counter]
	gauges     registry[model.Gauge]
	spares     registry[model.Spare]
	vessels    registry[model.Vessel]
	chores     registry[model.Chore]
	versions   map[model.ID][]Version

	ticks    events[TickRecord]
	usages   events[Logged[model.Usage]]
	resets   events[Logged[model.MeterReset]]
	readings events[Logged[model.Reading]]
	stocks   events[Logged[model.Stock]]
	flags    events[Logged[model.Flag]]
	putOffs  events[Logged[model.PutOff]]
	faults   events[Logged[model.Fault]]
	repairs  events[Logged[model.Repair]]
	normals  events[Logged[model.Normal]]
	levels   events[Logged[model.Level]]
	draws    events[Logged[model.Draw]]
	needs    events[Logged[model.Need]]
	aways    events[Logged[model.Away]]
	batches  events[Logged[model.Batch]]
	notes    events[Logged[model.Note]]
	tallies  map[model.ID]func() *Tally
}

// TickRecord is a tick with what held when it was written.
type TickRecord struct {
	Happening
	model.Tick
	Reach int              // the component's grade at the time, by seq
	Uses  []model.SpareUse // what it took off the shelf
}

// Version is one definition of a component: when it was written and since when the
// part it describes has been in service.
type Version struct {
	Seq       model.Seq
	InService model.Date

	reach, accessMinutes int // as it graded the component
	opensWith            model.ID
	about                bool // the date is a guess
}

// Amount is what a counter counted at one entry, in the counter's unit. Of a running
// meter it is the difference from the value before; the first value, and the first
// after a reset, count 0.
type Amount struct {
	On  model.Date
	Seq model.Seq
	Qty float64
}

// Empty tells whether nothing was ever written.
func (b *Book) Empty() bool { return b.Last() == 0 }

// Last is the seq of the last entry, 0 in an empty book.
func (b *Book) Last() model.Seq { return b.base + model.Seq(len(b.log)) }

// Def is the latest definition of the book itself.
func (b *Book) Def() model.BookDef { return b.def }

// Place is the latest definition of a place.
func (b *Book) Place(id model.ID) (model.Place, bool) { return b.places.get(id) }

// Component is the latest definition of a component, its in-service date filled in
// and its grade as rebuilt.
func (b *Book) Component(id model.ID) (model.Component, bool) { return b.components.get(id) }

// Counter is the latest definition of a counter.
func (b *Book) Counter(id model.ID) (model.Counter, bool) { return b.counters.get(id) }

// Gauge is the latest definition of a gauge.
func (b *Book) Gauge(id model.ID) (model.Gauge, bool) { return b.gauges.get(id) }

// Spare is the latest definition of a spare.
func (b *Book) Spare(id model.ID) (model.Spare, bool) { return b.spares.get(id) }

// Vessel is the latest definition of a vessel.
func (b *Book) Vessel(id model.ID) (model.Vessel, bool) { return b.vessels.get(id) }

// Chore is the latest definition of a chore.
func (b *Book) Chore(id model.ID) (model.Chore, bool) { return b.chores.get(id) }

// Places are all places, in the order in which they were first defined.
func (b *Book) Places() []model.Place { return b.places.all() }

// Components are all components, retired ones too, in order of first definition.
func (b *Book) Components() []model.Component { return b.components.all() }

// Counters are all counters, in order of first definition.
func (b *Book) Counters() []model.Counter { return b.counters.all() }

// Gauges are all gauges, in order of first definition.
func (b *Book) Gauges() []model.Gauge { return b.gauges.all() }

// Spares are all spares, in order of first definition.
func (b *Book) Spares() []model.Spare { return b.spares.all() }

// Vessels are all vessels, retired ones too, in order of first definition.
func (b *Book) Vessels() []model.Vessel { return b.vessels.all() }

// Chores are all chores, retired ones too, in order of first definition.
func (b *Book) Chores() []model.Chore { return b.chores.all() }

// Versions are the definitions of a component that is in use, in the order they were written. O(their number).
func (b *Book) Versions(component model.ID) []Version {
	return slices.DeleteFunc(slices.Clone(b.versions[component]), func(v Version) bool { return v.InService == model.NotInUse })
}

// Ticks are the ticks of a chore in order of time.
func (b *Book) Ticks(chore model.ID) []TickRecord { return b.ticks.of(chore) }

// Done are the ticks of a chore in order of time by which work was done: all but those that are assumed.
func (b *Book) Done(chore model.ID) []TickRecord {
	return slices.DeleteFunc(slices.Clone(b.Ticks(chore)), func(t TickRecord) bool { return t.Assumed })
}

// Usages are the usage entries of a counter in order of time, as typed.
func (b *Book) Usages(counter model.ID) []Logged[model.Usage] { return b.usages.of(counter) }

// Amounts are what a counter counted, in order of time; nil when that is nothing. They cost what Tally costs.
func (b *Book) Amounts(counter model.ID) []Amount { return b.Tally(counter).Amounts() }

// Readings are the readings of a gauge in order of time, unsettled ones too.
func (b *Book) Readings(gauge model.ID) []Logged[model.Reading] { return b.readings.of(gauge) }

// StockChanges are the changes of a spare's stock other than by ticks.
func (b *Book) StockChanges(spare model.ID) []Logged[model.Stock] { return b.stocks.of(spare) }

// Flags are the flags of a component in order of time.
func (b *Book) Flags(component model.ID) []Logged[model.Flag] { return b.flags.of(component) }

// PutOffs are the times a chore was put off.
func (b *Book) PutOffs(chore model.ID) []Logged[model.PutOff] { return b.putOffs.of(chore) }

// Faults are the faults reported of a component.
func (b *Book) Faults(component model.ID) []Logged[model.Fault] { return b.faults.of(component) }

// Fault is the fault that an entry reported; ok is false when no entry that stands did so. O(faults).
func (b *Book) Fault(seq model.Seq) (f Logged[model.Fault], ok bool) {
	for _, id := range b.components.order {
		for _, f := range b.faults.of(id) {
			if f.Seq == seq {
				return f, true
			}
		}
	}
	return f, false
}

// Repairs are the faults ended by a repair, in order of time.
func (b *Book) Repairs() []Logged[model.Repair] { return b.repairs.of("") }

// Normals are the entries that say that a component's readings are as they should be.
func (b *Book) Normals(component model.ID) []Logged[model.Normal] { return b.normals.of(component) }

// Levels are the levels counted of a vessel, in order of time.
func (b *Book) Levels(vessel model.ID) []Logged[model.Level] { return b.levels.of(vessel) }

// Draws are the draws out of a vessel, in order of time.
func (b *Book) Draws(vessel model.ID) []Logged[model.Draw] { return b.draws.of(vessel) }

// Needs are the needs of water from a vessel, open or not, in order of time.
func (b *Book) Needs(vessel model.ID) []Logged[model.Need] { return b.needs.of(vessel) }

// Aways are the spans nobody was there.
func (b *Book) Aways() []Logged[model.Away] { return b.aways.of("") }

// Batches are the batches mixed, in order of time.
func (b *Book) Batches() []Logged[model.Batch] { return b.batches.of("") }

// Notes are the notes, in order of time.
func (b *Book) Notes() []Logged[model.Note] { return b.notes.of("") }

// GaugeByRole is the gauge in use that plays a role.
func (b *Book) GaugeByRole(role string) (model.Gauge, bool) {
	return b.gauges.find(func(g model.Gauge) bool { return g.Role == role && g.Retired.IsZero() })
}

// CounterByRole is the counter in use that plays a role.
func (b *Book) CounterByRole(role string) (model.Counter, bool) {
	return b.counters.find(func(c model.Counter) bool { return c.Role == role && c.Retired.IsZero() })
}

// SpareByRole is the spare in use that plays a role.
func (b *Book) SpareByRole(role string) (model.Spare, bool) {
	return b.spares.find(func(s model.Spare) bool { return s.Role == role && s.Retired.IsZero() })
}

// Fills is the counter of what runs into the vessel whose level a chore watches; ok is false of a chore that watches none.
func (b *Book) Fills(chore model.ID) (counter model.Counter, ok bool) {
	c, _ := b.Chore(chore)
	for _, k := range c.Clocks {
		if v, known := b.Vessel(k.Vessel); k.Kind == model.ClockLevel && known && v.FedBy != "" {
			return b.Counter(v.FedBy)
		}
	}
	return counter, false
}

// counted is where the stock of a spare begins: with the first of its changes that is
// no use. What was used before came off a shelf that nobody had counted. ok is false
// while there is none.
func (b *Book) counted(spare model.ID) (m model.Mark, ok bool) {
	for _, s := range b.stocks.of(spare) {
		if s.What.Change >= 0 {
			return s.Mark(), true
		}
	}
	return model.Mark{}, false
}

// Counted tells whether anybody had said by the end of a date how much of a spare there is. O(changes of its stock).
func (b *Book) Counted(spare model.ID, on model.Date) bool {
	since, ok := b.counted(spare)
	return ok && since.On <= on
}

// OnHand is the stock of a spare at the end of a date; 0 before it was counted. It may be negative, which says "count it".
// It costs what Shelf costs.
func (b *Book) OnHand(spare model.ID, on model.Date) float64 { return b.Shelf(on)[spare] }

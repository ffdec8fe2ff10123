package model

import "encoding/binary"

// How each kind of event is packed: after the header, the parts named in the order they
// are written here; those with a flag only where the flag is set.

// The words an event may hold are packed as their place in these lists. A new word goes
// to the end: what a file holds already must keep its meaning.
var (
	packedFounds = []Found{FoundClean, FoundLight, FoundHeavy, FoundFailed, FoundPassed}
	packedStates = []FlagState{FlagFlagged, FlagPlanned, FlagRebuilt, FlagDropped}
	packedCauses = []Cause{"in-the-way", "out-of-sight", "too-tight", "must-drain", "no-shut-off", "heavy", "needs-help", "other"}
)

// The flags of a tick.
const (
	tickFound byte = flagBy << (1 + iota)
	tickAbout
	tickMinutes
	tickPlanned
	tickNote
	tickReach // not that of the tick before
	tickUses  // not those of the tick before
)

// packTicks packs the ticks of a chore. A tick that took nothing off the shelf comes back
// with no list of what it took, whether it had an empty one or none: the log doesn't tell
// these apart either.
func packTicks(list []TickRecord) []byte {
	return packList(list, func(p *packer, t *TickRecord) {
		uses := p.packUses(t.Uses)
		fresh := string(uses) != p.uses
		p.header(&t.Happening,
			when(t.Found != "", tickFound), when(t.About, tickAbout), when(t.Minutes != nil, tickMinutes),
			when(!t.Planned.IsZero(), tickPlanned), when(t.Note != "", tickNote),
			when(t.Reach != p.reach, tickReach), when(fresh, tickUses))
		if t.Found != "" {
			packWord(p, packedFounds, t.Found)
		}
		p.wholeOption(t.Minutes)
		if !t.Planned.IsZero() {
			p.int(int64(t.Planned) - int64(t.On))
		}
		if t.Note != "" {
			p.text(t.Note)
		}
		if t.Reach != p.reach {
			p.int(int64(t.Reach))
			p.reach = t.Reach
		}
		if fresh {
			p.uses = string(uses)
			n, fresh := p.lists.of(p.uses)
			if p.uint(n); fresh {
				p.buf = append(p.buf, uses...)
			}
		}
	})
}

// packUses is a list of spares taken, packed; nothing for an empty one. It is good until
// the next call.
func (p *packer) packUses(uses []SpareUse) []byte {
	if len(uses) == 0 {
		return nil
	}
	buf := binary.AppendUvarint(p.scratch[:0], uint64(len(uses)))
	for _, use := range uses {
		buf = binary.AppendUvarint(buf, uint64(len(use.Spare)))
		buf = appendNumber(append(buf, use.Spare...), use.Quantity)
	}
	p.scratch = buf
	return buf
}

// unpackTicks is the inverse of packTicks. Ticks that took the same off the shelf share
// the list that says so.
func unpackTicks(into []TickRecord, chore ID, data []byte) ([]TickRecord, error) {
	is := packed{KindTick, chore, 0xff, 3}
	return unpackList(into, data, is, func(u *unpacker, t *TickRecord) {
		flags := u.header(&t.Happening)
		t.Chore = chore
		if flags&tickFound != 0 {
			t.Found = unpackWord(u, packedFounds)
		}
		t.About = flags&tickAbout != 0
		if flags&tickMinutes != 0 {
			t.Minutes = u.wholeOption()
		}
		if flags&tickPlanned != 0 {
			t.Planned = u.date(t.On)
		}
		if flags&tickNote != 0 {
			t.Note = u.text()
		}
		if flags&tickReach != 0 {
			u.reach = u.whole()
		}
		if flags&tickUses != 0 {
			u.uses = u.unpackUses()
		}
		t.Reach, t.Uses = u.reach, u.uses
	})
}

// unpackUses reads which of the lists met so far a tick has: 0 none, one more than there
// are a new one, which follows.
func (u *unpacker) unpackUses() []SpareUse {
	n := u.uint()
	switch {
	case n == 0:
		return nil
	case n <= uint64(len(u.lists)):
		return u.lists[n-1]
	case n > uint64(len(u.lists))+1:
		u.fail("a list of spares not met before")
		return nil
	}
	const least = 2 // the length of the id, and the quantity
	uses := make([]SpareUse, u.count(least, "more spares than the bytes can hold"))
	if len(uses) == 0 {
		u.fail("an empty list of spares")
		return nil
	}
	for i := range uses {
		uses[i].Spare = ID(u.text())
		uses[i].Quantity = u.number()
	}
	u.lists = append(u.lists, uses)
	return uses
}

// The flags of a usage: an amount, or the value of a meter.
const (
	usageAmount byte = flagBy << (1 + iota)
	usageMeter
)

// packUsages packs the usage entries of a counter.
func packUsages(list []Logged[Usage]) []byte {
	return packList(list, func(p *packer, e *Logged[Usage]) {
		p.header(&e.Happening, when(e.What.Amount != nil, usageAmount), when(e.What.Meter != nil, usageMeter))
		p.option(e.What.Amount)
		p.option(e.What.Meter)
	})
}

// unpackUsages is the inverse of packUsages. It refuses a usage with both numbers or
// neither, as counting rests on there being one.
func unpackUsages(into []Logged[Usage], counter ID, data []byte) ([]Logged[Usage], error) {
	is := packed{KindUsage, counter, usageAmount | usageMeter, 4}
	return unpackList(into, data, is, func(u *unpacker, e *Logged[Usage]) {
		flags := u.header(&e.Happening)
		e.What.Counter = counter
		switch flags & (usageAmount | usageMeter) {
		case usageAmount:
			e.What.Amount = u.option()
		case usageMeter:
			e.What.Meter = u.option()
		default:
			u.fail("not one of amount and meter")
		}
	})
}

// packResets packs the resets of a running meter.
func packResets(list []Logged[MeterReset]) []byte {
	return packList(list, func(p *packer, e *Logged[MeterReset]) { p.header(&e.Happening) })
}

// unpackResets is the inverse of packResets.
func unpackResets(into []Logged[MeterReset], counter ID, data []byte) ([]Logged[MeterReset], error) {
	return unpackList(into, data, packed{KindMeterReset, counter, 0, 3}, func(u *unpacker, e *Logged[MeterReset]) {
		u.header(&e.Happening)
		e.What.Counter = counter
	})
}

// The flag of a reading: how long the unit had run.
const readingRunning byte = flagBy << 1

// packReadings packs the readings of a gauge.
func packReadings(list []Logged[Reading]) []byte {
	return packList(list, func(p *packer, e *Logged[Reading]) {
		p.header(&e.Happening, when(e.What.MinutesRunning != nil, readingRunning))
		p.number(e.What.Value)
		p.option(e.What.MinutesRunning)
	})
}

// unpackReadings is the inverse of packReadings.
func unpackReadings(into []Logged[Reading], gauge ID, data []byte) ([]Logged[Reading], error) {
	return unpackList(into, data, packed{KindReading, gauge, readingRunning, 4}, func(u *unpacker, e *Logged[Reading]) {
		flags := u.header(&e.Happening)
		e.What.Gauge = gauge
		e.What.Value = u.number()
		if flags&readingRunning != 0 {
			e.What.MinutesRunning = u.option()
		}
	})
}

// The flag of a change of stock.
const stockPrice byte = flagBy << 1

// packStocks packs the changes of a spare's stock.
func packStocks(list []Logged[Stock]) []byte {
	return packList(list, func(p *packer, e *Logged[Stock]) {
		p.header(&e.Happening, when(e.What.Price != nil, stockPrice))
		p.number(e.What.Change)
		p.option(e.What.Price)
	})
}

// unpackStocks is the inverse of packStocks.
func unpackStocks(into []Logged[Stock], spare ID, data []byte) ([]Logged[Stock], error) {
	return unpackList(into, data, packed{KindStock, spare, stockPrice, 4}, func(u *unpacker, e *Logged[Stock]) {
		flags := u.header(&e.Happening)
		e.What.Spare = spare
		e.What.Change = u.number()
		if flags&stockPrice != 0 {
			e.What.Price = u.option()
		}
	})
}

// The flags of a flagged component.
const (
	flagCause byte = flagBy << (1 + iota)
	flagNote
	flagReach
	flagAccess
)

// packFlags packs the flags of a component.
func packFlags(list []Logged[Flag]) []byte {
	return packList(list, func(p *packer, e *Logged[Flag]) {
		w := &e.What
		p.header(&e.Happening, when(w.Cause != "", flagCause), when(w.Note != "", flagNote),
			when(w.Reach != 0, flagReach), when(w.AccessMinutes != nil, flagAccess))
		packWord(p, packedStates, w.State)
		if w.Cause != "" {
			packWord(p, packedCauses, w.Cause)
		}
		if w.Note != "" {
			p.text(w.Note)
		}
		if w.Reach != 0 {
			p.int(int64(w.Reach))
		}
		p.wholeOption(w.AccessMinutes)
	})
}

// unpackFlags is the inverse of packFlags.
func unpackFlags(into []Logged[Flag], component ID, data []byte) ([]Logged[Flag], error) {
	is := packed{KindFlag, component, flagCause | flagNote | flagReach | flagAccess, 4}
	return unpackList(into, data, is, func(u *unpacker, e *Logged[Flag]) {
		flags, w := u.header(&e.Happening), &e.What
		w.Component = component
		w.State = unpackWord(u, packedStates)
		if flags&flagCause != 0 {
			w.Cause = unpackWord(u, packedCauses)
		}
		if flags&flagNote != 0 {
			w.Note = u.text()
		}
		if flags&flagReach != 0 {
			w.Reach = u.whole()
		}
		if flags&flagAccess != 0 {
			w.AccessMinutes = u.wholeOption()
		}
	})
}

// The flag of a chore put off.
const deferReason byte = flagBy << 1

// packDefers packs the times a chore was put off.
func packDefers(list []Logged[Defer]) []byte {
	return packList(list, func(p *packer, e *Logged[Defer]) {
		p.header(&e.Happening, when(e.What.Reason != "", deferReason))
		p.int(int64(e.What.Until) - int64(e.On))
		if e.What.Reason != "" {
			p.text(e.What.Reason)
		}
	})
}

// unpackDefers is the inverse of packDefers.
func unpackDefers(into []Logged[Defer], chore ID, data []byte) ([]Logged[Defer], error) {
	return unpackList(into, data, packed{KindDefer, chore, deferReason, 4}, func(u *unpacker, e *Logged[Defer]) {
		flags := u.header(&e.Happening)
		e.What.Chore = chore
		e.What.Until = u.date(e.On)
		if flags&deferReason != 0 {
			e.What.Reason = u.text()
		}
	})
}

// The flag of a fault.
const faultNote byte = flagBy << 1

// packFaults packs the faults of a component.
func packFaults(list []Logged[Fault]) []byte {
	return packList(list, func(p *packer, e *Logged[Fault]) {
		p.header(&e.Happening, when(e.What.Note != "", faultNote))
		if e.What.Note != "" {
			p.text(e.What.Note)
		}
	})
}

// unpackFaults is the inverse of packFaults.
func unpackFaults(into []Logged[Fault], component ID, data []byte) ([]Logged[Fault], error) {
	return unpackList(into, data, packed{KindFault, component, faultNote, 3}, func(u *unpacker, e *Logged[Fault]) {
		flags := u.header(&e.Happening)
		e.What.Component = component
		if flags&faultNote != 0 {
			e.What.Note = u.text()
		}
	})
}

// The flag of a note.
const noteOnWhat byte = flagBy << 1

// packNotes packs notes.
func packNotes(list []Logged[Note]) []byte {
	return packList(list, func(p *packer, e *Logged[Note]) {
		p.header(&e.Happening, when(e.What.OnWhat != "", noteOnWhat))
		p.text(e.What.Text)
		if e.What.OnWhat != "" {
			p.text(e.What.OnWhat)
		}
	})
}

// unpackNotes is the inverse of packNotes.
func unpackNotes(into []Logged[Note], data []byte) ([]Logged[Note], error) {
	return unpackList(into, data, packed{KindNote, "", noteOnWhat, 4}, func(u *unpacker, e *Logged[Note]) {
		flags := u.header(&e.Happening)
		e.What.Text = u.text()
		if flags&noteOnWhat != 0 {
			e.What.OnWhat = u.text()
		}
	})
}

// packAways packs the spans nobody was there.
func packAways(list []Logged[Away]) []byte {
	return packList(list, func(p *packer, e *Logged[Away]) {
		p.header(&e.Happening)
		p.int(int64(e.What.Until) - int64(e.On))
	})
}

// unpackAways is the inverse of packAways.
func unpackAways(into []Logged[Away], data []byte) ([]Logged[Away], error) {
	return unpackList(into, data, packed{KindAway, "", 0, 4}, func(u *unpacker, e *Logged[Away]) {
		u.header(&e.Happening)
		e.What.Until = u.date(e.On)
	})
}

// The flags of a batch.
const (
	batchSalinity byte = flagBy << (1 + iota)
	batchTemperature
)

// packBatches packs the batches mixed.
func packBatches(list []Logged[Batch]) []byte {
	return packList(list, func(p *packer, e *Logged[Batch]) {
		w := &e.What
		p.header(&e.Happening, when(w.Salinity != nil, batchSalinity), when(w.TemperatureC != nil, batchTemperature))
		p.number(w.VolumeL)
		p.number(w.SaltG)
		p.option(w.Salinity)
		p.option(w.TemperatureC)
	})
}

// unpackBatches is the inverse of packBatches.
func unpackBatches(into []Logged[Batch], data []byte) ([]Logged[Batch], error) {
	is := packed{KindBatch, "", batchSalinity | batchTemperature, 5}
	return unpackList(into, data, is, func(u *unpacker, e *Logged[Batch]) {
		flags, w := u.header(&e.Happening), &e.What
		w.VolumeL, w.SaltG = u.number(), u.number()
		if flags&batchSalinity != 0 {
			w.Salinity = u.option()
		}
		if flags&batchTemperature != 0 {
			w.TemperatureC = u.option()
		}
	})
}

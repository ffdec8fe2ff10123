package request

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/water"
	"brine/wrasse/schedule"
)

// Flag puts a component on the rethink list, or moves it along there. Without a
// state it is flagged, and a flagged one without a cause is in the way.
type Flag struct {
	Stamp
	model.Flag
	Apart bool // rebuilt, it no longer opens with another
}

// Entries is the flag and, of a component taken apart from another, its definition as
// rebuilt and opened by itself. The flag comes first: what the component was until
// then stands before it in the log.
func (r Flag) Entries(b *ledger.Book) ([]model.Entry, error) {
	f := r.Flag
	if f.State == "" {
		f.State = model.FlagFlagged
	}
	if f.State == model.FlagFlagged && f.Cause == "" {
		f.Cause = model.Causes[0]
	}
	if !r.Apart {
		return r.entries(f), nil
	}
	c, err := known(b.Component, f.Component)
	if err != nil {
		return nil, err
	}
	f.Regrade(&c)
	c.OpensWith = ""
	return r.entries(f, c), nil
}

// Log writes one thing down as it is given: a component broken now (Fault), one whose readings are as they should be from
// here on (Normal), spares bought or used outside a tick (Stock), the water counted in a vessel (Level), water wanted by a
// date (Need), or fields of an earlier entry replaced, or that entry struck (Amend).
type Log struct {
	Stamp
	What model.Body
}

// Entries is the entry.
func (r Log) Entries(*ledger.Book) ([]model.Entry, error) { return r.entries(r.What), nil }

// Repair ends a fault by something else than a chore, and takes off the shelf what that used.
type Repair struct {
	Stamp
	model.Repair
}

// Entries is the repair. A fault that is repaired already is refused.
func (r Repair) Entries(b *ledger.Book) ([]model.Entry, error) {
	for _, done := range b.Repairs() {
		if done.What.Fault == r.Fault {
			return nil, fmt.Errorf("it was repaired on %s already; nothing to do", done.On)
		}
	}
	return r.entries(r.Repair), nil
}

// RepairAll ends every open fault of a component on the stamp's date. The first repair has the note and takes what was used.
func RepairAll(b *ledger.Book, s Stamp, c model.Component, what model.Repair) ([]model.Entry, error) {
	var out []model.Entry
	for _, f := range schedule.Make(b, s.On).Faults {
		if f.Component.ID == c.ID {
			what.Fault = f.Seq
			out = append(out, s.entry(what))
			what = model.Repair{}
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s is not broken on %s; nothing to repair (wrasse round lists what is)", c.Name, s.On)
	}
	return out, nil
}

// PutOff puts chores off until a date, all for the same reason.
type PutOff struct {
	Stamp
	Chores []model.ID
	Until  model.Date
	Reason string
}

// Entries is one entry for each chore put off.
func (r PutOff) Entries(b *ledger.Book) ([]model.Entry, error) {
	var out []model.Entry
	for _, id := range r.Chores {
		out = append(out, r.entry(model.PutOff{Chore: id, Until: r.Until, Reason: r.Reason}))
	}
	return out, nil
}

// Away says that nobody is there from the stamp's date until another, the first day back, and whom a sitter calls.
type Away struct {
	Stamp
	model.Away
	Contact *string // nil leaves it as it is
}

// Entries is the absence and, where the contact is another, the book's definition with it.
func (r Away) Entries(b *ledger.Book) ([]model.Entry, error) {
	out := r.entries(r.Away)
	if def := b.Def(); r.Contact != nil && *r.Contact != def.Contact {
		def.Contact = *r.Contact
		out = append(out, r.entry(def))
	}
	return out, nil
}

// Mix logs a mixed batch. The counter of batches goes up by one, and the salt is
// taken off the shelf where the book knows the salt and keeps it by mass. Where nothing else is said, the water
// comes from the only vessel of fresh water and goes into the only one of salt water.
type Mix struct {
	Stamp
	model.Batch
}

// Entries is the batch, the usage of the counter of batches, and the salt.
func (r Mix) Entries(b *ledger.Book) ([]model.Entry, error) {
	if r.From == "" {
		r.From = OnlyVessel(b, model.HoldsFresh, r.On)
	}
	if r.Into == "" {
		r.Into = OnlyVessel(b, model.HoldsSalt, r.On)
	}
	out := r.entries(r.Batch)
	if c, ok := b.CounterByRole(model.RoleBatches); ok {
		one, err := oneMore(b, c, r.On)
		if err != nil {
			return nil, err
		}
		out = append(out, r.entry(usage(c, one)))
	}
	if salt, used, ok := onTheShelf(b, r.SaltG); ok {
		out = append(out, r.entry(model.Stock{Spare: salt, Change: -used}))
	}
	return out, nil
}

// onTheShelf is the salt that the book keeps by mass, and an amount of it in the unit it is kept in; ok is false of none.
func onTheShelf(b *ledger.Book, grams float64) (salt model.ID, amount float64, ok bool) {
	s, known := b.SpareByRole(model.RoleSalt)
	unit, err := water.ParseUnit(s.Unit)
	if !known || err != nil || grams <= 0 {
		return "", 0, false
	}
	amount, err = water.Convert(grams, water.Gram, unit)
	return s.ID, amount, err == nil
}

// oneMore is what to log so that a counter counts one more at the end of a date: of a running meter its next value.
func oneMore(b *ledger.Book, c model.Counter, on model.Date) (float64, error) {
	if c.Style != model.StyleMeter {
		return 1, nil
	}
	last, known := b.LastMeter(c.ID, on)
	if !known {
		return 0, fmt.Errorf("%s is a running meter, and what it shows is not known; log that first (%s), then the batch", c.Name, c.ID)
	}
	return last + 1, nil
}

// Use logs an amount of a counter, or the value its running meter shows, in the
// counter's unit.
type Use struct {
	Stamp
	Counter model.ID
	Amount  float64
	Reset   bool // a running meter was set back before this value
}

// Entries is the usage, with the reset of the meter before it where there was one.
func (r Use) Entries(b *ledger.Book) ([]model.Entry, error) {
	c, err := known(b.Counter, r.Counter)
	if err != nil {
		return nil, err
	}
	var out []model.Entry
	if r.Reset {
		if c.Style != model.StyleMeter {
			return nil, fmt.Errorf("%s counts amounts and has no meter to reset; log the amount alone", c.ID)
		}
		out = append(out, r.entry(model.MeterReset{Counter: c.ID}))
	}
	return append(out, r.entry(usage(c, r.Amount))), nil
}

func usage(c model.Counter, v float64) model.Usage {
	if c.Style == model.StyleMeter {
		return model.Usage{Counter: c.ID, Meter: &v}
	}
	return model.Usage{Counter: c.ID, Amount: &v}
}

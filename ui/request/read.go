package request

import (
	"errors"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Read logs readings, each in its gauge's unit, all as one act.
type Read struct {
	Stamp
	Readings []model.Reading
}

// Entries is the readings and, for each chore that is done by reading gauges, its
// tick when these are the last of its gauges on the date. A reading of the vat after a batch measures that.
func (r Read) Entries(b *ledger.Book) ([]model.Entry, error) {
	if len(r.Readings) == 0 {
		return nil, errors.New("nothing was read; give a gauge and its value")
	}
	var out []model.Entry
	for _, reading := range r.Readings {
		out = append(out, r.entry(reading))
	}
	measured, err := r.measurements(b)
	if err != nil {
		return nil, err
	}
	out = append(out, measured...)
	read := b
	for _, c := range b.Chores() {
		if !r.completes(b, c) {
			continue
		}
		if read == b { // as it stands once the readings are in
			var err error
			if read, err = extended(b, out); err != nil {
				return nil, err
			}
		}
		t, err := stamped(read, nil, Done{On: r.On, What: model.Tick{Chore: c.ID}})
		if err != nil {
			return nil, err
		}
		out = append(out, r.entry(t))
	}
	return out, nil
}

// completes tells whether these readings are the last that a chore done by
// reading waited for on this date.
func (r Read) completes(b *ledger.Book, c model.Chore) bool {
	if len(c.DoneBy) == 0 || gone(c.Retired, r.On) {
		return false
	}
	if on, _ := b.Component(c.Component); gone(on.Retired, r.On) {
		return false
	}
	if slices.ContainsFunc(b.Ticks(c.ID), func(t ledger.TickRecord) bool { return t.On == r.On }) {
		return false
	}
	fresh := false
	for _, gauge := range c.DoneBy {
		now := slices.ContainsFunc(r.Readings, func(m model.Reading) bool { return m.Gauge == gauge && m.Counts() })
		before := slices.ContainsFunc(b.Readings(gauge), func(m ledger.Logged[model.Reading]) bool {
			return m.On == r.On && m.What.Counts()
		})
		if !now && !before {
			return false
		}
		fresh = fresh || now
	}
	return fresh
}

func gone(retired, on model.Date) bool { return !retired.IsZero() && retired <= on }

package ledger

import (
	"slices"

	"brine/wrasse/model"
)

// Off is an instrument whose check failed and that was not mended since. What it shows is kept and shown as it was read:
// whether a reading is corrected is for whoever took it to say.
type Off struct {
	Instrument model.Component
	Since      model.Mark // of the check that failed first
	By         *float64   // what it showed too much, in the unit of the gauge; nil when nobody said
}

// ReadWith are the gauges in use that are read with an instrument.
func (b *Book) ReadWith(instrument model.ID) []model.Gauge {
	return slices.DeleteFunc(slices.Clone(b.Gauges()), func(g model.Gauge) bool { return g.Instrument != instrument || !g.Retired.IsZero() })
}

// ReadSince tells whether a gauge was read, up to a date, since the check that its instrument failed.
func (b *Book) ReadSince(gauge model.ID, on model.Date) bool {
	g, _ := b.Gauge(gauge)
	off, ok := b.Off(g, model.EndOf(on))
	return ok && len(b.ReadingsWithin(gauge, off.Since, model.EndOf(on))) > 0
}

// Off is the instrument of a gauge as it stood before a place in time; ok is false when it was not known to be off. A
// check that passed mends it, and so does whatever renewed it.
func (b *Book) Off(g model.Gauge, before model.Mark) (off Off, ok bool) {
	of, known := b.Component(g.Instrument)
	if g.Instrument == "" || !known {
		return off, false
	}
	off.Instrument = of
	renewed := model.Mark{On: of.InService}
	for _, c := range b.Chores() {
		if c.Component != of.ID || c.Work != model.WorkTest {
			if ticks := upTo(b.ticks.of(c.ID), markOf, before); c.Component == of.ID && c.Work == model.WorkRenew && len(ticks) > 0 {
				if last := ticks[len(ticks)-1].Mark(); renewed.Before(last) {
					renewed = last
				}
			}
			continue
		}
		ticks := upTo(b.ticks.of(c.ID), markOf, before)
		for i := len(ticks) - 1; i >= 0 && ticks[i].Found != model.FoundPassed; i-- {
			if t := &ticks[i]; t.Found == model.FoundFailed {
				if off.Since = t.Mark(); off.By == nil {
					off.By = t.Offset
				}
				ok = true
			}
		}
	}
	return off, ok && renewed.Before(off.Since)
}

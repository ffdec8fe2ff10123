package request

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
)

// followedDays is how long a batch that was not measured waits for a reading of its vat: by then it is in the tank. Common
// practice, no source.
const followedDays = 14

// LatestBatch is the last batch dated not after a date.
func LatestBatch(b *ledger.Book, on model.Date) (last ledger.Logged[model.Batch], ok bool) {
	all := b.Batches()
	i := len(all) - 1
	for i >= 0 && all[i].On > on {
		i--
	}
	if i < 0 {
		return last, false
	}
	return all[i], true
}

// measures is the batch that a reading measures: the latest, not measured yet, where the gauge reads the salinity of the vat
// that it was mixed in. ok is false where there is none, where the gauge may be of other water, and where no dry mix makes
// what was read of that salt in that water: then somebody must say which batch it was.
func measures(b *ledger.Book, r model.Reading, on model.Date) (seq model.Seq, ok bool) {
	batch, ok := LatestBatch(b, on)
	if !ok || batch.What.Salinity != nil || on.Sub(batch.On) > followedDays || !r.Counts() {
		return 0, false
	}
	vat := batch.What.Into
	if vat == "" {
		vat = OnlyVessel(b, model.HoldsSalt, on)
	}
	v, _ := b.Vessel(vat)
	g, _ := b.Gauge(r.Gauge)
	c, known := b.Component(g.Component)
	if !known || g.Unit != "SP" || g.Role == model.RoleSalinity || c.Place != v.Place {
		return 0, false
	}
	batch.What.Salinity = &r.Value
	_, ok = station.BatchStrength(batch.What)
	return batch.Seq, ok
}

// measurements are the amends of the batches that readings measure.
func (r Read) measurements(b *ledger.Book) (out []model.Entry, err error) {
	for _, reading := range r.Readings {
		seq, ok := measures(b, reading, r.On)
		if !ok {
			continue
		}
		amend, err := Measure{Stamp: r.Stamp, Batch: seq, Salinity: reading.Value}.Entries(b)
		if err != nil {
			return nil, err
		}
		out = slices.Concat(out, amend)
	}
	return out, nil
}

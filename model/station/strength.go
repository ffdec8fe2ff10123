package station

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/water"
)

// Strength is the active fraction of the dry mix in use: the share of its mass that is
// sea salt.
type Strength struct {
	Fraction  float64 // what a batch is reckoned with
	Low, High float64 // its spread: the least and the most salt a gram may carry
	Batches   int     // measured batches it was learnt from; 0 when it is the common range
}

const (
	// batchesNeeded are the measured batches from which the book's own salt is known.
	batchesNeeded = 3
	// batchesLatest are those it is learnt from: a sack is used up and another opened.
	batchesLatest = 8
	// usualC stands in for a batch's temperature where none was written down.
	usualC = 25
)

// defaultStrength is the common range of dry mixes, for a book with fewer than 3
// measured batches.
var defaultStrength = Strength{Fraction: water.ActiveFractionDefault, Low: water.ActiveFractionLow, High: water.ActiveFractionHigh}

// StrengthOf is what the book's batches up to a date say of the salt: the median of the
// latest measured ones, with the least and the greatest of them. Batches that no dry
// mix can have made (a figure was mistyped) teach nothing.
func StrengthOf(b *ledger.Book, on model.Date) Strength {
	var shown []float64
	for _, batch := range b.Batches() {
		if batch.On > on {
			continue
		}
		if f, ok := BatchStrength(batch.What); ok {
			shown = append(shown, f)
		}
	}
	if len(shown) < batchesNeeded {
		return defaultStrength
	}
	latest := shown[max(len(shown)-batchesLatest, 0):]
	return Strength{median(latest), slices.Min(latest), slices.Max(latest), len(latest)}
}

// BatchStrength is the active fraction that one measured batch shows.
func BatchStrength(batch model.Batch) (float64, bool) {
	if batch.Salinity == nil || batch.SaltG <= 0 {
		return 0, false
	}
	gPerKg, err := water.ReferenceSalinity(*batch.Salinity)
	if err != nil {
		return 0, false
	}
	f, err := water.ActiveFraction(batch.VolumeL, batchC(batch), batch.SaltG, gPerKg)
	return f, err == nil
}

func batchC(batch model.Batch) float64 {
	if batch.TemperatureC != nil {
		return *batch.TemperatureC
	}
	return usualC
}

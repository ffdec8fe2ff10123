package schedule

import (
	"math"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	waterstation "brine/wrasse/model/station"
	"brine/wrasse/schedule/trend"
)

// mostWatched is how many readings, the latest, a drift is watched over: as many as a book opened for the day's work
// holds of each gauge, at the least.
const mostWatched = 200

// Drift tells whether a gauge, or a derived one, has left the range of the first of its latest 200 readings since a date,
// or of all its latest 200 when that is no date; nil when it has not. Pass the date of the renewal that gave it a new
// range.
func (r *Round) Drift(gauge model.ID, since model.Date) *Drift {
	return r.sight.findDrift(gauge, r.sight.series.Of(gauge, model.Mark{On: since}, r.sight.end))
}

// drift is that of a gauge over all it has read.
func (v *sight) drift(gauge model.ID) *Drift {
	v.mu.Lock()
	defer v.mu.Unlock()
	d, known := v.drifts[gauge]
	if !known {
		d = v.findDrift(gauge, v.series.Of(gauge, model.Mark{}, v.end))
		v.drifts[gauge] = d
	}
	return d
}

// findDrift watches the latest of some values of a gauge.
func (v *sight) findDrift(gauge model.ID, samples []ledger.Sample) *Drift {
	samples = samples[max(0, len(samples)-mostWatched):]
	values := make([]float64, len(samples))
	for i, l := range samples {
		values[i] = l.Value
	}
	d, ok := trend.FindDrift(values, v.resolution(gauge, values))
	if !ok {
		return nil
	}
	return &Drift{Since: samples[d.Since].On, Up: d.Up, Mean: d.Baseline, Value: d.Average}
}

// flowSigma is what one normalised flow is good to at the best, in percent: the flow itself to 3 % (common practice).
const flowSigma = 3

// resolution is twice what a value may be off by the instrument alone, so that nothing smaller is called a drift: of a
// rejection one step of the meter over the tap, in points; of the normalised flow 3 %.
func (v *sight) resolution(gauge model.ID, values []float64) float64 {
	switch gauge {
	case model.Rejection:
		if g, ok := v.book.GaugeByRole(model.RoleTDSTap); ok {
			if tap := v.book.Samples(g.ID, v.on); len(tap) > 0 && tap[len(tap)-1].Value > 0 {
				return 2 * 100 * waterstation.MeterStep(v.book, v.on) / tap[len(tap)-1].Value
			}
		}
	case model.NormalisedFlow:
		return 2 * flowSigma
	}
	return lastDigit(gauge, values)
}

// lastDigit is one unit of the last digit that a gauge shows: of the readings as they were typed, and for derived gauges a
// tenth.
func lastDigit(gauge model.ID, values []float64) float64 {
	if gauge.Derived() {
		return 0.1
	}
	digits := 0
	for _, v := range values {
		for !shows(v, digits) {
			digits++
		}
	}
	return math.Pow10(-digits)
}

// shows tells whether a value, as it is typed in the fewest digits, has no more than some digits after the point.
func shows(v float64, digits int) bool {
	const (
		exactTens = 22      // powers of ten up to this are floats
		exactInts = 1 << 50 // below this, a whole number that a product lies nearest to is told for certain
	)
	tens := math.Pow10(digits)
	scaled := v * tens
	if digits > exactTens || math.Abs(scaled) >= exactInts {
		_, after, _ := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), ".")
		return len(after) <= digits
	}
	return math.Round(scaled)/tens == v // a quotient of two exact numbers, and so the float that is typed like that
}

package schedule

import (
	"math"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule/trend"
)

// Drift tells whether a gauge, or a derived one, has left the range of its first readings since a date, or since it
// was first read when that is no date; nil when it has not. Pass the date of the renewal that gave it a new range.
func (r *Round) Drift(gauge model.ID, since model.Date) *Drift {
	return findDrift(gauge, r.sight.series.Of(gauge, model.Mark{On: since}, r.sight.end))
}

func findDrift(gauge model.ID, levels []model.Level) *Drift {
	values := make([]float64, len(levels))
	for i, l := range levels {
		values[i] = l.Value
	}
	d, ok := trend.FindDrift(values, resolution(gauge, values))
	if !ok {
		return nil
	}
	return &Drift{Since: levels[d.Since].On, Up: d.Up, Mean: d.Baseline, Value: d.Average}
}

// resolution is one unit of the last digit that a gauge shows: of the readings as they were typed, and for derived
// gauges a tenth.
func resolution(gauge model.ID, values []float64) float64 {
	if gauge.Derived() {
		return 0.1
	}
	digits := 0
	for _, v := range values {
		if _, after, ok := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), "."); ok {
			digits = max(digits, len(after))
		}
	}
	return math.Pow10(-digits)
}

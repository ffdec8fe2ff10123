package station

import (
	"math"
	"slices"

	"brine/wrasse/model"
)

// The keeper's own first weeks are what readings are held against. They begin two
// days after the membrane was renewed, when it has settled, or with the first reading
// where that is later; a median over eight weeks outlasts a single odd reading and is
// short against the life of a membrane. Common practice, no source.
const (
	settlingDays = 2
	firstDays    = 56
)

// Window is a span of dates, both ends in it; the zero Window is empty.
type Window struct{ From, Through model.Date }

// firstWeeks are those of the membrane in use on a date.
func firstWeeks(b *model.Book, on model.Date) Window {
	from := membraneSince(b, on)
	if from != 0 {
		from = from.AddDays(settlingDays)
	}
	first := model.Date(0)
	for _, r := range roles {
		g, ok := b.GaugeByRole(r.role)
		if !ok {
			continue
		}
		for _, l := range b.ReadingsWithin(g.ID, model.Mark{On: from}, model.EndOf(on)) {
			if l.What.Counts() {
				if first == 0 || l.On < first {
					first = l.On
				}
				break
			}
		}
	}
	if first == 0 {
		return Window{}
	}
	from = max(from, first)
	return Window{from, from.AddDays(firstDays)}
}

// membraneSince is when the membrane in use on a date was put in: its last renewal, or
// when the component went into service; no date when neither is known.
func membraneSince(b *model.Book, on model.Date) model.Date {
	since := model.Date(0)
	for _, c := range b.Chores() {
		part, _ := b.Component(c.Component)
		if part.Stage != model.StageMembrane || c.Work != model.WorkRenew {
			continue
		}
		if starts := b.Starts(c.ID, on); len(starts) > 0 {
			since = max(since, starts[len(starts)-1].On)
		}
	}
	return since
}

// baseline is the median of what a gauge showed in the first weeks, before its latest
// value was taken; nil when that is the first.
func (w Window) baseline(b *model.Book, g model.Gauge, latest Value) *float64 {
	var in []float64
	for _, l := range b.LevelsFrom(g.ID, w.From, min(w.Through, latest.Taken-1)) {
		in = append(in, l.Value)
	}
	if len(in) == 0 {
		return nil
	}
	m := median(in)
	return &m
}

func median(v []float64) float64 {
	s := slices.Sorted(slices.Values(v))
	n := len(s)
	return (s[(n-1)/2] + s[n/2]) / 2
}

// resolutionFrom is how many of the latest readings tell the steps of the meter.
const resolutionFrom = 12

// resolution is the step in which the keeper's TDS meter shows, in ppm: 1, 0.1 or
// 0.01, by the decimals of the latest readings after the membrane and the resin.
func resolution(b *model.Book, on model.Date) float64 {
	step := 1.0
	for _, role := range []string{model.RoleTDSMembrane, model.RoleTDSProduct} {
		g, ok := b.GaugeByRole(role)
		if !ok {
			continue
		}
		looked, day := 0, model.Date(0)
		for _, r := range slices.Backward(b.ReadingsWithin(g.ID, model.Mark{}, model.EndOf(on))) {
			if !r.What.Counts() || r.On == day {
				continue // of a day the last one tells
			}
			if looked == resolutionFrom {
				break
			}
			looked, day = looked+1, r.On
			for step > 0.01 && math.Abs(r.What.Value/step-math.Round(r.What.Value/step)) > 1e-6 {
				step /= 10
			}
		}
	}
	return step
}

// defaultProductPPM is above which the resin is changed where no chore says so.
const defaultProductPPM = 1

// productLimit is above which the keeper changes the resin, in ppm.
func productLimit(b *model.Book) float64 {
	g, ok := b.GaugeByRole(model.RoleTDSProduct)
	if !ok {
		return defaultProductPPM
	}
	if limit, ok := Threshold(b, g.ID); ok {
		return limit.Value
	}
	return defaultProductPPM
}

// Limit is a threshold that a chore keeps a gauge to.
type Limit struct {
	Value float64
	Bad   model.Side
}

// Threshold is where a chore in use calls a gauge, read or derived, bad.
func Threshold(b *model.Book, gauge model.ID) (Limit, bool) {
	for _, c := range b.Chores() {
		part, _ := b.Component(c.Component)
		if !c.Retired.IsZero() || !part.Retired.IsZero() {
			continue
		}
		for _, k := range c.Clocks {
			if k.Kind == model.ClockReading && k.Gauge == gauge {
				return Limit{k.Limit, k.Bad}, true
			}
		}
	}
	return Limit{}, false
}

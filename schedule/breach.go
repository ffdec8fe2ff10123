package schedule

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
)

// Breach is a gauge whose latest reading lies outside its safe range. It stands above the round, as a fault does, until a
// reading lies inside.
type Breach struct {
	Gauge model.Gauge
	Since model.Date // of the first of the readings in a row that lie outside
	On    model.Date // of the latest
	Value float64    // the latest, in the gauge's unit
}

// breaches are those of the gauges in use, oldest first. A reading taken too soon after standstill counts neither way.
func (v *sight) breaches() []Breach {
	var out []Breach
	for _, g := range v.book.Gauges() {
		of, _ := v.book.Component(g.Component)
		if g.Safe == nil || retired(g.Retired, v.on) || retired(of.Retired, v.on) {
			continue
		}
		b := Breach{Gauge: g}
		for _, r := range slices.Backward(v.book.ReadingsWithin(g.ID, model.Mark{}, v.end)) {
			if !r.What.Counts() {
				continue
			}
			if g.Safe.Holds(r.What.Value) {
				break
			}
			if b.On.IsZero() {
				b.On, b.Value = r.On, r.What.Value
			}
			b.Since = r.On
		}
		if !b.On.IsZero() {
			out = append(out, b)
		}
	}
	slices.SortStableFunc(out, func(a, b Breach) int { return cmp.Compare(a.Since, b.Since) })
	return out
}

// Package station reads a book as a water station: what each of its gauges showed
// last, how old that is and what it showed when the membrane was new, gathered into
// the readings that model/water diagnoses; and what the vat's batches say of the
// salt they were mixed with.
//
// Start at Of for the readings and their verdict, at Strength and Plan for mixing.
// It only gathers: the physics is package water's, and what a date rests on is
// package schedule's. Pure, like the packages it stands on.
package station

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/water"
	"slices"
)

// Station is what is known of the water on a date.
type Station struct {
	On     model.Date
	Values []Value // what is read, in the order the water flows, then the rest of its gauges

	Readings  water.Readings
	Diagnosis water.Diagnosis
	// Refused says why nothing was diagnosed: a reading that no instrument shows.
	Refused error

	Rejection Derived // percent
	// RejectionAt says beside it how it is meant: "raw", or "at 20 °C" (or as °F) where warm water is excused.
	RejectionAt string
	NormalFlow  Derived // percent of the first weeks
	WasteRatio  Derived // waste over product
	Drop        Derived // bar over the prefilters

	FirstWeeks Window // in which baselines were taken; empty when there are none yet
	Cautions   []string
}

// Value is what a gauge showed last.
type Value struct {
	Gauge  model.Gauge
	Taken  model.Date // no date when it was never read
	Value  float64    // in the gauge's unit
	Age    int        // days
	Counts bool       // it was taken after the unit had run long enough
	Ran    *float64   // minutes; nil when not said
	Before *float64   // the last before it that counts

	mark model.Mark
}

// Read tells whether the gauge was ever read.
func (v Value) Read() bool { return !v.Taken.IsZero() }

// Mark is its place in time.
func (v Value) Mark() model.Mark { return v.mark }

// Derived is the latest value of a gauge that is computed from others.
type Derived struct {
	Value  float64
	Taken  model.Date // no date when there is none; Why says what is missing
	Age    int
	Before *float64
	Why    string

	mark model.Mark
}

// Known tells whether there is a value.
func (d Derived) Known() bool { return !d.Taken.IsZero() }

// Roles that station looks for beside those of package model; gauges may have any.
const (
	RoleTDSWaste      = "tds-waste"
	RoleTDSReservoir  = "tds-reservoir"
	RoleProductPH     = "ph-product"
	RoleTapPH         = "ph-tap"
	RoleTapAlkalinity = "alkalinity-tap"
)

// roles are the gauges of the station in the order the water flows, and where each
// stands in the readings.
var roles = []struct {
	role string
	of   func(*water.Readings) **water.Reading
}{
	{model.RoleTDSTap, func(r *water.Readings) **water.Reading { return &r.TapTDS }},
	{model.RoleTDSMembrane, func(r *water.Readings) **water.Reading { return &r.MembraneTDS }},
	{model.RoleTDSProduct, func(r *water.Readings) **water.Reading { return &r.ProductTDS }},
	{RoleTDSReservoir, func(r *water.Readings) **water.Reading { return &r.ReservoirTDS }},
	{RoleTDSWaste, func(r *water.Readings) **water.Reading { return &r.WasteTDS }},
	{model.RoleTemperatureWater, func(r *water.Readings) **water.Reading { return &r.WaterTemperature }},
	{model.RolePressureLine, func(r *water.Readings) **water.Reading { return &r.LinePressure }},
	{model.RolePressureMembrane, func(r *water.Readings) **water.Reading { return &r.MembranePressure }},
	{model.RoleFlowProduct, func(r *water.Readings) **water.Reading { return &r.ProductFlow }},
	{model.RoleFlowWaste, func(r *water.Readings) **water.Reading { return &r.WasteFlow }},
	{model.RoleChlorineTap, func(r *water.Readings) **water.Reading { return &r.ChlorineTap }},
	{model.RoleChlorineCarbon, func(r *water.Readings) **water.Reading { return &r.ChlorineCarbon }},
	{RoleProductPH, func(r *water.Readings) **water.Reading { return &r.ProductPH }},
	{RoleTapAlkalinity, func(r *water.Readings) **water.Reading { return &r.TapAlkalinity }},
	{RoleTapPH, func(r *water.Readings) **water.Reading { return &r.TapPH }},
}

// Of is the station of a book on a date; later entries do not exist for it.
func Of(b *ledger.Book, on model.Date) *Station { return From(b.Series(on)) }

// From is the station of a book on a date, by series of both that others ask as well.
func From(series *ledger.Series) *Station {
	b, on := series.Book(), series.On()
	s := &Station{On: on, FirstWeeks: firstWeeks(b, on)}
	parts := partsOf(b, on)
	s.Readings.Show = display(b.Def().Units)
	for _, r := range roles {
		g, ok := b.GaugeByRole(r.role)
		if !ok {
			continue
		}
		s.Values = append(s.Values, latest(b, g, on, model.Mark{}))
		cut := parts.cut(b, g)
		if v := latest(b, g, on, cut); v.Read() {
			*r.of(&s.Readings) = v.reading(s.FirstWeeks.since(b, g, parts, on).baseline(b, g, v))
		}
	}
	s.Readings.Seen = sightings(b, on, parts.resin.since)
	s.derive(series, parts)
	s.Readings.MeterPPM = MeterStep(b, on)
	s.Readings.Limits = parts.limits(series)
	s.Readings.Parts = s.told(series, parts)
	s.Cautions = cautions(b)
	s.Diagnosis, s.Refused = water.Diagnose(s.Readings)
	return s
}

func display(u model.Units) water.Display {
	return water.Display{PSI: u.Pressure == "psi", Fahrenheit: u.Temperature == "F", GallonsPerDay: u.Volume == "gal"}
}

// latest is the last reading of a gauge on a date and after a place, whether or not it counts, and the one that counts
// before it.
func latest(b *ledger.Book, g model.Gauge, on model.Date, after model.Mark) Value {
	v := Value{Gauge: g}
	first := true
	for _, r := range slices.Backward(b.ReadingsWithin(g.ID, model.Mark{}, model.EndOf(on))) {
		switch {
		case r.Mark().Before(after):
			return v
		case first:
			v.mark = r.Mark()
			v.Taken, v.Value, v.Age = r.On, r.What.Value, on.Sub(r.On)
			v.Counts, v.Ran = r.What.Counts(), r.What.MinutesRunning
			first = false
		case r.What.Counts():
			before := r.What.Value
			v.Before = &before
			return v
		}
	}
	return v
}

// reading is a value as it is weighed, in the unit that package water reckons in.
func (v Value) reading(baseline *float64) *water.Reading {
	r := &water.Reading{Value: v.Value, AgeDays: v.Age, MinutesRunning: v.Ran, Baseline: baseline, Previous: v.Before}
	if v.Gauge.Role == RoleTapAlkalinity {
		r.Value = CaCO3(v.Value, v.Gauge.Unit)
		r.Baseline, r.Previous = nil, nil
	}
	return r
}

// CaCO3 is an alkalinity in mg/L as CaCO3; a unit that is not one of alkalinity is taken as that already.
func CaCO3(v float64, unit string) float64 {
	u, err := water.ParseUnit(unit)
	if err != nil {
		return v
	}
	mgL, err := water.Convert(v, u, water.MgCaCO3)
	if err != nil {
		return v
	}
	return mgL
}

// Of is the value of the gauge with a role; the zero Value when there is no such gauge.
func (s *Station) Of(role string) Value {
	for _, v := range s.Values {
		if v.Gauge.Role == role {
			return v
		}
	}
	return Value{}
}

// Verdict is what is said of a stage.
func (s *Station) Verdict(stage model.Stage) water.StageVerdict {
	for _, v := range s.Diagnosis.Stages {
		if v.Stage == string(stage) {
			return v
		}
	}
	return water.StageVerdict{Stage: string(stage), Verdict: water.Unknown}
}

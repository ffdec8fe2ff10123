package schedule

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/water"
)

// A temperature stands for the water of the next weeks when it is not older, or lies a year back within as many days.
const freshDays = 21

// Flow is the product flow that is expected now.
type Flow struct {
	LH    float64    // L/h; 0 when none was ever timed
	Timed float64    // L/h, as it was timed
	On    model.Date // when
	Then  *float64   // degC of the water on that date, nil when not known
	Ahead *float64   // degC that is expected, nil when no temperature is known
	From  model.Date // the date that Ahead was read on
}

// Known tells whether a flow was ever timed.
func (f Flow) Known() bool { return f.LH > 0 }

// productFlow is the last product flow above 0, brought to the temperature that is expected.
func (v *sight) productFlow() (f Flow) {
	gauge, ok := v.book.GaugeByRole(model.RoleFlowProduct)
	if !ok {
		return f
	}
	for _, r := range slices.Backward(upToDate(v.book.Readings(gauge.ID), v.on)) {
		if r.What.Counts() && r.What.Value > 0 {
			f.Timed, f.On = inUnit(r.What.Value, gauge.Unit, water.LitrePerHr), r.On
			break
		}
	}
	f.LH = f.Timed
	gauge, ok = v.book.GaugeByRole(model.RoleTemperatureWater)
	if !ok {
		return f
	}
	read := v.book.Samples(gauge.ID, v.on)
	ahead, ok := warmthAhead(read, v.on)
	if !ok {
		return f
	}
	t := inUnit(ahead.Value, gauge.Unit, water.Celsius)
	f.Ahead, f.From = &t, ahead.On
	if then, ok := read.On(f.On); ok && f.Known() {
		t := inUnit(then.Value, gauge.Unit, water.Celsius)
		f.Then = &t
		was, err1 := water.TCF(t)
		will, err2 := water.TCF(*f.Ahead)
		if err1 == nil && err2 == nil {
			f.LH = float64(f.Timed * will / was)
		}
	}
	return f
}

// inUnit is a value in a unit, as it stands where the gauge's own unit can't be read as one of that.
func inUnit(v float64, from string, to water.Unit) float64 {
	if u, err := water.ParseUnit(from); err == nil {
		if converted, err := water.Convert(v, u, to); err == nil {
			return converted
		}
	}
	return v
}

// warmthAhead is the temperature that stands for the next weeks: the last if it is not old, else the one nearest to this
// day a year ago, of two as near the later, else the last.
func warmthAhead(read ledger.Samples, on model.Date) (s ledger.Sample, ok bool) {
	if len(read) == 0 {
		return s, false
	}
	last := read[len(read)-1]
	if on.Sub(last.On) <= freshDays {
		return last, true
	}
	year := on.AddMonths(-12) // of 29 February the 28th
	best := freshDays + 1
	for _, r := range read {
		if off := max(r.On.Sub(year), year.Sub(r.On)); off <= min(best, freshDays) {
			s, best = r, off
		}
	}
	if best <= freshDays {
		return s, true
	}
	return last, true
}

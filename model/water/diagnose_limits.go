package water

import "math"

// A Limit is the value at which a part is to be seen to, and how the readings stand to it. It belongs to a clock of a
// chore: verdict and round ask the same threshold, and so can't contradict each other.
type Limit struct {
	Value float64
	Run   int // of the latest values since the part was renewed, how many in a row lie beyond it
	Held  float64
	// AgeDays is how old the latest of them is, whose value as it is held against the limit is Held.
	AgeDays int
}

// ConfirmedRun is how many values in a row confirm that a limit was crossed: one may be misread.
const ConfirmedRun = 2

// crossed tells whether the latest value lies beyond the limit, confirmed whether those before it did, too.
func (l *Limit) crossed() bool   { return l != nil && l.Run > 0 }
func (l *Limit) confirmed() bool { return l != nil && l.Run >= ConfirmedRun }

// Limits are those the station is judged by. Where no chore has such a clock (nil), Diagnose takes the usual one, and the
// latest reading and the one before it.
type Limits struct {
	Product   *Limit // ppm after the resin, bad above
	Rejection *Limit // percent, bad below
	Flow      *Limit // normalised, percent of the first weeks, bad below
	Drop      *Limit // bar over the prefilters, bad above
	Ratio     *Limit // waste over product, bad below
	Chlorine  *Limit // mg/L total chlorine after the carbon, bad above
}

// The usual limits, for a book that has no clock on the value (common practice, no source; that of chlorine is half the
// step of a common test, so that 0.1 mg/L is beyond it).
const (
	UsualProductPPM = 1
	usualRejection  = 95
	usualFlow       = 85
	usualRatio      = 1
	hardRatio       = 2 // on hard water
	usualChlorine   = 0.05
)

// Water is hard, in the sense that a small element scales at half recovery, from this TDS or alkalinity on (common
// practice, no source; elements without antiscalant are kept to 15 to 30 % recovery, from memory).
const (
	hardPPM        = 300
	hardAlkalinity = 150 // mg/L as CaCO3
)

// judged is the readings with the limits that no chore owns filled in.
func (r Readings) judged() Readings {
	all := &r.Limits
	fill := func(l **Limit, value float64, below bool, v *Reading) {
		if *l == nil {
			*l = usual(value, below, v)
		}
	}
	settled := func(v *Reading) *Reading { // what crept through at standstill counts nowhere
		if v == nil || v.ranFor(creepMinutes) {
			return nil
		}
		return v
	}
	fill(&all.Product, UsualProductPPM, false, settled(r.ProductTDS))
	fill(&all.Rejection, usualRejection, true, r.rejectionHeld())
	fill(&all.Flow, usualFlow, true, r.normalFlow())
	fill(&all.Drop, DropToChange, false, r.drop())
	ratio := float64(usualRatio)
	if r.hard() {
		ratio = hardRatio
	}
	fill(&all.Ratio, ratio, true, r.ratio())
	fill(&all.Chlorine, usualChlorine, false, r.ChlorineCarbon)
	return r
}

// usual is a limit that no chore owns, with the run that the latest two values make.
func usual(value float64, below bool, v *Reading) *Limit {
	l := &Limit{Value: value}
	if v == nil {
		return l
	}
	l.Held, l.AgeDays = v.Value, v.AgeDays
	beyond := func(v float64) bool {
		if below {
			return v < value-1e-9*math.Abs(value)
		}
		return v > value+1e-9*math.Abs(value)
	}
	if !beyond(v.Value) {
		return l
	}
	l.Run = 1
	if v.Previous != nil && beyond(*v.Previous) {
		l.Run = ConfirmedRun
	}
	return l
}

// hard tells whether the tap is known to be hard.
func (r *Readings) hard() bool {
	return r.TapTDS != nil && r.TapTDS.Value > hardPPM || r.TapAlkalinity != nil && r.TapAlkalinity.Value >= hardAlkalinity
}

// rejectionHeld is the rejection as it is held against a limit, in percent, now and the time before; nil when the tap
// and the membrane were not read together.
func (r *Readings) rejectionHeld() *Reading {
	tap, m := r.TapTDS, r.MembraneTDS
	if !together(tap, m) || m.ranFor(creepMinutes) {
		return nil
	}
	now, err := HeldPassage(tap.Value, m.Value, false)
	if err != nil {
		return nil
	}
	out := &Reading{Value: 100 * (1 - now*r.excuse(pickValue)), AgeDays: m.AgeDays}
	if m.Previous != nil {
		if v, err := HeldPassage(r.tapBefore(), *m.Previous, false); err == nil {
			v = 100 * (1 - v*r.excuse(pickPrevious))
			out.Previous = &v
		}
	}
	return out
}

// tapBefore is what the tap read with the reading before, as far as that is known.
func (r *Readings) tapBefore() float64 {
	if p := r.TapTDS.Previous; p != nil {
		return *p
	}
	return r.TapTDS.Value
}

// normalFlow is the normalised flow, given or worked out; nil when it can't be told.
func (r *Readings) normalFlow() *Reading {
	now, before, ok := r.normalised()
	if !ok {
		return nil
	}
	v := &Reading{Value: now}
	if before > 0 {
		v.Previous = &before
	}
	return v
}

// drop is what the prefilters take, in bar: given, or worked out from both gauges.
func (r *Readings) drop() *Reading {
	return derived(r.Drop, r.LinePressure, r.MembranePressure, PrefilterDrop)
}

// ratio is waste over product: given, or worked out from both flows.
func (r *Readings) ratio() *Reading {
	return derived(r.Ratio, r.ProductFlow, r.WasteFlow, WasteRatio)
}

// derived is a value worked out from two readings, with its first weeks and the time before; given stands before it.
func derived(given, a, b *Reading, of func(a, b float64) (float64, error)) *Reading {
	if given != nil || !together(a, b) {
		return given
	}
	pair := func(pick func(*Reading) *float64) *float64 {
		x, y := pick(a), pick(b)
		if x == nil || y == nil {
			return nil
		}
		v, err := of(*x, *y)
		if err != nil {
			return nil
		}
		return &v
	}
	now := pair(pickValue)
	if now == nil {
		return nil
	}
	return &Reading{Value: *now, AgeDays: max(a.AgeDays, b.AgeDays), Baseline: pair(pickBaseline), Previous: pair(pickPrevious)}
}

// What can be picked of a reading.
func pickValue(r *Reading) *float64    { return &r.Value }
func pickBaseline(r *Reading) *float64 { return r.Baseline }
func pickPrevious(r *Reading) *float64 { return r.Previous }

package station

import (
	"math"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
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
type Window struct {
	From, Through model.Date

	start model.Mark // what was read before it, also on the first date, is not in it
	// UnknownAge is that the membrane was there before its first reading, and no renewal of it is in the log.
	UnknownAge bool
}

// firstWeeks are those of the membrane in use on a date, or of the unit as it is since something else was changed that
// moves all readings.
func firstWeeks(b *ledger.Book, on model.Date) Window {
	w := Window{UnknownAge: true}
	if from := membraneSince(b, on); from.On != 0 {
		w.start = model.Mark{On: from.On.AddDays(settlingDays)}
		w.UnknownAge = from.Tick == nil || from.About()
	}
	for _, m := range changes(b, on) {
		if w.start.Before(m) {
			w.start = m
		}
	}
	var gauges []model.Gauge
	for _, r := range roles {
		if g, ok := b.GaugeByRole(r.role); ok {
			gauges = append(gauges, g)
		}
	}
	return w.first(b, on, gauges...)
}

// first begins the window with the first reading of some gauges after its start; it is empty when there is none.
func (w Window) first(b *ledger.Book, on model.Date, gauges ...model.Gauge) Window {
	w.From = 0
	for _, g := range gauges {
		for _, l := range b.ReadingsWithin(g.ID, w.start, model.EndOf(on)) {
			if l.What.Counts() {
				if w.From == 0 || l.On < w.From {
					w.From = l.On
				}
				break
			}
		}
	}
	if w.From == 0 {
		return Window{}
	}
	w.Through = w.From.AddDays(firstDays)
	return w
}

// since is the window for one gauge: of what is read behind the resin and behind the carbon, the first weeks are the
// bed's and the block's own.
func (w Window) since(b *ledger.Book, g model.Gauge, p parts, on model.Date) Window {
	switch g.Role {
	case model.RoleTDSProduct, RoleProductPH:
		w.start = p.resin.since
	case model.RoleChlorineCarbon:
		w.start = p.carbon.since
	default:
		return w
	}
	return w.first(b, on, g)
}

// membraneSince is the start of the membrane in use on a date: its last renewal, or when the component went into service;
// one of no date when neither is known.
func membraneSince(b *ledger.Book, on model.Date) ledger.Start {
	var since ledger.Start
	for _, c := range b.Chores() {
		part, _ := b.Component(c.Component)
		if part.Stage != model.StageMembrane || c.Work != model.WorkRenew {
			continue
		}
		if starts := b.Starts(c.ID, on); len(starts) > 0 && since.Mark.Before(starts[len(starts)-1].Mark) {
			since = starts[len(starts)-1]
		}
	}
	return since
}

// changes are the places from which on all readings are others: a new restrictor, a booster or regulator fitted or changed,
// and the keeper's word that from there on they are normal.
func changes(b *ledger.Book, on model.Date) []model.Mark {
	var out []model.Mark
	for _, c := range b.Components() {
		for _, n := range b.Normals(c.ID) {
			if n.On <= on {
				out = append(out, n.Mark())
			}
		}
		restrictor, supply := isRestrictor(b, c), isSupply(b, c)
		if !restrictor && !supply {
			continue
		}
		for _, s := range renewalsOf(b, c.ID, on) {
			out = append(out, s.Mark)
		}
		for _, v := range b.Versions(c.ID) {
			if v.InService <= on && (supply || v != b.Versions(c.ID)[0]) {
				out = append(out, model.Mark{On: v.InService})
			}
		}
	}
	return out
}

// baseline is the median of what a gauge showed in the first weeks, before its latest
// value was taken; nil when that is the first.
func (w Window) baseline(b *ledger.Book, g model.Gauge, latest Value) *float64 {
	if w.From == 0 {
		return nil
	}
	var in []float64
	day := model.Date(0)
	for _, l := range b.ReadingsWithin(g.ID, w.start, model.EndOf(min(w.Through, latest.Taken-1))) {
		switch {
		case !l.What.Counts() || l.On < w.From:
		case l.On == day:
			in[len(in)-1] = l.What.Value // of a date the last one tells
		default:
			in, day = append(in, l.What.Value), l.On
		}
	}
	if len(in) == 0 {
		return nil
	}
	m := median(in)
	return &m
}

// baselineOf is that of values which are computed from several gauges.
func (w Window) baselineOf(samples []ledger.Sample) *float64 {
	var in []float64
	for i, l := range samples {
		if w.From != 0 && i < len(samples)-1 && l.On >= w.From && l.On <= w.Through && !l.Mark.Before(w.start) {
			in = append(in, l.Value)
		}
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

// MeterStep is the step in which the keeper's TDS meter shows, in ppm: 1, 0.1 or
// 0.01, by the decimals of the latest readings after the membrane and the resin.
func MeterStep(b *ledger.Book, on model.Date) float64 {
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

// Limit is a threshold that a chore keeps a gauge to.
type Limit struct {
	Value float64
	Bad   model.Side
}

// Threshold is where a chore in use calls a gauge, read or derived, bad.
func Threshold(b *ledger.Book, gauge model.ID) (Limit, bool) {
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

// Changed are the components in use whose change makes all readings others: the stages, the waste restrictor, a booster or
// regulator.
func Changed(b *ledger.Book, on model.Date) []model.Component {
	var out []model.Component
	for _, c := range b.Components() {
		if !retired(c.Retired, on) && (c.Stage != "" || isRestrictor(b, c) || isSupply(b, c)) {
			out = append(out, c)
		}
	}
	return out
}

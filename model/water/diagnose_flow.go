package water

import "math"

// How far pressures and flows move before it is a sign (common practice, no source, save where noted).
const (
	pressureMoved = 0.10
	flowMoved     = 0.10
	degreesMoved  = 3
	workingFloor  = 2.8  // bar; below 40 psi a booster is advised
	dropGrown     = 0.35 // bar more than with new cartridges
	normalLook    = 90   // percent: cleaned at 10 to 15 % less
	normalAct     = 85
	normalHigh    = 115 // percent: twice the uncertainty of one value is 12
	brineOff      = 0.10
)

// inlet is the pressure at the membrane, else in the line.
func (r *Readings) inlet() *Reading {
	if r.MembranePressure != nil {
		return r.MembranePressure
	}
	return r.LinePressure
}

// moved compares a reading with its first weeks: -1, 0 or 1 by the given fraction, and whether they are known.
func (r *Reading) moved(fraction float64) (int, bool) {
	if r == nil || r.Baseline == nil || *r.Baseline <= 0 {
		return 0, false
	}
	switch q := r.Value / *r.Baseline; {
	case q < 1-fraction:
		return -1, true
	case q > 1+fraction:
		return 1, true
	}
	return 0, true
}

// set notes the sign that belongs to a direction.
func (e evidence) set(direction int, down, steady, up sign, f finding) {
	for i, s := range []sign{down, steady, up} {
		if i == direction+1 && s != "" {
			e[s] = f
		}
	}
}

func (r *Readings) pressureSigns(e evidence) {
	line, inlet := r.LinePressure, r.MembranePressure
	if d, ok := line.moved(pressureMoved); ok {
		e.set(d, lineDown, lineSteady, lineUp, finding{why: line.then("line pressure", r.Show.inBar)})
	}
	if d, ok := inlet.moved(pressureMoved); ok {
		e.set(d, inletDown, "", inletUp, finding{why: inlet.then("membrane pressure", r.Show.inBar)})
	}
	r.dropSigns(e)
	p, name := r.inlet(), "membrane pressure"
	if p == nil {
		return
	}
	if r.MembranePressure == nil {
		name = "line pressure"
	}
	if p.Value <= 0.1 {
		e[noPressure] = finding{why: p.now(name, r.Show.inBar)}
	} else if p.Value < workingFloor {
		e[pressureLow] = finding{why: p.now(name, r.Show.inBar) + ", " + r.Show.inBar(workingFloor) + " is the working floor"}
	}
}

// dropSigns judge what the prefilters take.
func (r *Readings) dropSigns(e evidence) {
	line, inlet := r.LinePressure, r.MembranePressure
	if !together(line, inlet) {
		return
	}
	drop, err := PrefilterDrop(line.Value, inlet.Value)
	if err != nil || drop < 0 { // a booster between the gauges
		return
	}
	limit := DropToChange
	why := "prefilters take " + r.Show.inBar(drop) + " (" + line.now("line", r.Show.inBar) + ", " + inlet.now("membrane", r.Show.inBar) + ")"
	if line.Baseline != nil && inlet.Baseline != nil {
		was := math.Max(0, *line.Baseline-*inlet.Baseline)
		limit = math.Min(limit, was+dropGrown)
		why += ", " + r.Show.inBar(was) + " in the first weeks"
	}
	if drop < limit-1e-9 {
		e[dropFine] = finding{why: why}
		return
	}
	again := line.Previous != nil && inlet.Previous != nil && *line.Previous-*inlet.Previous >= limit
	e[dropUp] = finding{why: why, firm: again}
}

func (r *Readings) flowSigns(e evidence) {
	q := r.ProductFlow
	r.normalSigns(e)
	r.ratioSigns(e)
	if q != nil && q.Value == 0 {
		e[noProduct] = finding{why: q.now("product flow", r.Show.inFlow)}
	} else if d, ok := q.moved(flowMoved); ok {
		e.set(d, flowDown, "", flowUp, finding{why: q.then("product flow", r.Show.inFlow)})
	}
	r.temperatureSigns(e)
}

// temperatureSigns notes colder and warmer water, and where the pressure is not known whether the cold alone accounts
// for a lower flow.
func (r *Readings) temperatureSigns(e evidence) {
	c := r.WaterTemperature
	if c == nil || c.Baseline == nil {
		return
	}
	f := finding{why: c.then("water", r.Show.inDegrees)}
	if c.Value >= *c.Baseline+degreesMoved {
		e[warmer] = f
	}
	if c.Value > *c.Baseline-degreesMoved {
		return
	}
	if e.has(flowDown) && !e.hasAny(normalSteady, normalDown, normalUp) {
		now, err1 := TCF(c.Value)
		then, err2 := TCF(*c.Baseline)
		if err1 != nil || err2 != nil || !together(c, r.ProductFlow) {
			return
		}
		cold, left := now/then, r.ProductFlow.Value / *r.ProductFlow.Baseline
		f.why += ", which alone leaves " + percent(cold) + " of the flow; measured " + percent(left)
		if f.firm = left >= cold*(1-flowMoved); !f.firm {
			e[coldShort] = f
		}
	}
	e[colder] = f
}

// normalSigns judge the normalised flow, given or worked out.
func (r *Readings) normalSigns(e evidence) {
	now, before, ok := r.normalised()
	if !ok {
		return
	}
	f := finding{why: "normalised flow " + short(now) + " % of the first weeks'"}
	switch {
	case now < normalLook:
		f.firm = before > 0 && before < normalLook
		f.weak = !f.firm && now >= normalAct
		if f.firm {
			f.why += ", and " + short(before) + " % the time before"
		}
		e[normalDown] = f
	case now > normalHigh:
		f.firm = before > normalHigh
		e[normalUp] = f
	default:
		e[normalSteady] = f
	}
}

// normalised is the normalised flow in percent of the first weeks, now and the time before (0 when not known).
func (r *Readings) normalised() (now, before float64, ok bool) {
	if n := r.NormalisedFlow; n != nil {
		if n.Previous != nil {
			before = *n.Previous
		}
		return n.Value, before, true
	}
	q, p, c, tap := r.ProductFlow, r.inlet(), r.WaterTemperature, r.TapTDS
	if !together(q, p, c, tap) || q.Value <= 0 {
		return 0, 0, false
	}
	w := r.WasteFlow
	if !together(q, w) || w.Value <= 0 || w.Baseline == nil || *w.Baseline <= 0 {
		w = nil
	}
	base, ok := flowSet(func(g *Reading) *float64 { return g.Baseline }, q, w, p, c, tap)
	if !ok {
		return 0, 0, false
	}
	set, _ := flowSet(func(g *Reading) *float64 { return &g.Value }, q, w, p, c, tap)
	now, err := NormalisedFlowPercent(set, base)
	if err != nil {
		return 0, 0, false
	}
	if set, ok := flowSet(func(g *Reading) *float64 { return g.Previous }, q, w, p, c, tap); ok {
		if v, err := NormalisedFlowPercent(set, base); err == nil {
			before = v
		}
	}
	return now, before, true
}

// flowSet picks one value of each gauge into a set; the waste flow may be missing.
func flowSet(pick func(*Reading) *float64, q, w, p, c, tap *Reading) (FlowSet, bool) {
	for _, g := range []*Reading{q, p, c, tap} {
		if pick(g) == nil {
			return FlowSet{}, false
		}
	}
	s := FlowSet{ProductLH: *pick(q), PressureBar: *pick(p), WaterC: *pick(c), TapPPM: *pick(tap)}
	if w != nil {
		s.WasteLH = pick(w)
	}
	return s, true
}

// ratioSigns judge the waste flow and its ratio to the product's.
func (r *Readings) ratioSigns(e evidence) {
	q, w := r.ProductFlow, r.WasteFlow
	if w == nil {
		return
	}
	if w.Value == 0 {
		e[noWaste] = finding{why: w.now("waste flow", r.Show.inFlow)}
	} else {
		e[wasteRuns] = finding{why: w.now("waste flow", r.Show.inFlow)}
	}
	r.wasteSigns(e)
	if !together(q, w) || q.Value <= 0 {
		return
	}
	ratio := w.Value / q.Value
	f := finding{why: "waste ratio " + short(ratio)}
	if q.Baseline == nil || w.Baseline == nil || *q.Baseline <= 0 || *w.Baseline <= 0 {
		if ratio < 1 {
			e[ratioTight] = f
		}
		if ratio > 8 {
			e[ratioLoose] = f
		}
		return
	}
	base := *w.Baseline / *q.Baseline
	f.why += ", " + short(base) + " in the first weeks"
	for _, s := range []struct {
		sign sign
		seen bool
	}{
		{ratioUp, ratio > 1.2*base}, {ratioFarUp, ratio > 1.5*base},
		{ratioDown, ratio < 0.8*base}, {ratioHalved, ratio < 0.5*base},
	} {
		if s.seen {
			e[s.sign] = f
		}
	}
}

// wasteSigns judge the waste flow itself, which a restrictor lets grow about with the square root of the pressure.
func (r *Readings) wasteSigns(e evidence) {
	w := r.WasteFlow
	if w.Baseline == nil || *w.Baseline <= 0 {
		return
	}
	expected := *w.Baseline
	if p := r.inlet(); p != nil && p.Baseline != nil && *p.Baseline > 0 && together(w, p) {
		expected *= math.Sqrt(p.Value / *p.Baseline)
	}
	f := finding{why: w.then("waste flow", r.Show.inFlow)}
	if w.Value > 1.3*expected {
		e[wasteUp] = f
	}
	if w.Value < 0.8*expected {
		e[wasteDown] = f
	}
}

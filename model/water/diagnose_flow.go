package water

import "math"

// How far pressures and flows move before it is a sign (common practice, no source, save where noted).
const (
	pressureMoved = 0.10
	flowMoved     = 0.10
	degreesMoved  = 3
	workingFloor  = 2.8             // bar; below 40 psi a booster is advised
	houseLimit    = 5.5             // bar; a regulator is wanted above 80 psi (plumbing codes, from memory)
	housingLimit  = 100 * barPerPSI // bowls and push-fit tube are made for 100 to 125 psi (from memory)
	boosterLeast  = 0.3             // bar that a booster between the gauges adds at the least
	dropMore      = 0.35            // bar more than with new cartridges
	normalLook    = 90              // percent: cleaned at 10 to 15 % less
	normalHigh    = 115             // percent: twice the uncertainty of one value is 12
	labelLook     = 70              // percent of the label's: labels are good to 15 to 25 % (from memory)
	looseRatio    = 8               // more waste than any element is sold for
	brineOff      = 0.10
)

// inlet is the pressure at the membrane, else in the line where there is no gauge behind the prefilters.
func (r *Readings) inlet() *Reading {
	if r.MembranePressure != nil || r.Parts.GaugeBehind {
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
	bar := r.Show.inBar
	if d, ok := line.moved(pressureMoved); ok {
		e.set(d, lineDown, lineSteady, "", finding{why: line.then("line pressure", bar)})
		if d > 0 {
			delete(e, lineSteady)
		}
		if d > 0 && line.Value > houseLimit+1e-9 {
			e[lineUp] = finding{why: line.then("line pressure", bar)}
		}
	}
	if d, ok := inlet.moved(pressureMoved); ok {
		e.set(d, inletDown, "", "", finding{why: inlet.then("membrane pressure", bar)})
		if d > 0 && inlet.Value > houseLimit+1e-9 {
			e[inletUp] = finding{why: inlet.then("membrane pressure", bar)}
		}
	}
	for _, s := range []sign{lineDown, inletDown} {
		if f, ok := e[s]; ok {
			e[pressureGives] = f
		}
	}
	r.highSigns(e)
	r.dropSigns(e)
	p, name := r.inlet(), "membrane pressure"
	if p == nil {
		return
	}
	if r.MembranePressure == nil {
		name = "line pressure"
		e[lineOnly] = finding{}
	}
	if p.Value <= 0.1 {
		e[noPressure] = finding{why: p.now(name, bar)}
	} else if p.Value < workingFloor {
		e[pressureLow] = finding{why: p.now(name, bar) + ", " + bar(workingFloor) + " is the working floor"}
	}
}

// highSigns hold pressures against what a house and its fittings bear, whatever was usual. Behind a booster a pressure
// is meant to be higher than the house's.
func (r *Readings) highSigns(e evidence) {
	line, inlet := r.LinePressure, r.MembranePressure
	bar := r.Show.inBar
	switch {
	case line != nil && line.Value >= housingLimit-1e-9:
		e[pressureDangerous] = finding{why: line.now("line pressure", bar) + "; " + r.Show.housings(), firm: true}
	case inlet != nil && inlet.Value >= housingLimit-1e-9:
		e[pressureDangerous] = finding{why: inlet.now("membrane pressure", bar) + "; " + r.Show.housings(), firm: true}
	case line != nil && line.Value >= houseLimit-1e-9:
		e[pressureHigh] = finding{why: line.now("line pressure", bar) + "; " + bar(houseLimit) + " is a usual limit for a house", firm: true}
	}
}

// dropSigns judge what the prefilters take, and a booster between the gauges.
func (r *Readings) dropSigns(e evidence) {
	line, inlet, drop, limit := r.LinePressure, r.MembranePressure, r.drop(), r.Limits.Drop
	if drop == nil {
		return
	}
	if line != nil && inlet != nil && line.Baseline != nil && inlet.Baseline != nil && *inlet.Baseline-*line.Baseline > boosterLeast {
		if e.has(inletDown) && e.has(lineSteady) {
			e[boosterWeak] = finding{why: inlet.then("membrane pressure", r.Show.inBar) + "; " + line.then("line pressure", r.Show.inBar)}
		}
		return
	}
	if drop.Value < 0 && !limit.crossed() {
		return
	}
	why := "prefilters take " + r.Show.inBar(drop.Value)
	if together(line, inlet) {
		why += " (" + line.within("line", r.Show.inBar) + ", " + inlet.within("membrane", r.Show.inBar) + ")"
	}
	was := math.Inf(1)
	if b := drop.Baseline; b != nil {
		was = math.Max(0, *b)
		why += ", " + r.Show.inBar(was) + " in the first weeks"
	} else if line != nil && inlet != nil && line.Baseline != nil && inlet.Baseline != nil {
		was = math.Max(0, *line.Baseline-*inlet.Baseline)
		why += ", " + r.Show.inBar(was) + " in the first weeks"
	}
	switch {
	case limit.crossed():
		e[dropOver] = finding{why: why + "; changed above " + r.Show.inBar(limit.Value), firm: limit.confirmed()}
	case drop.Value >= was+dropMore-1e-9:
		e[dropGrown] = finding{why: why}
	default:
		e[dropFine] = finding{why: why}
	}
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
	if w := r.WasteFlow; w != nil && w.Baseline != nil && w.Value > 1.5**w.Baseline && e.has(pressureGives) && e.has(flowDown) {
		e[flushOpen] = finding{why: e.why(pressureGives, flowDown)}
	}
	r.gaugelessSigns(e)
	r.labelSigns(e)
}

// gaugelessSigns see less flow where no pressure was ever read, and no cold that accounts for it.
func (r *Readings) gaugelessSigns(e evidence) {
	if c := r.WaterTemperature; r.inlet() == nil && !r.Parts.GaugeBehind && c != nil && c.Baseline != nil && e.has(flowDown) && !e.hasAny(colder, normalSteady, normalDown, normalUp) {
		e[noGauge] = finding{why: e.why(flowDown)}
	}
}

// labelSigns hold the flow against what the element's label gives at this pressure and cold.
func (r *Readings) labelSigns(e evidence) {
	if l, ok := r.Label(); ok && l.Percent < labelLook {
		e[labelShort] = finding{why: "product flow " + r.Show.inFlow(r.ProductFlow.Value) + ", " + r.Show.inFlow(l.FlowLH) + " by the label at this pressure and temperature"}
	}
}

// LabelFlow is what the element's label gives under the conditions read.
type LabelFlow struct {
	FlowLH  float64 // expected
	Percent float64 // the measured flow of it
}

// Label is the flow that the element's label gives at the pressure, temperature and TDS read with the product flow. What
// the label leaves unsaid is taken as common tests are: 250 ppm at 15 % recovery.
func (r *Readings) Label() (LabelFlow, bool) {
	rated, q, p, c, tap := r.Parts.Rated, r.ProductFlow, r.inlet(), r.WaterTemperature, r.TapTDS
	if rated == nil || !together(q, p, c, tap) || q.Value <= 0 {
		return LabelFlow{}, false
	}
	w := r.WasteFlow
	if !together(q, w) || w.Value <= 0 {
		w = nil
	}
	set, ok := flowSet(pickValue, q, w, p, c, tap)
	if !ok {
		return LabelFlow{}, false
	}
	expected, err := set.Expected(*rated)
	if err != nil {
		return LabelFlow{}, false
	}
	return LabelFlow{expected, 100 * q.Value / expected}, true
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
	limit := r.Limits.Flow
	f := finding{why: "normalised flow " + short(now) + " % of the first weeks'"}
	switch {
	case limit.crossed() || now < normalLook:
		again := before > 0 && before < normalLook
		f.firm = limit.confirmed()
		f.weak = !limit.crossed() && !again
		if again {
			f.why += ", and " + short(before) + " % the time before"
		}
		e[normalDown] = f
		if limit.crossed() {
			e[flowUnder] = f
		}
	case now > normalHigh:
		f.firm = before > normalHigh
		e[normalUp] = f
	default:
		e[normalSteady] = f
	}
}

// normalised is the normalised flow in percent of the first weeks, now and the time before (0 when not known). One that
// was worked out before the product flow was read last clears nothing, nor accuses.
func (r *Readings) normalised() (now, before float64, ok bool) {
	if n := r.NormalisedFlow; n != nil && (r.ProductFlow == nil || n.AgeDays <= r.ProductFlow.AgeDays) {
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
	base, ok := flowSet(pickBaseline, q, w, p, c, tap)
	if !ok {
		return 0, 0, false
	}
	set, _ := flowSet(pickValue, q, w, p, c, tap)
	now, err := NormalisedFlowPercent(set, base)
	if err != nil {
		return 0, 0, false
	}
	if set, ok := flowSet(pickPrevious, q, w, p, c, tap); ok {
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
	if w := r.WasteFlow; w != nil {
		f := finding{why: w.now("waste flow", r.Show.inFlow)}
		if w.Value == 0 {
			e[noWaste] = f
		} else {
			e[wasteRuns] = f
		}
		r.wasteSigns(e)
	}
	ratio, limit := r.ratio(), r.Limits.Ratio
	if w := r.WasteFlow; e.has(wasteDown) && w.Value < 0.5**w.Baseline && (ratio == nil || ratio.AgeDays > w.AgeDays) {
		e[wasteHalved] = e[wasteDown]
	}
	if ratio == nil {
		return
	}
	f := finding{why: "waste ratio " + short(ratio.Value)}
	if b := ratio.Baseline; b != nil && *b > 0 {
		f.why += ", " + short(*b) + " in the first weeks"
		for _, s := range []struct {
			sign sign
			seen bool
		}{
			{ratioUp, ratio.Value > 1.2**b}, {ratioFarUp, ratio.Value > 1.5**b},
			{ratioDown, ratio.Value < 0.8**b}, {ratioHalved, ratio.Value < 0.5**b && e.has(wasteDown)},
			{ratioClogging, ratio.Value < 0.8**b && e.has(wasteDown)},
		} {
			if s.seen {
				e[s.sign] = f
			}
		}
	}
	if b := ratio.Baseline; ratio.Value > looseRatio && (b == nil || *b > looseRatio) {
		e[ratioLoose] = f
	}
	if limit.crossed() {
		f.why += "; too little under " + short(limit.Value)
		f.firm = limit.confirmed()
		e[ratioUnder] = f
		for _, s := range []sign{ratioHalved, ratioClogging, ratioDown} {
			if had, ok := e[s]; ok {
				had.firm = f.firm
				e[s] = had
			}
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

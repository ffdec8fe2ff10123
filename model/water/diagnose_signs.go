package water

import "math"

// fresh is a copy of the readings without those too old to judge.
func (r Readings) fresh() Readings {
	for _, g := range gauges {
		if v := g.of(&r); *v != nil && (*v).AgeDays > g.stale {
			*v = nil
		}
	}
	return r
}

// evidence gathers the signs that the readings which are not too old show. The order matters where one sign asks another.
func (r *Readings) evidence() evidence {
	e := evidence{}
	r.pressureSigns(e)
	r.flowSigns(e)
	r.saltSigns(e)
	r.productSigns(e)
	r.meterSigns(e)
	r.testSigns(e)
	r.unreadSigns(e)
	if e.has(erratic) { // no passage can be read from a meter that jumps about
		for _, s := range []sign{passageSteady, passageUp, passageJumped, passageUnclear, passageByLow, membraneNearTap, jumpUntimed, poorFromStart} {
			delete(e, s)
		}
	}
	return e
}

// meterSigns see values that jump about, and a waste TDS that can't be.
func (r *Readings) meterSigns(e evidence) {
	tap, m, p := r.TapTDS.jump(), r.MembraneTDS.jump(), r.ProductTDS.jump()
	if tap != 0 {
		e[erratic] = finding{why: "tap " + inPPM(r.TapTDS.Value) + ", the time before " + inPPM(*r.TapTDS.Previous)}
	} else if m*p < 0 {
		e[erratic] = finding{why: "after membrane " + inPPM(*r.MembraneTDS.Previous) + " then " + inPPM(r.MembraneTDS.Value) +
			", after resin " + inPPM(*r.ProductTDS.Previous) + " then " + inPPM(r.ProductTDS.Value)}
	}
	r.offsetSigns(e)
	r.balanceSigns(e)
}

// offsetSigns see membrane and product up by the same ppm at once, within the meter's step: one dirty cell sooner than two
// dead parts in one week.
func (r *Readings) offsetSigns(e evidence) {
	m, p, step := r.MembraneTDS, r.ProductTDS, r.resolution()
	if !together(m, p) || m.ranFor(settleMinutes) || p.ranFor(settleMinutes) || e.hasAny(membraneAboveTap, membraneNearTap, bedRinsing, elementRinsing, tapUp) {
		return
	}
	rise := r.Parts.BothRose
	if rise == nil && m.Previous != nil && p.Previous != nil && *p.Previous <= r.Limits.Product.Value {
		rise = RoseTogether(m.Value-*m.Previous, p.Value-*p.Previous, step)
	}
	if rise == nil {
		return
	}
	e[bothRaised] = finding{why: "after membrane " + inPPM(m.Value) + ", after resin " + inPPM(p.Value) + ": each " + short(rise.PPM) + " ppm more, from one reading to the next", firm: rise.Confirmed}
}

// Rise is what membrane and product rose by from one reading to the next, and whether it was read again.
type Rise struct {
	PPM       float64
	Confirmed bool
}

// RoseTogether is the rise of both by the same, two steps of the meter or more; nil when they didn't.
func RoseTogether(membrane, product, step float64) *Rise {
	if membrane < 2*step-1e-9 || product < 2*step-1e-9 || math.Abs(membrane-product) > step+1e-9 {
		return nil
	}
	return &Rise{PPM: (membrane + product) / 2}
}

// jump says whether a reading is five times and three units off the one before: -1 below, 1 above, else 0.
func (r *Reading) jump() int {
	if r == nil || r.Previous == nil || math.Abs(r.Value-*r.Previous) < 3 {
		return 0
	}
	if r.Value >= 5**r.Previous {
		return 1
	}
	if *r.Previous >= 5*r.Value {
		return -1
	}
	return 0
}

// balanceSigns hold the waste TDS against what tap, membrane and flows say it must be.
func (r *Readings) balanceSigns(e evidence) {
	if !together(r.WasteTDS, r.TapTDS, r.MembraneTDS, r.ProductFlow, r.WasteFlow) || r.MembraneTDS.ranFor(creepMinutes) {
		return
	}
	ratio, err := WasteRatio(r.ProductFlow.Value, r.WasteFlow.Value)
	if err != nil {
		return
	}
	y, err := Recovery(ratio)
	if err != nil {
		return
	}
	brine, err := BrinePPM(r.TapTDS.Value, r.MembraneTDS.Value, y)
	if err != nil {
		return
	}
	if math.Abs(r.WasteTDS.Value-brine) > brineOff*brine {
		e[balanceOff] = finding{why: r.WasteTDS.now("waste", inPPM) + ", tap and flows say " + inPPM(brine)}
	}
}

// chlorineSigns judge the carbon by the test behind it. None behind it proves nothing where the tap was never tested, and
// on a day when the tap has none.
func (r *Readings) chlorineSigns(e evidence) {
	c, tap, limit := r.ChlorineCarbon, r.ChlorineTap, r.Limits.Chlorine
	if c == nil {
		return
	}
	if limit.crossed() {
		f := finding{why: "total chlorine " + inMgL(limit.Held) + " after the carbon, to be changed above " + inMgL(limit.Value), firm: limit.confirmed()}
		if limit.confirmed() {
			f.why += ", found twice"
		}
		e[chlorineThrough] = f
		return
	}
	f := finding{why: "total chlorine " + c.now("after the carbon", inMgL)}
	if tap != nil {
		f.why += ", " + tap.now("tap", inMgL)
	}
	switch {
	case tap == nil && !r.Parts.TapTested:
		e[chlorineUntold] = f
	case together(c, tap) && tap.Value < ChlorineLimit:
		e[chlorineNowhere] = f
	default:
		e[chlorineNone] = f
	}
}

// testSigns are the chlorine test, the pH and what was seen.
func (r *Readings) testSigns(e evidence) {
	r.chlorineSigns(e)
	if h := r.ProductPH; h != nil {
		f := finding{why: h.now("product pH", short)}
		if h.Value <= 6 {
			e[acid] = f
		}
		if h.Value > 8 {
			e[alkaline] = f
		}
	}
	for _, s := range []struct {
		seen bool
		sign sign
		why  string
	}{
		{r.Seen.WasteRunsWhenFull, wasteOnFull, "waste runs with the reservoir full"},
		{r.Seen.DiatomFilm, silica, "brown film in the tank"},
		{r.Seen.SilicaFound, silica, "silica found in the product"},
		{r.Seen.PressureSwings, swings, "the pressure goes up and down"},
		{r.Seen.PressureSagsOverDay, sags, "the pressure falls over hours"},
	} {
		if s.seen {
			e[s.sign] = finding{why: s.why, firm: r.Seen.SilicaFound && s.sign == silica}
		}
	}
}

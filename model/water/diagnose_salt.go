package water

import "math"

// How far a value moves before it is a sign. Salt passage is weighed as a ratio to the first weeks: a quarter more is a
// sign, twice as much a fault (common practice, no source). The floor on rejection is the home trigger of 95 %.
const (
	tapMoved       = 0.20
	passageRaised  = 1.25
	passageDoubled = 2.0
	passageFloor   = 0.05 // salt passage of 95 % rejection
	passageBypass  = 0.5
	tapMeterError  = 0.02 // of the reading, or the meter's resolution where that is more
)

// Running minutes under which a reading after the membrane counts nowhere, and under which it is still doubtful
// (common practice, no source).
const (
	creepMinutes  = 5
	settleMinutes = 10
)

func (r *Readings) resolution() float64 {
	if r.MeterPPM > 0 {
		return r.MeterPPM
	}
	return 1
}

func (r *Readings) productLimit() float64 {
	if r.ProductPPM > 0 {
		return r.ProductPPM
	}
	return 1
}

// ranFor says whether the unit is known to have run for less than the given minutes.
func (r *Reading) ranFor(lessThan float64) bool {
	return r.MinutesRunning != nil && *r.MinutesRunning < lessThan
}

// above says whether the reading stands clear of an earlier value of the same gauge.
func (r *Reading) above(earlier *float64, resolution float64) bool {
	return earlier != nil && r.Value > passageRaised**earlier && r.Value-*earlier > resolution
}

// together says whether readings are close enough in time to be weighed against one another.
func together(readings ...*Reading) bool {
	lo, hi := math.MaxInt, 0
	for _, r := range readings {
		if r == nil {
			return false
		}
		lo, hi = min(lo, r.AgeDays), max(hi, r.AgeDays)
	}
	return hi-lo <= sameDays
}

// saltSigns reads the tap and the membrane.
func (r *Readings) saltSigns(e evidence) {
	r.tapSigns(e)
	m, res := r.MembraneTDS, r.resolution()
	if m == nil {
		return
	}
	why := m.then("after membrane", inPPM)
	raised := m.above(m.Baseline, res)
	if raised {
		e[membraneUp] = finding{why: why}
	}
	unknown := m.Baseline == nil && m.Previous == nil && r.TapTDS != nil && m.Value > passageFloor*r.TapTDS.Value
	if (raised || m.above(m.Previous, res) || unknown) && m.ranFor(settleMinutes) {
		e[creeping] = finding{why: why + ", read after " + short(*m.MinutesRunning) + " min of running", firm: m.ranFor(creepMinutes), weak: !m.ranFor(creepMinutes)}
	}
	if m.ranFor(creepMinutes) || e.has(tapZero) || !together(r.TapTDS, m) {
		return
	}
	switch tap := r.TapTDS.Value; {
	case m.Value > tap+math.Max(2*res, tapMeterError*tap):
		e[membraneAboveTap] = finding{why: m.now("after membrane", inPPM) + ", " + r.TapTDS.now("tap", inPPM), firm: true}
	case m.Value < res && r.zeroIsOdd():
		e[membraneZero] = finding{why: why, weak: m.Baseline == nil}
	case m.Value > passageBypass*tap:
		e[membraneNearTap] = finding{why: m.now("after membrane", inPPM) + " of " + inPPM(tap) + " at the tap", weak: m.ranFor(settleMinutes)}
	default:
		r.passageSigns(e)
	}
}

func (r *Readings) tapSigns(e evidence) {
	tap := r.TapTDS
	if tap == nil {
		return
	}
	why := tap.then("tap", inPPM)
	if tap.Value < r.resolution() {
		e[tapZero] = finding{why: why}
		return
	}
	if tap.Baseline == nil || math.Abs(tap.Value-*tap.Baseline) <= 2*r.resolution() {
		return
	}
	if tap.Value > *tap.Baseline*(1+tapMoved) {
		e[tapUp] = finding{why: why}
	}
	if tap.Value < *tap.Baseline*(1-tapMoved) {
		e[tapDown] = finding{why: why}
	}
}

// zeroIsOdd says whether nothing after the membrane is less than a membrane can do.
func (r *Readings) zeroIsOdd() bool {
	if b := r.MembraneTDS.Baseline; b != nil {
		return *b >= 2*r.resolution()
	}
	return r.TapTDS.Value*0.01 >= 2*r.resolution()
}

// A passage is a salt passage and what is allowed for before it is held against the first weeks.
type passage struct {
	now       float64
	lo        float64 // least the meter allows
	base      float64 // of the first weeks; 0 when not known
	allowance float64 // factor for what warmth and a low pressure add to a sound membrane's, at most 1
}

// ratio is now against the first weeks, with the allowance made.
func (p passage) ratio() float64 { return p.now / p.base * p.allowance }

// passage works out the latest salt passage, or that before it.
func (r *Readings) passage(previous bool) (passage, bool) {
	tap, m := r.TapTDS, r.MembraneTDS
	tapV, memV := tap.Value, m.Value
	if previous {
		if m.Previous == nil {
			return passage{}, false
		}
		memV = *m.Previous
		if tap.Previous != nil {
			tapV = *tap.Previous
		}
	}
	sp, err := SaltPassage(tapV, memV)
	if err != nil {
		return passage{}, false
	}
	tapError := math.Min(math.Max(tapMeterError*tapV, r.resolution()), tapV/2)
	lo, _, err := SaltPassageSpan(tapV, tapError, memV, r.resolution())
	if err != nil {
		return passage{}, false
	}
	p := passage{now: sp, lo: lo, allowance: r.warmth(previous) * r.pressureFactor()}
	if tap.Baseline != nil && m.Baseline != nil && *tap.Baseline > 0 {
		p.base = *m.Baseline / *tap.Baseline
	}
	return p, true
}

// warmth is 1.03^(T0-T) where the water is warmer than in the first weeks, else 1: sources differ by so much on what
// cold takes off that it may excuse a membrane and not accuse one.
func (r *Readings) warmth(previous bool) float64 {
	c := r.WaterTemperature
	if c == nil || c.Baseline == nil || !together(r.MembraneTDS, c) {
		return 1
	}
	t := c.Value
	if previous && c.Previous != nil {
		t = *c.Previous
	}
	return math.Min(1, math.Pow(1.03, *c.Baseline-t))
}

// pressureFactor is P/P0 where the pressure is lower than in the first weeks: salt flows through a membrane whatever
// the pressure, water in proportion to it, so a weak supply alone raises the salt passage by as much.
func (r *Readings) pressureFactor() float64 {
	p := r.inlet()
	if p == nil || p.Baseline == nil || *p.Baseline <= 0 || !together(r.MembraneTDS, p) {
		return 1
	}
	return math.Min(1, p.Value / *p.Baseline)
}

// passageSigns judges the salt passage against the first weeks, or against the floor where those are not known.
func (r *Readings) passageSigns(e evidence) {
	p, ok := r.passage(false)
	if !ok {
		return
	}
	before, hasBefore := r.passage(true)
	coarse := r.resolution() >= 1
	soon := r.MembraneTDS.ranFor(settleMinutes)
	why := r.passageWords(p)
	if p.base <= 0 {
		if p.now <= passageFloor {
			e[passageSteady] = finding{why: why}
			return
		}
		again := hasBefore && before.now > passageFloor
		e[passageUp] = finding{why: why, firm: again && !soon, weak: soon || !again && (coarse || p.lo <= passageFloor)}
		return
	}
	ratio := p.ratio()
	lo := p.lo / p.base * p.allowance
	beforeUp := hasBefore && before.ratio() >= passageRaised
	switch {
	case ratio < passageRaised && p.now*r.warmth(false) >= passageRaised*p.base:
		e[passageByLow] = finding{why: why}
	case ratio < passageRaised:
		e[passageSteady] = finding{why: why}
	case lo <= 1 && !beforeUp:
		e[passageUnclear] = finding{why: why + "; in steps of " + inPPM(r.resolution()) + " it may be " + percent(p.lo), weak: true}
	case ratio >= passageDoubled && hasBefore && !beforeUp:
		e[passageJumped] = finding{why: why + ", and not so the time before", weak: soon || lo < 1.5 || coarse && lo < passageDoubled}
	default:
		e[passageUp] = finding{why: why, firm: beforeUp && !soon && lo > 1,
			weak: soon || lo <= 1 || !beforeUp && (lo < passageRaised || coarse && lo < passageDoubled)}
	}
}

func (r *Readings) passageWords(p passage) string {
	s := "salt passage " + percent(p.now)
	if p.base > 0 {
		s += ", " + percent(p.base) + " in the first weeks"
	} else {
		s += " and no first weeks to compare with (a sound membrane stays under " + percent(passageFloor) + ")"
	}
	s += " (" + r.TapTDS.now("tap", inPPM) + ", " + r.MembraneTDS.now("after membrane", inPPM) + ")"
	if p.base <= 0 {
		return s
	}
	if f := r.warmth(false); f < 0.95 {
		s += "; warmer water alone makes it " + short(1/f) + " times as much"
	}
	if f := r.pressureFactor(); f < 0.95 && f > 0 {
		s += "; lower pressure alone makes it " + short(1/f) + " times as much"
	}
	return s
}

// productSigns reads the water after the resin and in the reservoir.
func (r *Readings) productSigns(e evidence) {
	p, limit := r.ProductTDS, r.productLimit()
	if p == nil {
		return
	}
	why := p.now("after resin", inPPM) + ", to be changed above " + inPPM(limit)
	over := p.Value > limit
	if p.ranFor(creepMinutes) {
		if over {
			e[productCreep] = finding{why: why + ", read after " + short(*p.MinutesRunning) + " min of running", firm: true}
		}
		return
	}
	if !over {
		e[productGood] = finding{why: why}
		r.reservoirSigns(e)
		return
	}
	again := p.Previous != nil && *p.Previous > limit
	if again {
		why += ", and " + inPPM(*p.Previous) + " the time before"
	}
	e[productOver] = finding{why: why, firm: again}
	r.inversionSigns(e, again)
}

// inversionSigns sees a product that carries more than what goes into the resin.
func (r *Readings) inversionSigns(e evidence, again bool) {
	p, m := r.ProductTDS, r.MembraneTDS
	if !together(p, m) || m.ranFor(creepMinutes) || p.Value-m.Value <= r.resolution() {
		return
	}
	why := p.now("after resin", inPPM) + ", " + m.now("after membrane", inPPM)
	e[productAboveMembrane] = finding{why: why}
	if p.Value >= 2*m.Value && p.Value-m.Value >= 5 {
		e[productFarAbove] = finding{why: why, firm: again, weak: p.Previous != nil && !again}
	}
}

func (r *Readings) reservoirSigns(e evidence) {
	v := r.ReservoirTDS
	if v == nil || v.Value <= r.ProductTDS.Value {
		return
	}
	why := v.now("reservoir", inPPM) + ", " + r.ProductTDS.now("after resin", inPPM)
	if v.Value <= 2 {
		e[reservoirTrace] = finding{why: why}
	} else {
		e[reservoirFouled] = finding{why: why}
	}
}

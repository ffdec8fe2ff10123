package water

import "math"

// How far a value moves before it is a sign. Salt passage is weighed as a ratio to the first weeks: a quarter more is a
// sign, twice as much a fault (common practice, no source).
const (
	tapMoved       = 0.20
	passageRaised  = 1.25
	passageDoubled = 2.0
	passageTrebled = 3.0  // from one reading to the next: nothing ages so fast
	passageFloor   = 0.05 // salt passage of 95 % rejection: above it a reading wants a reason
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
	case r.swapped():
		p := r.ProductTDS
		e[probesSwapped] = finding{why: m.now("after membrane", inPPM) + ", " + p.now("after resin", inPPM),
			firm: m.Previous != nil && p.Previous != nil && *m.Previous <= 1 && *p.Previous >= *m.Previous+swappedPPM}
	case m.Value < res && r.zeroIsOdd():
		e[membraneZero] = finding{why: why, weak: m.Baseline == nil}
	case r.stillRinsing():
		e[elementRinsing] = finding{why: why + ", " + days(*r.Parts.ElementDays) + " after it was renewed", firm: true}
	case m.Value > passageBypass*tap:
		e[membraneNearTap] = finding{why: m.now("after membrane", inPPM) + " of " + inPPM(tap) + " at the tap", weak: m.ranFor(settleMinutes)}
	default:
		r.passageSigns(e)
	}
}

// How long a new part rinses, and how much a product stands above a membrane that reads nothing when their probes are
// swapped (common practice, no source).
const (
	rinseDays   = 2
	rinseLitres = 20
	swappedPPM  = 2
)

// swapped sees nothing after the membrane and something after the resin: no resin adds that.
func (r *Readings) swapped() bool {
	m, p := r.MembraneTDS, r.ProductTDS
	return together(m, p) && !p.ranFor(creepMinutes) && m.Value <= 1 && p.Value >= m.Value+swappedPPM-1e-9
}

// stillRinsing sees more salt than a settled element lets through, within two days of its renewal.
func (r *Readings) stillRinsing() bool {
	d := r.Parts.ElementDays
	return d != nil && *d <= rinseDays && r.MembraneTDS.Value > passageFloor*r.TapTDS.Value
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
	now    float64
	lo, hi float64 // what the meter allows, when it is held against the first weeks
	base   float64 // of the first weeks, warm water excused; 0 when not known, or when they are no yardstick
	excuse float64 // factor for warm water, at most 1
	low    float64 // factor for what a low pressure adds to a sound membrane's, at most 1
}

// ratio is now against the first weeks, with the allowances made.
func (p passage) ratio() float64 { return p.now / p.base * p.excuse * p.low }

// passage works out the latest salt passage, or that before it.
func (r *Readings) passage(previous bool) (passage, bool) {
	tap, m := r.TapTDS, r.MembraneTDS
	tapV, memV, pick := tap.Value, m.Value, pickValue
	if previous {
		if m.Previous == nil {
			return passage{}, false
		}
		tapV, memV, pick = r.tapBefore(), *m.Previous, pickPrevious
	}
	sp, err := SaltPassage(tapV, memV)
	if err != nil {
		return passage{}, false
	}
	tapError := math.Min(math.Max(tapMeterError*tapV, r.resolution()), tapV/2)
	lo, hi, err := SaltPassageSpan(tapV, tapError, memV, r.resolution())
	if err != nil {
		return passage{}, false
	}
	return passage{now: sp, lo: lo, hi: hi, base: r.passageBase(), excuse: r.excuse(pick), low: r.pressureFactor()}, true
}

// passageBase is the salt passage of the first weeks; 0 when they are not known, or lie beyond the limit themselves: a
// bad membrane is no yardstick.
func (r *Readings) passageBase() float64 {
	tap, m := r.TapTDS, r.MembraneTDS
	if tap.Baseline == nil || m.Baseline == nil {
		return 0
	}
	held, err := HeldPassage(*tap.Baseline, *m.Baseline, false)
	excuse := r.excuse(pickBaseline)
	if err != nil || 100*(1-held*excuse) < r.Limits.Rejection.Value-1e-9 {
		return 0
	}
	return *m.Baseline / *tap.Baseline * excuse
}

// excuse is the factor of warm water for a salt passage; 1 where the temperature is not known. The temperature may be a
// fortnight old.
func (r *Readings) excuse(pick func(*Reading) *float64) float64 {
	c := r.WaterTemperature
	if c == nil || r.MembraneTDS == nil || c.AgeDays > r.MembraneTDS.AgeDays+WarmthDays || pick(c) == nil {
		return 1
	}
	f, err := WarmWaterFactor(*pick(c))
	if err != nil {
		return 1
	}
	return f
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

// passageSigns judges the salt passage against its limit, and against the first weeks where those are a yardstick.
func (r *Readings) passageSigns(e evidence) {
	p, ok := r.passage(false)
	if !ok {
		return
	}
	limit := r.Limits.Rejection
	why := r.passageWords(p)
	soon := r.MembraneTDS.ranFor(settleMinutes)
	if limit.crossed() {
		e[rejectionUnder] = finding{why: why, firm: limit.confirmed() && !soon, weak: soon && !limit.confirmed()}
	} else if near, held := r.nearFloor(p); near {
		e[passageNear] = finding{why: why + held}
	}
	r.proportionSigns(e, p)
	if r.jumpSigns(e, p, why) {
		return
	}
	if limit.crossed() && r.poor() {
		e[poorFromStart] = finding{why: why, firm: limit.confirmed() && !soon, weak: soon}
		return
	}
	r.riseSigns(e, p, why)
}

// proportionSigns see as much salt as before in less water: the reading rose as the flow fell, within half a step of the
// meter or a twentieth below and a fifth above, by a step at the least.
func (r *Readings) proportionSigns(e evidence, p passage) {
	flow, _, ok := r.normalised()
	if !ok || !e.has(normalDown) || p.base <= 0 || flow <= 0 {
		return
	}
	m, step := r.MembraneTDS, r.resolution()
	was := r.TapTDS.Value * p.base / p.excuse // what the passage of the first weeks makes of today's tap and warmth
	due := was * 100 / flow
	if m.Value >= was+step-1e-9 && m.Value >= due-math.Max(step/2, due/20) && m.Value <= 1.2*due {
		e[saltByFlow] = finding{why: m.then("after membrane", inPPM)}
	}
}

// nearFloor tells whether the rejection may lie beyond its limit by less than the meter can tell, and says so.
func (r *Readings) nearFloor(p passage) (bool, string) {
	worst, err := HeldPassage(r.TapTDS.Value, r.MembraneTDS.Value, true)
	if err != nil || r.resolution() < 1 {
		return false, ""
	}
	best, _ := HeldPassage(r.TapTDS.Value, r.MembraneTDS.Value, false)
	limit := r.Limits.Rejection.Value
	if 100*(1-worst*p.excuse) >= limit {
		return false, ""
	}
	return true, "; in whole ppm a rejection of " + short(100*(1-worst*p.excuse)) + " to " + short(100*(1-best*p.excuse)) + " %, where " + short(limit) + " % is the limit: read again"
}

// jumpSigns see a salt passage that rose at once: doubled since the reading before, or by a factor of 3 from one reading
// to the next, once, so that confirming it makes it no slow ageing.
func (r *Readings) jumpSigns(e evidence, p passage, why string) bool {
	before, hasBefore := r.passage(true)
	soon := r.MembraneTDS.ranFor(settleMinutes)
	from, confirmed := 0.0, false
	switch j := r.Parts.JumpedFrom; {
	case j != nil && p.now >= passageDoubled**j:
		from = *j
		confirmed = hasBefore && before.now >= passageDoubled*from
	case hasBefore && p.base > 0 && p.ratio() >= passageDoubled && p.now > before.now && before.ratio() < passageRaised,
		hasBefore && p.base <= 0 && before.now > 0 && p.now >= passageTrebled*before.now && r.MembraneTDS.Value-*r.MembraneTDS.Previous > 2*r.resolution():
		from = before.now
	default:
		return false
	}
	if !confirmed && p.base > 0 && p.lo/p.base*p.excuse*p.low <= 1 {
		return false // the meter may have made it up
	}
	most := 1.5 * from
	if r.resolution() >= 1 {
		most = passageDoubled * from
	}
	weak := !confirmed && (soon || p.lo < most)
	e[passageJumped] = finding{why: why + ", " + percent(from) + " before it rose at once", firm: confirmed && !soon, weak: weak}
	if !confirmed && r.MembraneTDS.MinutesRunning == nil {
		e[jumpUntimed] = finding{why: why + ", " + percent(from) + " the time before; minutes of running not said", weak: weak}
	}
	return true
}

// poor tells whether the rejection was beyond its limit in every reading since the element was renewed.
func (r *Readings) poor() bool {
	limit := r.Limits.Rejection
	if best := r.Parts.BestRejection; best != nil {
		return *best < limit.Value-1e-9
	}
	if held := r.rejectionHeld(); held != nil && held.Previous != nil && *held.Previous >= limit.Value {
		return false
	}
	return r.passageBase() == 0
}

// riseSigns hold the salt passage against the first weeks.
func (r *Readings) riseSigns(e evidence, p passage, why string) {
	limit := r.Limits.Rejection
	soon := r.MembraneTDS.ranFor(settleMinutes)
	if p.base <= 0 {
		if limit.crossed() {
			e[passageUp] = finding{why: why, firm: limit.confirmed() && !soon, weak: soon || !limit.confirmed() && r.resolution() >= 1}
		} else {
			e[passageSteady] = finding{why: why}
		}
		return
	}
	before, hasBefore := r.passage(true)
	lo, coarse := p.lo/p.base*p.excuse*p.low, r.resolution() >= 1
	beforeUp := hasBefore && before.ratio() >= passageRaised
	switch {
	case p.ratio() < passageRaised && p.now*p.excuse >= passageRaised*p.base:
		e[passageByLow] = finding{why: why}
	case limit.crossed():
		e[passageUp] = finding{why: why, firm: limit.confirmed() && !soon, weak: soon && !limit.confirmed()}
	case p.ratio() < passageRaised:
		e[passageSteady] = finding{why: why}
	case lo <= 1 && !beforeUp:
		e[passageUnclear] = finding{why: why + "; in steps of " + inPPM(r.resolution()) + " it may be " + percent(p.lo), weak: true}
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
		s += ", a sound membrane stays under " + short(100-r.Limits.Rejection.Value) + " %"
	}
	s += " (" + r.TapTDS.within("tap", inPPM) + ", " + r.MembraneTDS.within("after membrane", inPPM) + ")"
	if p.excuse < 0.95 {
		s += "; warm water excuses " + short(1/p.excuse) + " times as much"
	}
	if p.base > 0 && p.low < 0.95 && p.low > 0 {
		s += "; lower pressure alone makes it " + short(1/p.low) + " times as much"
	}
	return s
}

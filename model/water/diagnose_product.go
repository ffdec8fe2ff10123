package water

import "math"

// productSigns reads the water after the resin and in the reservoir.
func (r *Readings) productSigns(e evidence) {
	p, limit := r.ProductTDS, r.Limits.Product
	if p == nil {
		return
	}
	why := p.now("after resin", inPPM) + ", to be changed above " + inPPM(limit.Value)
	over := p.Value > limit.Value+1e-9*math.Abs(limit.Value)
	if p.ranFor(creepMinutes) {
		if over {
			e[productCreep] = finding{why: why + ", read after " + short(*p.MinutesRunning) + " min of running", firm: true}
		}
		return
	}
	parts := r.Parts
	young := parts.BedLitres != nil && *parts.BedLitres <= rinseLitres || parts.BedLitres == nil && parts.BedDays != nil && *parts.BedDays <= rinseDays
	switch {
	case over && young:
		var age string
		if parts.BedLitres != nil {
			age = "a bed that has made " + r.Show.inLitres(*parts.BedLitres)
		} else {
			age = "a bed of " + days(*parts.BedDays)
		}
		e[bedRinsing] = finding{why: why + "; " + age, firm: true}
		return
	case !young && parts.BedLowest != nil && *parts.BedLowest > zeroPPM:
		made := ""
		if parts.BedLitres != nil {
			made = " over " + r.Show.inLitres(*parts.BedLitres)
		}
		e[bedNeverZero] = finding{why: why + "; it never read less than " + inPPM(*parts.BedLowest) + made, firm: limit.confirmed()}
	}
	if !over {
		e[productGood] = finding{why: why}
		r.risingSigns(e, why)
		r.reservoirSigns(e)
		return
	}
	again := limit.confirmed()
	if again && p.Previous != nil {
		why += ", and " + inPPM(*p.Previous) + " the time before"
	}
	e[productOver] = finding{why: why, firm: again}
	r.inversionSigns(e, again)
}

// zeroPPM is what still reads as nothing on a meter of whole ppm.
const zeroPPM = 0.5

// risingSigns see a product that no longer reads 0, twice, near its limit.
func (r *Readings) risingSigns(e evidence, why string) {
	p, limit, res := r.ProductTDS, r.Limits.Product.Value, r.resolution()
	least := math.Max(res, limit/2) - 1e-9
	if p.Previous == nil || p.Value < least || *p.Previous < least {
		return
	}
	was := r.Parts.BedLowest
	if was == nil {
		was = p.Baseline
	}
	if was != nil && *was <= zeroPPM && *was < least {
		e[productRising] = finding{why: why + ", and " + inPPM(*p.Previous) + " the time before; it read " + inPPM(*was) + " before that", weak: true}
	}
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
		e[productFarAbove] = finding{why: why, firm: again}
	}
}

// airPPM is the most that air puts into stored water, on a meter of whole ppm (computed: 0.5 to 0.8 ppm at 420 to 1000
// ppm of carbon dioxide), foulPPM from where the reservoir is cleaned (common practice).
const (
	airPPM  = 1
	foulPPM = 2
)

func (r *Readings) reservoirSigns(e evidence) {
	v := r.ReservoirTDS
	if v == nil || v.Value <= r.ProductTDS.Value {
		return
	}
	f := finding{why: v.now("reservoir", inPPM) + ", " + r.ProductTDS.now("after resin", inPPM)}
	switch {
	case v.Value <= airPPM:
		e[reservoirTrace] = f
	case v.Value <= foulPPM:
		e[reservoirDoubtful] = f
	default:
		e[reservoirFouled] = f
	}
}

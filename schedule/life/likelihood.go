package life

import "math"

// term is an observation as the likelihood wants it: logarithms taken once.
type term struct {
	kind  kind
	lnAge float64 // of an interval: its lower end
	width float64 // of an interval: ln(upper end / lower end), above 0
	times float64 // how many observations say the very same
}

func newTerm(o Observation) term {
	if o.kind == intervalCensored {
		ln := math.Log(o.low)
		return term{o.kind, ln, math.Log(heavyReach*o.age) - ln, 1}
	}
	return term{o.kind, math.Log(o.age), 0, 1}
}

// point is a place in the plane that is searched.
type point struct{ lnShape, lnMedian float64 }

// local is the objective at a point with its first and second derivatives; x is the log shape, m the log median.
type local struct {
	value         float64
	gx, gm        float64
	hxx, hxm, hmm float64
}

// hugeExponent is the log hazard from which a point is taken as impossible, well before H u^2 b^2 overflows.
const hugeExponent = 600

// posterior is the log-posterior, up to a constant, over (ln shape, ln median).
type posterior struct {
	terms       []term
	all         int     // observations they stand for
	longest     float64 // ln of the longest age that something outlasted or reached; -Inf when there is none
	centre      point
	wx, wm      float64 // prior precisions; 0 where the prior has no opinion
	evaluations int
}

// at evaluates the posterior and its derivatives. The value is -Inf, and the derivatives are meaningless, where the
// likelihood underflows beyond use.
//
// With u = shape (ln t - ln median), H = ln 2 exp(u). Right-censored and exact terms need only the sums of H, H u
// and H u^2. A left- or interval-censored term is ln(1 - exp(-D)) with D the hazard gained over the interval, whose
// logarithm is linear in the log median; working with ln D keeps the narrowest and the widest intervals exact.
func (p *posterior) at(at point) local {
	p.evaluations++
	dx, dm := at.lnShape-p.centre.lnShape, at.lnMedian-p.centre.lnMedian
	l := local{
		value: -(p.wx*dx*dx + p.wm*dm*dm) / 2,
		gx:    -p.wx * dx, gm: -p.wm * dm,
		hxx: -p.wx, hmm: -p.wm,
	}
	b := math.Exp(at.lnShape)
	var h0, h1, h2 float64 // sums of H, H u, H u^2 over what must have survived
	for _, t := range p.terms {
		u := b * (t.lnAge - at.lnMedian)
		if u > hugeExponent && t.kind != leftCensored {
			return local{value: math.Inf(-1)}
		}
		switch t.kind {
		case exact:
			l.value += t.times * (at.lnShape + u)
			l.gx += t.times * (1 + u)
			l.gm -= t.times * b
			l.hxx += t.times * u
			l.hxm -= t.times * b
		case leftCensored:
			l.addGained(t.times, b, lnLn2+u, u, u)
			continue
		case intervalCensored:
			delta := b * t.width
			grow := -math.Expm1(-delta) // 1 - H(low)/H(high)
			ratio := delta / grow
			r := ratio - delta // delta / (exp(delta) - 1)
			l.addGained(t.times, b, lnLn2+u+delta+math.Log(grow), u+ratio, u+delta+r*(1-delta-r))
		}
		h := t.times * math.Ln2 * math.Exp(u)
		h0 += h
		h1 += h * u
		h2 += h * u * u
	}
	l.value -= h0
	l.gx -= h1
	l.gm += b * h0
	l.hxx -= h2 + h1
	l.hxm += b * (h1 + h0)
	l.hmm -= b * b * h0
	return l
}

// addGained adds ln(1 - exp(-D)), so many times, given ln D and its first and second derivatives by the log shape; those by the log
// median are -b and 0, the mixed one -b.
func (l *local) addGained(times, b, lnD, dx, dxx float64) {
	if lnD > math.Log(700) { // 1 - exp(-D) is 1, and flat
		return
	}
	slope, bend := 1.0, 0.0 // first and second derivative of ln(1 - exp(-D)) by ln D
	if lnD < -40 {
		l.value += times * lnD
	} else {
		d := math.Exp(lnD)
		e := math.Expm1(d)
		l.value += times * (math.Log(e) - d)
		slope = d / e
		bend = slope * (1 - d - slope)
	}
	l.gx += times * slope * dx
	l.gm -= times * slope * b
	l.hxx += times * (bend*dx*dx + slope*dxx)
	l.hxm -= times * b * (bend*dx + slope)
	l.hmm += times * b * b * bend
}

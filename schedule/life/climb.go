package life

import "math"

const (
	maxSteps      = 200  // a climb that needs more has stopped gaining anything that matters
	maxHalvings   = 60   // of one step
	stepTolerance = 1e-5 // in ln shape, and in shape * ln median: a last step this short lands far closer than that
	gainTolerance = 1e-13
	sameMode      = 0.05 // in ln shape, and in shape * ln median: a step of Newton's that lands this near is going there
	armijo        = 1e-4 // share of the promised gain a step must keep
	longestTurn   = 1.5  // longest step in ln shape
	onBound       = 1e-9 // a shape this near a bound, in ln shape, is on it
	flattest      = 1e-8 // least bend, of the greatest, that Newton's step is taken with
)

// summit is where a climb ended.
type summit struct {
	point
	value float64
}

// climb goes uphill by Newton's method on the analytic gradient and Hessian, and returns a mode. Where the surface isn't
// concave the Hessian is shifted until it is, and a step that gains too little is halved. A climb about to land on one
// of the known modes stops there.
func (p *posterior) climb(at point, known []summit) summit {
	here := p.at(at)
	for range maxSteps {
		step := here.uphill(at)
		if here.concave() {
			if k, ok := nearest(known, at.plus(step, 1)); ok {
				return k
			}
		}
		promised := here.gx*step.lnShape + here.gm*step.lnMedian
		if step.short(at) || !(promised > gainTolerance*(1+math.Abs(here.value))) {
			return summit{at.plus(step, 1), here.value + math.Max(0, promised/2)}
		}
		next, there, ok := p.walk(at, here, step)
		if !ok {
			break // nothing uphill can be told from rounding
		}
		at, here = next, there
	}
	return summit{at, here.value}
}

// nearest returns the known mode that the point is as good as at.
func nearest(known []summit, at point) (summit, bool) {
	b := math.Exp(at.lnShape)
	for _, k := range known {
		if math.Abs(at.lnShape-k.lnShape) < sameMode && b*math.Abs(at.lnMedian-k.lnMedian) < sameMode {
			return k, true
		}
	}
	return summit{}, false
}

// begin returns where a climb from start may begin. It lifts the median off the flank on which something that survived
// should long have failed. With n terms, of which the longest survival is t, every other term pulls ln median down by
// shape at most and the prior by no more than its pull at t, so the posterior rises with the median until H(t) is n
// and that pull over the shape: the lift is uphill all the way and passes no mode.
func (p *posterior) begin(start point) point {
	start.lnShape = clampShape(start.lnShape)
	b := math.Exp(start.lnShape)
	pull := p.wm * math.Max(0, p.longest-p.centre.lnMedian)
	enough := math.Log(float64(p.all)+pull/b) - lnLn2
	start.lnMedian = math.Max(start.lnMedian, p.longest-enough/b)
	return start
}

// walk takes the step, or the longest of its halves, quarters and so on that gains enough.
func (p *posterior) walk(at point, here local, step point) (point, local, bool) {
	promised := here.gx*step.lnShape + here.gm*step.lnMedian
	reach := 1.0
	for range maxHalvings {
		next := at.plus(step, reach)
		there := p.at(next)
		if there.value >= here.value+armijo*reach*promised {
			return next, there, true
		}
		reach /= 2
	}
	return at, here, false
}

// uphill returns the step to take: Newton's, or along a bound of the shape where that would cross it.
func (l local) uphill(at point) point {
	step := l.newton(at)
	if at.lnShape >= lnMaxShape-onBound && step.lnShape > 0 || at.lnShape <= lnMinShape+onBound && step.lnShape < 0 {
		return l.newtonMedian()
	}
	return step
}

// newton returns the Newton step, in a surface made concave where it isn't. Both directions are first brought to one
// scale, as the likelihood bends in shape * ln median as it does in ln shape, and the whole to size 1, so that no
// product overflows.
func (l local) newton(at point) point {
	b := math.Exp(at.lnShape)
	gx, gm := l.gx, l.gm/b
	axx, axm, amm := -l.hxx, -l.hxm/b, -l.hmm/(b*b)
	size := max(math.Abs(axx), math.Abs(axm), math.Abs(amm), math.SmallestNonzeroFloat64)
	gx, gm, axx, axm, amm = gx/size, gm/size, axx/size, axm/size, amm/size
	least := (axx+amm)/2 - math.Hypot((axx-amm)/2, axm) // the smaller eigenvalue
	if least < flattest {
		shift := 1e-3 - 2*min(least, 0)
		axx, amm = axx+shift, amm+shift
	}
	det := axx*amm - axm*axm
	step := point{(amm*gx - axm*gm) / det, (axx*gm - axm*gx) / det / b}
	if turn := math.Abs(step.lnShape); turn > longestTurn {
		step = point{step.lnShape * longestTurn / turn, step.lnMedian * longestTurn / turn}
	}
	return step
}

// newtonMedian returns the Newton step in ln median alone, one of length 1 where the surface isn't concave.
func (l local) newtonMedian() point {
	if l.hmm < 0 {
		return point{lnMedian: -l.gm / l.hmm}
	}
	return point{lnMedian: math.Copysign(1, l.gm)}
}

// concave reports whether the surface bends down in every direction, so that Newton's step is trusted as it is.
func (l local) concave() bool { return l.hxx < 0 && l.hxx*l.hmm > l.hxm*l.hxm }

// short reports whether the step is too small to matter.
func (s point) short(at point) bool {
	return math.Abs(s.lnShape) < stepTolerance && math.Abs(s.lnMedian)*math.Exp(at.lnShape) < stepTolerance
}

// plus returns the point moved by times the step. Where that would leave the bounds of the shape, the way is cut to
// end on the bound, so that it is still uphill.
func (s point) plus(step point, times float64) point {
	dx := step.lnShape * times
	switch {
	case s.lnShape+dx > lnMaxShape:
		times *= (lnMaxShape - s.lnShape) / dx
	case s.lnShape+dx < lnMinShape:
		times *= (lnMinShape - s.lnShape) / dx
	}
	return point{clampShape(s.lnShape + step.lnShape*times), s.lnMedian + step.lnMedian*times}
}

func clampShape(lnShape float64) float64 {
	return min(max(lnShape, lnMinShape), lnMaxShape)
}

package life

import "math"

// lnLn2 is ln(ln 2), the log cumulative hazard at the median.
const lnLn2 = -0.366512920581664327012439158232669470

// Weibull is a life distribution with cumulative hazard ln 2 (t/Median)^Shape.
type Weibull struct {
	Shape  float64 // above 1: wears out; 1: fails at random; below 1: fails young
	Median float64 // age by which half have failed, in the clock's own unit, above 0
}

// Quantile returns the age by which the fraction q has failed, 0 < q < 1.
func (w Weibull) Quantile(q float64) float64 {
	return math.Exp(math.Log(w.Median) + (math.Log(-math.Log1p(-q))-lnLn2)/w.Shape)
}

// cumulativeHazard returns H(age), 0 for an age of zero or below.
func (w Weibull) cumulativeHazard(age float64) float64 {
	if age <= 0 {
		return 0
	}
	return math.Exp(w.Shape*(math.Log(age)-math.Log(w.Median)) + lnLn2)
}

// FailedBy returns the chance that one put into service new has failed by the given age: 1 - R(age).
func (w Weibull) FailedBy(age float64) float64 {
	return -math.Expm1(-w.cumulativeHazard(age))
}

// FailsWithin returns the chance that one still working at the given age fails before it is span older:
// 1 - R(age + span)/R(age).
func (w Weibull) FailsWithin(age, span float64) float64 {
	if span <= 0 {
		return 0
	}
	before, after := w.cumulativeHazard(age), w.cumulativeHazard(age+span)
	if math.IsInf(after, 1) {
		return 1
	}
	return -math.Expm1(before - after)
}

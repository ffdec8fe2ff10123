package life

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// farHazard is a cumulative hazard at which survival is below e^-50: nothing is left to integrate beyond it.
const farHazard = 50

// ReplacementAge returns the age at which renewing costs least per unit of time in the long run, when a planned renewal
// costs planned and a failure costs failure (Barlow and Proschan 1965). It is not ok when no finite age does better
// than waiting for the failure: a shape of 1 or less, or a failure that costs no more. With a shape barely above 1
// the age can lie many lives away.
//
// The root sought is that of h(T) I(T) + R(T) = r/(r-1), with h the hazard, I the integral of R, r = failure/planned.
// With s = 1/shape and y the cumulative hazard at T, h I = y^(1-s) gamma(s, y), and the left side rises with y.
func (w Weibull) ReplacementAge(planned, failure float64) (age float64, ok bool) {
	if !(w.Shape > 1 && planned > 0 && failure > planned) {
		return 0, false
	}
	s := 1 / w.Shape
	excess := planned / (failure - planned) // r/(r-1) - 1
	gamma := math.Gamma(s)
	lnY := (math.Log1p(excess) - math.Log(gamma)) / (1 - s) // exact once survival has vanished
	if lnY < math.Log(farHazard) {
		lnY = solveHazard(s, gamma, excess)
	}
	lnAge := math.Log(w.Median) + s*(lnY-lnLn2)
	return math.Min(math.Exp(lnAge), math.MaxFloat64), true
}

// solveHazard returns ln y with y^(1-s) gamma(s, y) + e^-y - 1 = excess, by Newton's method on logarithms, which make
// the left side nearly straight, kept within a bracket.
func solveHazard(s, gamma, excess float64) float64 {
	lo, hi := math.Log(excess*s), math.Log(farHazard)+1 // y^(1-s) gamma(s, y) is never above y/s
	lnY := math.Log(excess * s / (1 - s))               // right for a small y
	for range 100 {
		if !(lnY > lo && lnY < hi) {
			lnY = (lo + hi) / 2
		}
		y := math.Exp(lnY)
		product := math.Exp((1-s)*lnY) * gamma * mathext.GammaIncReg(s, y)
		left := product + math.Expm1(-y)
		if left < excess {
			lo = lnY
		} else {
			hi = lnY
		}
		if !(left > 0) {
			continue
		}
		step := math.Log(left/excess) * left / ((1 - s) * product)
		lnY -= step
		if math.Abs(step) < 1e-12 || hi-lo < 1e-14 {
			break
		}
	}
	return lnY
}

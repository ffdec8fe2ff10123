package water

import "math"

// Standard conductivity C(35, 15 degC, 0) in mS/cm.
const standardConductivity = 42.914

// Range of the Practical Salinity Scale 1978.
const (
	minPractical = 2
	maxPractical = 42
)

// MostMixed is the highest salinity that is reckoned with at all. Above 42, where the scale ends, the same formulas are
// carried on: good to a few tenths, which is enough to say what dilutes a vat that was salted twice.
const MostMixed = 50

// t68 brings an ITS-90 temperature to the IPTS-68 that PSS-78 and EOS-80 are written in. Leaving it out costs 0.006
// degC at 25 degC.
func t68(t90 float64) float64 { return 1.00024 * t90 }

func practicalTemperature(v float64) error { return within("sample temperature", v, -2, 35, "°C") }

func practical(v float64) error {
	return within("practical salinity", v, minPractical, maxPractical, "")
}

// PracticalRange refuses a salinity that is not on the scale of practical salinity, pure water included.
func PracticalRange(name string, salinity float64) error {
	return within(name, salinity, 0, maxPractical, "")
}

// Coefficients of the Practical Salinity Scale 1978.
var (
	pssA  = [...]float64{0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081}
	pssB  = [...]float64{0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144}
	pssRt = [...]float64{0.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9}
)

// polynomial is c[0] + c[1] x + c[2] x^2 + ...
func polynomial(c []float64, x float64) float64 {
	sum := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}

// pss is the PSS-78 polynomial: salinity from the square root of the conductivity ratio Rt, at t68.
func pss(rootRt, t float64) float64 {
	k := (t - 15) / (1 + 0.0162*(t-15))
	return polynomial(pssA[:], rootRt) + k*polynomial(pssB[:], rootRt)
}

// PracticalSalinityUpTo is the salinity on the Practical Salinity Scale 1978 of sea water that conducts mS/cm at the
// sample's own temperature (ITS-90, -2 to 35 degC), at the surface. A meter that compensates shows the value for 25
// degC: give 25 then. Results below 2 or above most are refused: the scale ends at 42, and what was mixed is taken up to
// MostMixed.
//
// Source: UNESCO Technical Papers in Marine Science 44 (check values confirmed in public ports and recomputed).
func PracticalSalinityUpTo(mScm, sampleC, most float64) (float64, error) {
	err := first(positive("conductivity", mScm, 120, "mS/cm"), practicalTemperature(sampleC))
	if err != nil {
		return 0, err
	}
	t := t68(sampleC)
	s := pss(math.Sqrt(mScm/standardConductivity/polynomial(pssRt[:], t)), t)
	if s < minPractical-edge || s > most+edge {
		return 0, &RangeError{"practical salinity behind the conductivity", s, "", "2 to " + number(most)}
	}
	return s, nil
}

// edge lets a salinity at the very end of the scale come back through an inverse without being refused for rounding.
const edge = 1e-9

// Conductivity is the inverse of PracticalSalinityUpTo: mS/cm of sea water of practical salinity 2 to 42 at the sample's
// temperature (ITS-90, -2 to 35 degC), at the surface. Found by bisection to the last bits.
func Conductivity(salinity, sampleC float64) (float64, error) {
	if err := first(practical(salinity), practicalTemperature(sampleC)); err != nil {
		return 0, err
	}
	t := t68(sampleC)
	root := invert(func(x float64) float64 { return pss(x, t) }, salinity, 0.1, 1.5)
	return root * root * polynomial(pssRt[:], t) * standardConductivity, nil
}

// invert finds x in [lo, hi] with f(x) = y for an increasing f, to the last bits of a float64.
func invert(f func(float64) float64, y, lo, hi float64) float64 {
	for range 200 {
		mid := lo + (hi-lo)/2
		if mid <= lo || mid >= hi {
			break
		}
		if f(mid) < y {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo + (hi-lo)/2
}

// gramsPerPractical is u_PS of TEOS-10, 35.16504/35 g/kg.
const gramsPerPractical = 35.16504 / 35

// ReferenceSalinity is the mass of salt in g per kg of sea water of reference composition, SP * 35.16504/35, for a
// practical salinity of 0 to MostMixed, above 42 carried on. It holds for artificial sea water as far as its recipe follows the reference.
//
// Source: TEOS-10, IOC Manuals & Guides 56 (confirmed: constant of the GSW library).
func ReferenceSalinity(salinity float64) (float64, error) {
	if err := within("practical salinity", salinity, 0, MostMixed, ""); err != nil {
		return 0, err
	}
	return salinity * gramsPerPractical, nil
}

// PracticalFromReference is the inverse of ReferenceSalinity, from g/kg.
func PracticalFromReference(gPerKg float64) (float64, error) {
	if err := saltContent("salt content", gPerKg); err != nil {
		return 0, err
	}
	return gPerKg / gramsPerPractical, nil
}

// maxSaltContent is the end of the scale in g/kg, mostSaltContent that of MostMixed.
const (
	maxSaltContent  = maxPractical * gramsPerPractical
	mostSaltContent = MostMixed * gramsPerPractical
)

func saltContent(name string, v float64) error { return within(name, v, 0, maxSaltContent, "g/kg") }

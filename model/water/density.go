package water

import "math"

// Coefficients of the one-atmosphere International Equation of State of Sea Water 1980.
var (
	rhoPure = [...]float64{999.842594, 6.793952e-2, -9.095290e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9}
	rhoA    = [...]float64{8.24493e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9}
	rhoB    = [...]float64{-5.72466e-3, 1.0227e-4, -1.6546e-6}
)

const rhoC = 4.8314e-4

func densityTemperature(v float64) error { return within("water temperature", v, -2, 40, "°C") }

// rho is the EOS-80 polynomial at t68, kg/m3.
func rho(s, t float64) float64 {
	return polynomial(rhoPure[:], t) + s*polynomial(rhoA[:], t) + s*math.Sqrt(s)*polynomial(rhoB[:], t) + s*s*rhoC
}

// Density is that of water of practical salinity 0 (pure water) to 42 at the surface, in kg/m3, at an ITS-90
// temperature of -2 to 40 degC. TEOS-10 differs by at most 0.0055 kg/m3.
//
// Source: EOS-80, UNESCO Technical Papers in Marine Science 38 and 44, polynomial of Millero & Poisson 1981 (check
// values confirmed in public ports and recomputed).
func Density(salinity, waterC float64) (float64, error) {
	return DensityUpTo(salinity, waterC, maxPractical)
}

// DensityUpTo is Density with another upper end, at most MostMixed.
func DensityUpTo(salinity, waterC, most float64) (float64, error) {
	err := first(within("practical salinity", salinity, 0, most, ""), densityTemperature(waterC))
	if err != nil {
		return 0, err
	}
	return rho(salinity, t68(waterC)), nil
}

// salinityOf inverts an increasing property of salinity over 0 to most.
func salinityOf(f func(float64) float64, most, y float64, quantity, unit string) (float64, error) {
	lo, hi := f(0), f(most)
	slack := edge * hi
	if !(y >= lo-slack && y <= hi+slack) {
		return 0, &RangeError{quantity, y, unit, fixed(lo) + " to " + fixed(hi)}
	}
	return invert(f, y, 0, most), nil
}

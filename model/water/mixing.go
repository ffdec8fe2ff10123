package water

import "math"

// The active fraction f of a dry mix is the share of its mass that is sea salt; the rest is water of crystallisation
// and moisture. ActiveFractionDefault serves until batches have taught it.
//
// Source: range from the hydrates of the ASTM D1141 recipe (from memory for the recipe, computed).
const (
	ActiveFractionDefault = 0.90
	ActiveFractionLow     = 0.85
	ActiveFractionHigh    = 0.95
)

func active(v float64) error { return within("active fraction", v, 0.6, 1, "") }

func mixTemperature(v float64) error { return within("water temperature", v, 0, 40, "°C") }

func litres(name string, v float64) error { return positive(name, v, 1e6, "L") }

// densityOf is the density in kg/L of water with the given salt content (g/kg) at waterC.
func densityOf(gPerKg, waterC float64) float64 {
	return rho(gPerKg/gramsPerPractical, t68(waterC)) / 1000
}

// A Batch is what a mix needs and gives.
type Batch struct {
	SaltG  float64 // dry mix to weigh out
	FinalL float64 // volume of the finished salt water at the same temperature
}

// MixBatch is the dry mix of active fraction f (0.6 to 1) for freshL litres of fresh water at waterC (0 to 40 degC) to
// reach a salt content in g/kg (above 0, up to that of MostMixed): m = SA W/(1000 f - SA), W grams of water.
//
// Source: mass balance (computed), densities by EOS-80.
func MixBatch(freshL, waterC, targetGPerKg, f float64) (Batch, error) {
	err := first(litres("fresh water", freshL), mixTemperature(waterC),
		positive("target salt content", targetGPerKg, mostSaltContent, "g/kg"), active(f))
	if err != nil {
		return Batch{}, err
	}
	w := freshL * densityOf(0, waterC) * 1000
	m := targetGPerKg * w / (1000*f - targetGPerKg)
	return Batch{SaltG: m, FinalL: (w + m) / 1000 / densityOf(targetGPerKg, waterC)}, nil
}

// FreshForFinal is the fresh water, in litres, that makes finalL litres of finished salt water with MixBatch.
func FreshForFinal(finalL, waterC, targetGPerKg, f float64) (float64, error) {
	if err := litres("finished salt water", finalL); err != nil {
		return 0, err
	}
	one, err := MixBatch(1, waterC, targetGPerKg, f)
	if err != nil {
		return 0, err
	}
	return finalL / one.FinalL, nil
}

// ActiveFraction is the strength a finished batch shows: f = SA (W + m)/(1000 m), from the fresh water (L at waterC),
// the dry mix (g) and the measured salt content (g/kg). A result outside 0.6 to 1 is refused: no dry mix is that,
// so one of the three figures is wrong.
func ActiveFraction(freshL, waterC, saltG, gPerKg float64) (float64, error) {
	err := first(litres("fresh water", freshL), mixTemperature(waterC), positive("salt", saltG, 1e9, "g"),
		positive("measured salt content", gPerKg, maxSaltContent, "g/kg"))
	if err != nil {
		return 0, err
	}
	w := freshL * densityOf(0, waterC) * 1000
	f := gPerKg * (w + saltG) / (1000 * saltG)
	if f < 0.6 || f > 1+edge {
		return 0, &RangeError{"active fraction shown by the batch", f, "", "0.6 to 1"}
	}
	return math.Min(f, 1), nil
}

// rising accepts 0 <= from < to within the salinity range.
func rising(from, to float64) error {
	err := first(saltContent("salt content now", from), saltContent("target salt content", to))
	if err == nil && from >= to {
		err = &RangeError{"target salt content", to, "g/kg", "above the present " + number(from)}
	}
	return err
}

// falling accepts 0 < to < from, the target within the salinity range.
func falling(from, to float64) error {
	err := first(within("salt content now", from, 0, mostSaltContent, "g/kg"), positive("target salt content", to, maxSaltContent, "g/kg"))
	if err == nil && from <= to {
		err = &RangeError{"target salt content", to, "g/kg", "below the present " + number(from)}
	}
	return err
}

// SaltToRaise is the dry mix in grams that lifts volumeL litres from one salt content to a higher one (g/kg):
// M (S2-S1)/(1000 f - S2) * 1000, M the mass of the water in kg.
func SaltToRaise(volumeL, waterC, from, to, f float64) (float64, error) {
	if err := first(litres("volume", volumeL), mixTemperature(waterC), rising(from, to), active(f)); err != nil {
		return 0, err
	}
	return volumeL * densityOf(from, waterC) * (to - from) / (1000*f - to) * 1000, nil
}

// FreshToLower is the fresh water in litres to add to volumeL litres to come down to a lower salt content (g/kg):
// M (S1/S2 - 1) kg. The volume grows by it.
func FreshToLower(volumeL, waterC, from, to float64) (float64, error) {
	if err := first(litres("volume", volumeL), mixTemperature(waterC), falling(from, to)); err != nil {
		return 0, err
	}
	return volumeL * densityOf(from, waterC) * (from/to - 1) / densityOf(0, waterC), nil
}

// SwapForFresh is the salt water in litres to take out of volumeL litres and replace by fresh to come down to a lower
// salt content (g/kg) at the same volume: V (1 - S2 rho2/(S1 rho1)).
func SwapForFresh(volumeL, waterC, from, to float64) (float64, error) {
	if err := first(litres("volume", volumeL), mixTemperature(waterC), falling(from, to)); err != nil {
		return 0, err
	}
	return volumeL * (1 - to*densityOf(to, waterC)/(from*densityOf(from, waterC))), nil
}

// ShiftBatch is the salinity that a change of changeL litres must have to take a tank of tankL litres from one
// salinity to another: (S2 V - S1 (V-x))/x, any one salinity scale of 0 to MostMixed. The batch it asks for must be one
// that can be mixed, 0 to MostMixed; else the change is too small. A tank is not moved more than 1 to 2 units a day (common
// practice, no source).
func ShiftBatch(tankL, changeL, from, to float64) (float64, error) {
	err := first(litres("tank volume", tankL), positive("change", changeL, tankL, "L"),
		within("salinity now", from, 0, MostMixed, ""), within("target salinity", to, 0, MostMixed, ""))
	if err != nil {
		return 0, err
	}
	s := (to*tankL - from*(tankL-changeL)) / changeL
	if err := within("salinity the change would need", s, 0, MostMixed, ""); err != nil {
		return 0, err
	}
	return s, nil
}

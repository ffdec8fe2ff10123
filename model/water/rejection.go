package water

import "math"

// maxTDS is the highest TDS, in ppm, that the fresh-water formulas accept: above it a handheld meter of this trade
// is off its range and the water is brackish.
const maxTDS = 50000

func tds(name string, v float64) error { return within(name, v, 0, maxTDS, "ppm") }

func tapTDS(v float64) error { return positive("TDS at the tap", v, maxTDS, "ppm") }

// SaltPassage is the fraction of the salt that the membrane lets through, after-membrane TDS / tap TDS, both in ppm
// from one meter. It is trustworthy above about 20 ppm at the tap and well above the meter's resolution after the
// membrane (see SaltPassageSpan). More than 1 is returned as it is: it cannot be true of the water, only of the
// readings. Tap 0 < v <= 50000 ppm, after membrane 0 to 50000 ppm.
//
// Source: textbook definition, ASTM D6161 and D4194 (from memory: the standards were not seen).
func SaltPassage(tapPPM, membranePPM float64) (float64, error) {
	if err := first(tapTDS(tapPPM), tds("TDS after the membrane", membranePPM)); err != nil {
		return 0, err
	}
	return membranePPM / tapPPM, nil
}

// WarmthDays is how old a water temperature may be to excuse a salt passage.
const WarmthDays = 14

// WarmWaterFactor is what a salt passage is multiplied by so that warm water isn't held against the membrane:
// 1.03^(20-T) above 20 degC, and 1 below, because cold water that passes more salt than it should is no excuse. Water
// temperature 0 to 45 degC.
//
// Source: about 3 % more after-membrane TDS per degC, the difference of 6 %/degC salt flux and 3 %/degC water flux in
// the education kit of the Water Quality Association; others give other figures.
func WarmWaterFactor(waterC float64) (float64, error) {
	if err := feedTemperature(waterC); err != nil {
		return 1, err
	}
	return math.Pow(1.03, min(0, 20-waterC)), nil
}

// SaltPassageSpan is the lowest and highest salt passage that a pair of readings allows when each may be off by the
// given amount (ppm). A whole-ppm meter that shows 5 of 250 leaves anything from 1.57 to 2.45 %, so one reading of it
// can't carry an alarm. The errors are 0 or more and tapError is less than the tap reading.
func SaltPassageSpan(tapPPM, tapError, membranePPM, membraneError float64) (lo, hi float64, err error) {
	err = first(tapTDS(tapPPM), tds("TDS after the membrane", membranePPM),
		tds("meter error after the membrane", membraneError), tds("meter error at the tap", tapError))
	if err == nil && tapError >= tapPPM {
		err = &RangeError{"meter error at the tap", tapError, "ppm", "less than the reading of " + number(tapPPM)}
	}
	if err != nil {
		return 0, 0, err
	}
	lo = math.Max(0, membranePPM-membraneError) / (tapPPM + tapError)
	hi = (membranePPM + membraneError) / (tapPPM - tapError)
	return lo, hi, nil
}

// HeldPassage is the salt passage of a pair of readings as it is held against a limit, before warm water excuses any of
// it. Of whole ppm the half ppm that the meter can't tell is given to the membrane: (v - 0.5)/(t + 0.5) against a
// rejection that should stay above its limit, (v + 0.5)/(t - 0.5) against one that should stay under it (badAbove).
func HeldPassage(tapPPM, membranePPM float64, badAbove bool) (float64, error) {
	if tapPPM != math.Trunc(tapPPM) || membranePPM != math.Trunc(membranePPM) {
		return SaltPassage(tapPPM, membranePPM)
	}
	lo, hi, err := SaltPassageSpan(tapPPM, 0.5, membranePPM, 0.5)
	if badAbove {
		return hi, err
	}
	return lo, err
}

package typed

import (
	"errors"
	"fmt"
	"strings"

	"brine/wrasse/model"
)

// Amount reads an amount of a counter, or the value of its meter: `40`, `10 gal`,
// `20+18`, `100-60`. Without a unit it is in the unit shown; the result is in
// stored, the counter's own unit, and not below 0.
func Amount(s, stored string, u model.Units) (float64, error) {
	terms, err := parseSum(s)
	if err != nil {
		return 0, err
	}
	v, err := total(terms, stored, u)
	switch {
	case err != nil:
		return 0, err
	case v < 0:
		return 0, fmt.Errorf("%q comes to %s; give an amount of 0 or more", strings.TrimSpace(s), Quantity(v, stored, u))
	case v > model.MaxAmount:
		return 0, fmt.Errorf("%q is too large; give at most 1000000000 %s", strings.TrimSpace(s), stored)
	}
	return v, nil
}

// Value reads one reading of a gauge: `248`, `-1.5`, `77 F`, `60psi`, and on a
// gauge of practical salinity also `1.0264 SG` (at the gauge's scale, 25/25 when
// it names none) or `35.2 g/kg`. The result is in the gauge's unit.
func Value(s string, g model.Gauge, u model.Units) (float64, error) {
	terms, err := parseSum(s)
	switch {
	case errors.Is(err, errNoNumber):
		return 0, fmt.Errorf("%q: a number is missing; give one reading, such as 248", strings.TrimSpace(s))
	case err != nil:
		return 0, err
	case len(terms) != 1:
		return 0, fmt.Errorf("%q: a reading is one number; give such as 248", strings.TrimSpace(s))
	}
	if g.Unit == practical {
		return salinity(terms[0], g)
	}
	return total(terms, g.Unit, u)
}

// Skipped stands for a gauge that was not read, among several that are asked for.
const Skipped = "-"

package parse

import (
	"errors"
	"fmt"
	"strings"

	"brine/wrasse/model"
)

// Amount reads an amount: `40`, `10 gal`, `20+18`, `100-60`. Without a unit it is in the unit shown; the result is in
// stored, and not below 0.
func Amount(s, stored string, u model.Units) (float64, error) {
	v, _, err := amount(s, stored, u)
	return v, err
}

func amount(s, stored string, u model.Units) (v, within float64, err error) {
	terms, err := parseSum(s)
	if err != nil {
		return 0, 0, err
	}
	v, within, err = asWritten(terms, func(t []term) (float64, error) { return total(t, stored, u) })
	switch {
	case err != nil:
		return 0, 0, err
	case v < 0:
		return 0, 0, fmt.Errorf("%q comes to %s; give an amount of 0 or more", strings.TrimSpace(s), Quantity(v, stored, u))
	case v > model.MaxAmount:
		return 0, 0, fmt.Errorf("%q is too large; give at most 1000000000 %s", strings.TrimSpace(s), stored)
	}
	return v, within, nil
}

// Usage reads what a counter counted, or the value of its meter, as Amount does. What nobody uses at once is refused with
// an ImpossibleError.
func Usage(s string, c model.Counter, u model.Units) (float64, error) {
	v, _, err := UsageWithin(s, c, u)
	return v, err
}

// UsageWithin is Usage and how far from it the amount that was meant may lie: half of the last digit of what was typed.
// Both are there beside an ImpossibleError too.
func UsageWithin(s string, c model.Counter, u model.Units) (v, within float64, err error) {
	if v, within, err = amount(s, c.Unit, u); err == nil {
		err = possibleAmount(v, c, u)
	}
	return v, within, err
}

// Value reads one reading of a gauge: `248`, `-1.5`, `77 F`, `60psi`, and on a
// gauge of practical salinity also `1.0264 SG` (at the gauge's scale, 25/25 when
// it names none) or `35.2 g/kg`. The result is in the gauge's unit. What no instrument
// shows is refused with an ImpossibleError.
func Value(s string, g model.Gauge, u model.Units) (float64, error) {
	v, _, err := ValueWithin(s, g, u)
	return v, err
}

// ValueWithin is Value and how far from it the value that was meant may lie: half of the last digit of what was typed.
// Both are there beside an ImpossibleError too.
func ValueWithin(s string, g model.Gauge, u model.Units) (v, within float64, err error) {
	terms, err := parseSum(s)
	switch {
	case errors.Is(err, errNoNumber):
		return 0, 0, fmt.Errorf("%q: a number is missing; give one reading, such as 248", strings.TrimSpace(s))
	case err != nil:
		return 0, 0, err
	case len(terms) != 1:
		return 0, 0, fmt.Errorf("%q: a reading is one number; give such as 248", strings.TrimSpace(s))
	}
	v, within, err = asWritten(terms, func(t []term) (float64, error) {
		if g.Unit == practical {
			return salinity(t[0], g)
		}
		return total(t, g.Unit, u)
	})
	if err == nil {
		err = possible(v, g, u)
	}
	return v, within, err
}

// Skipped stands for a gauge that was not read, among several that are asked for.
const Skipped = "-"

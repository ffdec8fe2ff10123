// Package water holds the physics of the water station and of sea water: what the membrane lets
// through, what pressure and cold do to its flow, what a resin bed or a carbon block can take up, how salinity,
// density and specific gravity follow from one another, what to add to a batch, and what a set of readings says
// about the parts of the unit.
//
// Everything is a pure function of plain numbers; the unit stands in the name or the doc comment of each. Dates,
// entries, books and forecasts live elsewhere. A value outside the range a formula is good for is refused with a
// RangeError, never turned into a number.
//
// Where a doc comment names a source it also says how sure the attribution is: "confirmed" means that the figure
// was seen there, "from memory" that the document was not seen again, "common practice, no source" that no document
// stands behind it. "Computed" is arithmetic, for which none is needed.
package water

import (
	"cmp"
	"math"
	"strconv"
)

// A RangeError refuses a value that is outside the range a formula is good for.
type RangeError struct {
	Quantity string  // what was given, e.g. "water temperature"
	Value    float64 // as given, in Unit
	Unit     string  // "" for a pure number
	Accepted string  // the accepted range in words, e.g. "0 to 45"
}

// Error names the quantity, the value and what is accepted, in one line.
func (e *RangeError) Error() string {
	unit := ""
	if e.Unit != "" {
		unit = " " + e.Unit
	}
	return e.Quantity + " " + number(e.Value) + unit + ": accepted is " + e.Accepted + unit
}

// within accepts lo <= v <= hi.
func within(quantity string, v, lo, hi float64, unit string) error {
	if v >= lo && v <= hi {
		return nil
	}
	return &RangeError{quantity, v, unit, number(lo) + " to " + number(hi)}
}

// positive accepts 0 < v <= hi.
func positive(quantity string, v, hi float64, unit string) error {
	if v > 0 && v <= hi {
		return nil
	}
	return &RangeError{quantity, v, unit, "above 0, up to " + number(hi)}
}

// first returns the first error among checks, so that a function can list its ranges in one place.
func first(checks ...error) error { return cmp.Or(checks...) }

// number prints v with at most six significant digits and no trailing zeros.
func number(v float64) string {
	if a := math.Abs(v); a >= 1e6 && a < 1e12 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
}

// fixed prints v with five decimals, for densities and gravities, whose meaning is in the last ones.
func fixed(v float64) string { return strconv.FormatFloat(v, 'f', 5, 64) }

package parse

import (
	"math"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// practical is how gauges of practical salinity name their unit.
const practical = "SP"

// Unit is the unit in which values that the book keeps in stored are typed and
// shown. Flows follow the volume: gallons a day beside gallons.
func Unit(stored string, u model.Units) string {
	kept, err := water.ParseUnit(stored)
	if err != nil {
		return stored
	}
	switch {
	case kept == water.Litre && u.Volume == "gal":
		return string(water.USGallon)
	case kept == water.LitrePerHr && u.Volume == "gal":
		return string(water.GallonPerDy)
	case kept == water.Celsius && u.Temperature == "F":
		return string(water.Fahrenheit)
	case kept == water.Bar && u.Pressure == "psi":
		return string(water.PSI)
	}
	return stored
}

// Shown is a value as it is shown: v, kept in stored, in the unit that Unit gives.
func Shown(v float64, stored string, u model.Units) float64 {
	return converted(v, stored, Unit(stored, u))
}

// converted is v in another unit of the same measure. Units that the program does
// not know stand for themselves.
func converted(v float64, from, to string) float64 {
	if from == to {
		return v
	}
	f, err1 := water.ParseUnit(from)
	t, err2 := water.ParseUnit(to)
	if err1 != nil || err2 != nil {
		return v
	}
	c, err := water.Convert(v, f, t)
	if err != nil {
		return v
	}
	return c
}

// Quantity is a value with its unit as the keeper reads it: "40 L", "10.6 gal",
// "77 °F", "0.05 mg/L".
func Quantity(v float64, stored string, u model.Units) string {
	unit := Unit(stored, u)
	n := Number(converted(v, stored, unit))
	if unit == "" {
		return n
	}
	return n + " " + UnitName(unit)
}

// Figure is Quantity without the unit, for columns that name it once.
func Figure(v float64, stored string, u model.Units) string {
	return Number(Shown(v, stored, u))
}

// Difference is how much more one value is than another, with its unit: 1 degC more is 1.8 degF more, not 33.8.
func Difference(v float64, stored string, u model.Units) string {
	return strings.TrimSpace(Number(v*perStored(stored, u)) + " " + UnitName(Unit(stored, u)))
}

// ReadDifference reads a difference of values, typed in the unit in which they are shown.
func ReadDifference(s, stored string, u model.Units) (float64, error) {
	v, err := Plain(s)
	return v / perStored(stored, u), err
}

// perStored is how many of the units shown one of the units kept is.
func perStored(stored string, u model.Units) float64 {
	return Shown(1, stored, u) - Shown(0, stored, u)
}

// UnitName is a unit as it is written beside a figure.
func UnitName(unit string) string {
	switch unit {
	case string(water.Celsius):
		return "°C"
	case string(water.Fahrenheit):
		return "°F"
	}
	return unit
}

// shownDigits is how many significant digits a figure keeps behind its point;
// digits before the point are always kept.
const shownDigits = 4

// Number writes a figure without noise: four significant digits, more only where
// the whole part has more, and no trailing zeros.
func Number(v float64) string {
	whole := len(strconv.FormatFloat(math.Trunc(math.Abs(v)), 'f', 0, 64))
	if math.Abs(v) < 1 {
		whole = 0
	}
	s := strconv.FormatFloat(v, 'f', max(shownDigits-whole, 0), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

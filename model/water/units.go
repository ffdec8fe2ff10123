package water

import (
	"fmt"
	"math"
	"strings"
)

// A Unit is one a keeper may read off an instrument or a label.
type Unit string

// The units Convert knows, grouped by what they measure.
const (
	Litre      Unit = "L"
	Millilitre Unit = "mL"
	USGallon   Unit = "gal"

	Bar         Unit = "bar"
	PSI         Unit = "psi"
	Kilopascal  Unit = "kPa"
	LitrePerHr  Unit = "L/h"
	LitrePerDay Unit = "L/d"
	GallonPerDy Unit = "gpd"
	MlPerMinute Unit = "mL/min"

	Gram      Unit = "g"
	Kilogram  Unit = "kg"
	Milligram Unit = "mg"
	Grain     Unit = "gr"
	Pound     Unit = "lb"
	Ounce     Unit = "oz"

	Celsius    Unit = "C"
	Fahrenheit Unit = "F"

	MicroSiemens Unit = "uS/cm"
	MilliSiemens Unit = "mS/cm"

	// Hardness and alkalinity, all as equivalents.
	MeqPerLitre    Unit = "meq/L"
	MgCaCO3        Unit = "mg/L CaCO3"
	GermanDegree   Unit = "dKH"
	FrenchDegree   Unit = "fH"
	GrainPerGallon Unit = "gpg"

	// Ion-exchange capacity per volume of resin.
	EqPerLitre   Unit = "eq/L"
	KilogrPerFt3 Unit = "kgr/ft3"
)

// Exact by definition: the US gallon (3.785411784 L), the grain (64.79891 mg), the pound (453.59237 g). The psi is
// 6894.757293168 Pa. MgCaCO3PerMeq is half the molar mass of calcium carbonate as the trade rounds it.
const (
	litresPerUSGallon = 3.785411784
	mgPerGrain        = 64.79891
	barPerPSI         = 0.06894757293168
	mgCaCO3PerMeq     = 50.04
	litresPerFt3      = 28.316846592
)

type measure int

const (
	volume measure = iota
	pressure
	flow
	mass
	temperature
	conductivity
	hardness
	capacity
)

// units gives for each unit what it measures and base = value*factor + offset. The bases are L, bar, L/h, g, degC,
// uS/cm, meq/L and eq/L.
var units = map[Unit]struct {
	of             measure
	factor, offset float64
}{
	Litre: {volume, 1, 0}, Millilitre: {volume, 1e-3, 0}, USGallon: {volume, litresPerUSGallon, 0},
	Bar: {pressure, 1, 0}, PSI: {pressure, barPerPSI, 0}, Kilopascal: {pressure, 0.01, 0},
	LitrePerHr: {flow, 1, 0}, LitrePerDay: {flow, 1.0 / 24, 0}, GallonPerDy: {flow, litresPerUSGallon / 24, 0},
	MlPerMinute: {flow, 0.06, 0},
	Gram:        {mass, 1, 0}, Kilogram: {mass, 1000, 0}, Milligram: {mass, 1e-3, 0}, Grain: {mass, mgPerGrain / 1000, 0},
	Pound: {mass, 453.59237, 0}, Ounce: {mass, 453.59237 / 16, 0},
	Celsius: {temperature, 1, 0}, Fahrenheit: {temperature, 5.0 / 9, -160.0 / 9},
	MicroSiemens: {conductivity, 1, 0}, MilliSiemens: {conductivity, 1000, 0},
	MeqPerLitre: {hardness, 1, 0}, MgCaCO3: {hardness, 1 / mgCaCO3PerMeq, 0}, GermanDegree: {hardness, 1 / 2.8, 0},
	FrenchDegree: {hardness, 0.2, 0}, GrainPerGallon: {hardness, mgPerGrain / litresPerUSGallon / mgCaCO3PerMeq, 0},
	EqPerLitre: {capacity, 1, 0}, KilogrPerFt3: {capacity, mgPerGrain / mgCaCO3PerMeq / litresPerFt3, 0},
}

// aliases are other ways people write a unit, in lower case.
var aliases = map[string]Unit{
	"l": Litre, "litre": Litre, "litres": Litre, "liter": Litre, "liters": Litre, "ml": Millilitre,
	"gal": USGallon, "gallon": USGallon, "gallons": USGallon, "usgal": USGallon, "us gal": USGallon,
	"bar": Bar, "psi": PSI, "kpa": Kilopascal,
	"l/h": LitrePerHr, "l/d": LitrePerDay, "gpd": GallonPerDy, "gal/d": GallonPerDy, "ml/min": MlPerMinute,
	"g": Gram, "kg": Kilogram, "mg": Milligram, "gr": Grain, "grain": Grain, "grains": Grain, "lb": Pound, "lbs": Pound, "oz": Ounce,
	"c": Celsius, "degc": Celsius, "°c": Celsius, "f": Fahrenheit, "degf": Fahrenheit, "°f": Fahrenheit,
	"us/cm": MicroSiemens, "µs/cm": MicroSiemens, "us": MicroSiemens, "ms/cm": MilliSiemens, "ms": MilliSiemens,
	"meq/l": MeqPerLitre, "mg/l caco3": MgCaCO3, "dkh": GermanDegree, "fh": FrenchDegree, "gpg": GrainPerGallon,
	"eq/l": EqPerLitre, "kgr/ft3": KilogrPerFt3,
}

// ParseUnit reads a unit as people type it ("gal", "°F", "PSI"). Case and surrounding space do not matter.
func ParseUnit(s string) (Unit, error) {
	if u, ok := aliases[strings.ToLower(strings.TrimSpace(s))]; ok {
		return u, nil
	}
	return "", fmt.Errorf("unit %q: not known; try L, gal, bar, psi, C, F, g, lb, L/h, gpd, mS/cm", s)
}

// Convert brings v from one unit to another that measures the same thing. It refuses two units that do not, and a
// value that is not finite.
func Convert(v float64, from, to Unit) (float64, error) {
	f, ok := units[from]
	if !ok {
		return 0, fmt.Errorf("unit %q: not known", string(from))
	}
	t, ok := units[to]
	if !ok {
		return 0, fmt.Errorf("unit %q: not known", string(to))
	}
	if f.of != t.of {
		return 0, fmt.Errorf("unit %s: can't become %s, they measure different things", from, to)
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, &RangeError{"value", v, string(from), "any finite number"}
	}
	base := float64(v*f.factor) + f.offset
	return (base - t.offset) / t.factor, nil
}

package typed

import (
	"fmt"
	"strings"

	"brine/wrasse/model/water"
)

// Sample is what a salinity is read from and with.
type Sample struct {
	WaterC    float64         // of the water that was read
	Reference water.Reference // of a specific gravity
}

// Scaled is a salinity as it was read.
type Scaled struct {
	Practical float64
	Scale     string // the scale it was read on, in words
}

// salinityForms is what may be typed for a salinity.
const salinityForms = "give 35, 1.0264sg, 53.1mS/cm, 35.17g/kg or, off a glass float, 1.0245float"

// Salinity reads a salinity on any scale a keeper meets: practical (`35`, `35 ppt`),
// specific gravity (`1.0264sg`, corrected to its reference), the stem of a glass float
// as it stands in the sample (`1.0245float`), conductivity of the sample at its own
// temperature (`53.1 mS/cm`), grams of salt in a kilogram (`35.17 g/kg`).
func Salinity(s string, at Sample) (Scaled, error) {
	terms, err := parseSum(s)
	if err != nil {
		return Scaled{}, fmt.Errorf("%w; %s", err, salinityForms)
	}
	if len(terms) != 1 {
		return Scaled{}, fmt.Errorf("%q: a salinity is one number; %s", strings.TrimSpace(s), salinityForms)
	}
	v := terms[0].value
	switch strings.ToLower(strings.ReplaceAll(terms[0].unit, "µ", "u")) {
	case "", "sp", "psu", "ppt", "practical":
		if v > 0.9 && v < 1.1 {
			return Scaled{}, fmt.Errorf("%s looks like a specific gravity; give it as %ssg, or a practical salinity such as 35", trimmed(v), trimmed(v))
		}
		_, err := water.ReferenceSalinity(v)
		return Scaled{v, "practical salinity"}, err
	case "sg":
		p, err := water.SalinityFromGravity(v, at.Reference)
		return Scaled{p, "specific gravity at " + at.Reference.Name}, err
	case "float":
		p, err := water.SalinityFromHydrometer(v, at.WaterC, at.Reference)
		return Scaled{p, "a " + at.Reference.Name + " glass float in water of " + Number(at.WaterC) + " °C"}, err
	case "ms", "ms/cm":
		p, err := water.PracticalSalinity(v, at.WaterC)
		return Scaled{p, "conductivity at " + Number(at.WaterC) + " °C"}, err
	case "us", "us/cm":
		p, err := water.PracticalSalinity(v/1000, at.WaterC)
		return Scaled{p, "conductivity at " + Number(at.WaterC) + " °C"}, err
	case "g/kg":
		p, err := water.PracticalFromReference(v)
		return Scaled{p, "grams of salt in a kilogram"}, err
	}
	return Scaled{}, fmt.Errorf("unit %q: not one of salinity; %s", terms[0].unit, salinityForms)
}

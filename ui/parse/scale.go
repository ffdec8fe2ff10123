package parse

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// Sample is what a salinity is read from and with.
type Sample struct {
	WaterC    float64         // of the water that was read
	Reference water.Reference // of a specific gravity
	Meter     Meter           // of a conductivity
	Most      float64         // the highest salinity accepted; 0 stands for 42, where the scales end

	Units model.Units // in which temperatures are said
}

// Meter is whether a conductivity meter shows the value for 25 degC, as nearly all do, or that of the water as it is.
type Meter string

// The two kinds of meter. It matters where the water is not at 25 degC.
const (
	MeterNotSaid      Meter = ""
	MeterCompensating Meter = "compensating"
	MeterRaw          Meter = "raw"
)

// Scaled is a salinity as it was read.
type Scaled struct {
	Practical float64
	Scale     string // the scale it was read on, in words
}

// usualMost is where the scales of salinity end.
const usualMost = 42

// warmEnough is how near to 25 degC a sample lies for compensation to make no difference that matters.
const warmEnough = 0.05

// salinityForms is what may be typed for a salinity.
const salinityForms = "give 35, 1.0264sg, 53.1mS/cm, 35.17g/kg, off a glass float 1.0245float, or off a refractometer with a brine scale 36.5brine"

// Salinity reads a salinity on any scale a keeper meets: practical (`35`, `35 ppt`),
// specific gravity (`1.0264sg`, corrected to its reference), the stem of a glass float
// as it stands in the sample (`1.0245float`), conductivity (`53.1 mS/cm`), grams of salt
// in a kilogram (`35.17 g/kg`), a refractometer whose scale is for table salt
// (`36.5brine`). Of a conductivity in water that is not at 25 degC the meter must be said.
func Salinity(s string, at Sample) (Scaled, error) {
	terms, err := parseSum(s)
	if err != nil {
		return Scaled{}, fmt.Errorf("%w; %s", err, salinityForms)
	}
	if len(terms) != 1 {
		return Scaled{}, fmt.Errorf("%q: a salinity is one number; %s", strings.TrimSpace(s), salinityForms)
	}
	if at.Most == 0 {
		at.Most = usualMost
	}
	v := terms[0].value
	switch strings.ToLower(strings.ReplaceAll(terms[0].unit, "µ", "u")) {
	case "", "sp", "psu", "ppt", "practical":
		if v > 0.9 && v < 1.1 {
			return Scaled{}, fmt.Errorf("%s looks like a specific gravity; give it as %ssg, or a practical salinity such as 35", trimmed(v), trimmed(v))
		}
		if v > water.MostMixed && v < 60 {
			return Scaled{}, fmt.Errorf("a salinity of %s is saltier than any batch; give one such as 35, or a conductivity as %smS", Number(v), Number(v))
		}
		return at.within(v, "practical salinity")
	case "sg":
		p, err := water.SalinityFromGravityUpTo(v, at.Reference, at.Most)
		return Scaled{p, "specific gravity at " + at.Reference.Name}, err
	case "float":
		p, err := water.SalinityFromHydrometerUpTo(v, at.WaterC, at.Reference, at.Most)
		return Scaled{p, "a " + at.Reference.Name + " glass float in water of " + Quantity(at.WaterC, "C", at.Units)}, err
	case "ms", "ms/cm":
		return at.conducting(v)
	case "us", "us/cm":
		return at.conducting(v / 1000)
	case "g/kg":
		p, err := water.PracticalFromReference(v)
		return Scaled{p, "grams of salt in a kilogram"}, err
	case "brine":
		p, err := water.SalinityFromBrine(v)
		return Scaled{p, "a refractometer with a brine (table salt) scale"}, err
	}
	return Scaled{}, fmt.Errorf("unit %q: does not measure salinity; %s", terms[0].unit, salinityForms)
}

func (at Sample) within(practical float64, scale string) (Scaled, error) {
	if practical >= 0 && practical <= at.Most {
		return Scaled{practical, scale}, nil
	}
	return Scaled{}, &water.RangeError{Quantity: "practical salinity", Value: practical, Accepted: "0 to " + Number(at.Most)}
}

// conducting reads a conductivity in mS/cm.
func (at Sample) conducting(mScm float64) (Scaled, error) {
	as := func(c float64, scale string) (Scaled, error) {
		p, err := water.PracticalSalinityUpTo(mScm, c, at.Most)
		return Scaled{p, scale}, err
	}
	here := Quantity(at.WaterC, "C", at.Units)
	at25 := Quantity(25, "C", at.Units)
	off := at.WaterC < 25-warmEnough || at.WaterC > 25+warmEnough
	switch {
	case !off || at.Meter == MeterRaw:
		return as(at.WaterC, "conductivity at "+here)
	case at.Meter == MeterCompensating:
		return as(25, "conductivity as a compensating meter shows it, for "+at25)
	}
	wide := at
	wide.Most = 60
	raw, err1 := water.PracticalSalinityUpTo(mScm, at.WaterC, wide.Most)
	shown, err2 := water.PracticalSalinityUpTo(mScm, 25, wide.Most)
	if err1 != nil || err2 != nil {
		return as(at.WaterC, "")
	}
	return Scaled{}, fmt.Errorf("%s mS/cm in water of %s is %.1f if the meter shows it for %s, as nearly all do, and %.1f if it does not compensate: say which",
		Number(mScm), here, shown, at25, raw)
}

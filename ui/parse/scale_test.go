package parse

import (
	"math"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// Sea water of practical salinity 35 conducts 53.071 mS/cm at 25 degC and 47.918 at 20
// (PSS-78, UNESCO technical papers in marine science 44, computed with GSW); it has a
// specific gravity of 1.02637 at 25/25, 1.02660 at 20/20, 1.02686 at 60F/60F (EOS-80),
// and holds 35.16504 g of salt in a kilogram (TEOS-10). A 60F/60F float shows 1.02459
// in it at 25 degC (computed, glass 25e-6 per degC).
func TestSalinity(t *testing.T) {
	for _, c := range []struct {
		typed string
		warm  float64
		ref   water.Reference
		scale string
	}{
		{"35", 25, water.At25, "practical"},
		{"35 ppt", 25, water.At25, "practical"},
		{"1.02637sg", 25, water.At25, "25/25"},
		{"1,02637 SG", 25, water.At25, "25/25"},
		{"1.02660 sg", 25, water.At20, "20/20"},
		{"1.02686sg", 12, water.At60F, "60F/60F"},
		{"1.02459 float", 25, water.At60F, "float in water of 25"},
		{"53.071mS", 25, water.At25, "conductivity at 25"},
		{"47.918 mS/cm", 20, water.At25, "conductivity at 20"},
		{"53071 µS/cm", 25, water.At25, "conductivity at 25"},
		{"35.16504 g/kg", 25, water.At25, "kilogram"},
		{"36.5brine", 25, water.At25, "brine"},
	} {
		got, err := Salinity(c.typed, Sample{WaterC: c.warm, Reference: c.ref, Meter: MeterRaw})
		if err != nil || math.Abs(got.Practical-35) > map[bool]float64{true: 0.05, false: 0.01}[c.scale == "brine"] || !strings.Contains(got.Scale, c.scale) {
			t.Errorf("Salinity(%q) = %+v, %v; want 35 on %s", c.typed, got, err, c.scale)
		}
	}
}

func TestSalinityRefuses(t *testing.T) {
	for typed, says := range map[string]string{
		"":        "nothing typed",
		"1.026":   "1.026sg",
		"53":      "53mS",
		"1.2sg":   "specific gravity",
		"90mS":    "2 to 42",
		"35 bar":  "does not measure salinity",
		"30+5":    "one number",
		"salty":   "number",
		"-3":      "practical salinity",
		"50 g/kg": "0 to 42",
		"45":      "0 to 42",
		"80brine": "brine scale",
	} {
		got, err := Salinity(typed, Sample{WaterC: 25, Reference: water.At25})
		if err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("Salinity(%q) = %+v, %v; want an error with %q", typed, got, err, says)
		}
	}
}

// A compensating meter shows the value for 25 degC, where 53.1 mS/cm is 35.0; as it stands in water of 20 degC it is 39.3
// (PSS-78, computed with GSW). Which of the two a meter is nobody can tell from the figure.
func TestConductivityAsksForTheMeter(t *testing.T) {
	at := Sample{WaterC: 20, Reference: water.At25}
	_, err := Salinity("53.1mS", at)
	if err == nil || !strings.Contains(err.Error(), "is 35.0 if the meter shows it for 25 °C") || !strings.Contains(err.Error(), "39.3 if it does not compensate") {
		t.Errorf("not asked: %v", err)
	}
	for meter, want := range map[Meter]float64{MeterCompensating: 35.02, MeterRaw: 39.29} {
		at.Meter = meter
		if got, err := Salinity("53.1mS", at); err != nil || math.Abs(got.Practical-want) > 0.01 {
			t.Errorf("%s: %+v, %v", meter, got, err)
		}
	}
	if got, err := Salinity("53.07mS", Sample{WaterC: 25, Reference: water.At25}); err != nil || math.Abs(got.Practical-35) > 0.01 {
		t.Errorf("at 25: %+v, %v", got, err)
	}
}

// A vat that was salted twice lies beyond the scales; what dilutes it needs a figure all the same. SG 1.0340 at 25/25 is
// about 45 (EOS-80 carried on).
func TestBeyondTheScales(t *testing.T) {
	at := Sample{WaterC: 25, Reference: water.At25, Most: water.MostMixed}
	for typed, want := range map[string]float64{"45": 45, "1.0340sg": 45, "66.5mS": 45} {
		if got, err := Salinity(typed, at); err != nil || math.Abs(got.Practical-want) > 0.3 {
			t.Errorf("%s: %+v, %v", typed, got, err)
		}
	}
	if got, err := Salinity("53", at); err == nil || !strings.Contains(err.Error(), "53mS") {
		t.Errorf("a conductivity without its unit: %+v, %v", got, err)
	}
}

// A gauge whose scale is a brine refractometer's is read as the instrument shows it.
func TestGaugesHaveScales(t *testing.T) {
	for _, c := range []struct {
		typed, scale string
		want         float64
	}{
		{"36.5", "brine", 35}, {"35 SP", "brine", 35}, {"35", "sea water", 35}, {"35", "", 35}, {"1.0264sg", "sea water", 34.73},
		{"1.0264sg", "60F/60F", 34.40}, {"1.0264sg", "", 35.04}, {"36.5brine", "25/25", 35},
	} {
		got, err := Value(c.typed, model.Gauge{Name: "Tank", Unit: "SP", Scale: c.scale}, model.Units{})
		if err != nil || math.Abs(got-c.want) > 0.05 {
			t.Errorf("%s on %q: %v, %v; want %v", c.typed, c.scale, got, err, c.want)
		}
	}
	if _, err := Value("1.0264sg", model.Gauge{Name: "Tank", Unit: "SP", Scale: "blue"}, model.Units{}); err == nil || !strings.Contains(err.Error(), "scale of Tank") {
		t.Errorf("a scale that isn't one: %v", err)
	}
}

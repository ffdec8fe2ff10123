package typed

import (
	"math"
	"strings"
	"testing"

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
	} {
		got, err := Salinity(c.typed, Sample{c.warm, c.ref})
		if err != nil || math.Abs(got.Practical-35) > 0.01 || !strings.Contains(got.Scale, c.scale) {
			t.Errorf("Salinity(%q) = %+v, %v; want 35 on %s", c.typed, got, err, c.scale)
		}
	}
}

func TestSalinityRefuses(t *testing.T) {
	for typed, says := range map[string]string{
		"":        "nothing typed",
		"1.026":   "1.026sg",
		"53":      "practical salinity",
		"1.2sg":   "specific gravity",
		"90mS":    "2 to 42",
		"35 bar":  "not one of salinity",
		"30+5":    "one number",
		"salty":   "number",
		"-3":      "practical salinity",
		"50 g/kg": "0 to 42",
	} {
		got, err := Salinity(typed, Sample{25, water.At25})
		if err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("Salinity(%q) = %+v, %v; want an error with %q", typed, got, err, says)
		}
	}
}

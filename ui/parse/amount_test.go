package parse

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"brine/wrasse/model"
)

var (
	metric = model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}
	us     = model.Units{Volume: "gal", Temperature: "F", Pressure: "psi"}
)

// The US gallon is 3.785411784 L by definition (NIST Handbook 44, appendix C).
const gallon = 3.785411784

func TestAmount(t *testing.T) {
	for _, c := range []struct {
		typed, unit string
		units       model.Units
		want        float64
	}{
		{"40", "L", metric, 40},
		{" 40 ", "L", metric, 40},
		{"40L", "L", metric, 40},
		{"40 litres", "L", metric, 40},
		{"500 mL", "L", metric, 0.5},
		{"10 gal", "L", metric, 10 * gallon},
		{"10gal", "L", us, 10 * gallon},
		{"10", "L", us, 10 * gallon},
		{"40 L", "L", us, 40},
		{"20+18", "L", metric, 38},
		{"20 + 18 + 2", "L", metric, 40},
		{"100-60", "L", metric, 40},
		{"100−60", "L", metric, 40},
		{"20+18 gal", "L", metric, 38 * gallon},
		{"10 gal + 5", "L", metric, 15 * gallon},
		{"10 gal + 5 L", "L", metric, 10*gallon + 5},
		{"12.5", "L", metric, 12.5},
		{"12,5", "L", metric, 12.5},
		{"0,125", "L", metric, 0.125},
		{".5", "L", metric, 0.5},
		{"40-40", "L", metric, 0},
		{"0", "L", metric, 0},
		{"2", "batch", us, 2},
		{"2 batches", "batch", us, 2},
		{"1 Batch", "batch", metric, 1},
		{"3 h", "h", metric, 3},
	} {
		got, err := Amount(c.typed, c.unit, c.units)
		if err != nil || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("Amount(%q, %s, %s) = %v, %v; want %v", c.typed, c.unit, c.units.Volume, got, err, c.want)
		}
	}
}

func TestAmountRefuses(t *testing.T) {
	for typed, says := range map[string]string{
		"":               "nothing typed",
		"  ":             "nothing typed",
		"L":              "a number is missing",
		"forty":          "a number is missing",
		"20+":            "a number is missing",
		"+":              "a number is missing",
		"20 18":          "joined by + or -",
		"20*2":           "joined by + or -",
		"(20)":           "a number is missing",
		"1,500":          "thousands or decimals",
		"1.500,2":        "thousands or decimals",
		"1.2.3":          "not a number",
		"60-100":         "comes to -40 L",
		"-5":             "comes to -5 L",
		"5 psi":          "does not measure the same as L",
		"5 buckets":      "not known",
		"1e9":            "not known",
		"99999999999999": "too large",
		"1000000000+1":   "too large",
		"NaN":            "a number is missing",
		"20\x1b[31m":     "not known",
	} {
		got, err := Amount(typed, "L", metric)
		if err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("Amount(%q) = %v, %v; want an error with %q in one line", typed, got, err, says)
		}
	}
}

func TestValue(t *testing.T) {
	for _, c := range []struct {
		typed, unit, scale string
		units              model.Units
		want               float64
	}{
		{"248", "ppm", "", metric, 248},
		{"248ppm", "ppm", "", metric, 248},
		{"-1.5", "C", "", metric, -1.5},
		{"77", "C", "", us, 25},
		{"77F", "C", "", metric, 25},
		{"77 °F", "C", "", metric, 25},
		{"25 C", "C", "", us, 25},
		{"60", "bar", "", us, 60 * 0.06894757293168},
		{"60psi", "bar", "", metric, 60 * 0.06894757293168},
		{"100", "L/h", "", us, 100 * gallon / 24},
		{"8.4", "dKH", "", us, 8.4},
		{"35", "SP", "", metric, 35},
		{"35 ppt", "SP", "", metric, 35},
		{"35.16504 g/kg", "SP", "", metric, 35},
	} {
		got, err := Value(c.typed, model.Gauge{Unit: c.unit, Scale: c.scale}, c.units)
		if err != nil || math.Abs(got-c.want) > 1e-6 {
			t.Errorf("Value(%q, %s) = %v, %v; want %v", c.typed, c.unit, got, err, c.want)
		}
	}
}

// A practical salinity of 35 at 25 degC has the density 1023.343 kg/m3 (EOS-80; UNESCO
// technical papers in marine science 44, 1983) over 997.048 of pure water: 1.0264.
func TestValueOfASpecificGravity(t *testing.T) {
	for _, scale := range []string{"", "25/25"} {
		got, err := Value("1.0264 SG", model.Gauge{Unit: "SP", Scale: scale}, metric)
		if err != nil || math.Abs(got-35) > 0.05 {
			t.Errorf("1.0264 SG on scale %q = %v, %v; want 35", scale, got, err)
		}
	}
	if _, err := Value("1.026", model.Gauge{Unit: "SP"}, metric); err == nil || !strings.Contains(err.Error(), "1.026 SG") {
		t.Errorf("a bare specific gravity: %v; want it asked for with its unit", err)
	}
}

func TestNumber(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", 40: "40", 248: "248", 12345.6: "12346", 0.05: "0.05", 10.5669: "10.57", 1.02642: "1.026",
		-1.5: "-1.5", 99.999999: "100", 0.12345678: "0.1235", -0.00001: "0", 1000: "1000",
	} {
		if got := Number(v); got != want {
			t.Errorf("Number(%v) = %q, want %q", v, got, want)
		}
	}
}

func TestQuantity(t *testing.T) {
	for _, c := range []struct {
		v     float64
		unit  string
		units model.Units
		want  string
	}{
		{40, "L", metric, "40 L"},
		{40, "L", us, "10.57 gal"},
		{25, "C", metric, "25 °C"},
		{25, "C", us, "77 °F"},
		{4, "bar", us, "58.02 psi"},
		{3, "batch", us, "3 batch"},
	} {
		if got := Quantity(c.v, c.unit, c.units); got != c.want {
			t.Errorf("Quantity(%v, %s) = %q, want %q", c.v, c.unit, got, c.want)
		}
	}
}

func TestDuration(t *testing.T) {
	for m, want := range map[float64]string{
		0: "0 min", 8: "8 min", 59.4: "59 min", 59.6: "1 h", 60: "1 h", 210: "3 h 30", 605: "10 h 05",
		1440: "1 d", 1439.7: "1 d", 1680: "1 d 4 h", -3: "0 min",
	} {
		if got := Duration(m); got != want {
			t.Errorf("Duration(%v) = %q, want %q", m, got, want)
		}
	}
}

func TestLabour(t *testing.T) {
	for m, want := range map[int]string{0: "0 min", 90: "1 h 30", 1439: "23 h 59", 1440: "24 h", 7349: "122 h", 7350: "123 h"} {
		if got := Labour(m); got != want {
			t.Errorf("Labour(%d) = %q, want %q", m, got, want)
		}
	}
}

// What is shown reads back as what was meant, to the digits shown.
func TestShownReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0, 1e5).Draw(t, "value")
		unit := rapid.SampledFrom([]string{"L", "bar", "ppm", "L/h", "batch"}).Draw(t, "unit")
		u := rapid.SampledFrom([]model.Units{metric, us}).Draw(t, "units")
		got, err := Amount(Quantity(v, unit, u), unit, u)
		if err != nil {
			t.Fatalf("Amount(%q): %v", Quantity(v, unit, u), err)
		}
		if off := math.Abs(got - v); off > max(1e-3*v, 1e-3) {
			t.Fatalf("%v %s was shown as %q and read back as %v", v, unit, Quantity(v, unit, u), got)
		}
	})
}

func FuzzAmount(f *testing.F) {
	for _, s := range []string{"40", "10 gal", "20+18", "100-60", "12,5", "1,500", "", "+", "--4", "1..2", "10 gal + 5 L", "−3", "4\x00", "9e99", "ⅷ"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := Amount(s, "L", us)
		switch {
		case err != nil && v != 0:
			t.Errorf("Amount(%q) = %v beside the error %v", s, v, err)
		case err == nil && !(v >= 0 && v <= model.MaxAmount):
			t.Errorf("Amount(%q) = %v, outside what a book takes", s, v)
		case err == nil && !strings.ContainsAny(s, "0123456789"):
			t.Errorf("Amount(%q) = %v out of no digit", s, v)
		}
	})
}

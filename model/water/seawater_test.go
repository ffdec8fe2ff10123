package water

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"brine/wrasse/testdata"
)

// pressureTerm is Rp of PSS-78, used to bring the published check values that lie at depth to the surface form.
func pressureTerm(r, t68, p float64) float64 {
	return 1 + p*(2.070e-5-6.370e-10*p+3.989e-15*p*p)/(1+3.426e-2*t68+4.464e-4*t68*t68+(4.215e-1-3.107e-3*t68)*r)
}

// Published: UNESCO Technical Papers in Marine Science 44 (confirmed in public ports of its programs), printed to six
// decimals; the other rows computed with the GSW library, to 1e-5.
func TestPracticalSalinityTable(t *testing.T) {
	published := 0
	for _, r := range testdata.Table(t, "reference/pss78.csv") {
		c, t90, want := r.Number(t, "c_ms_cm"), r.Number(t, "t90_c"), r.Number(t, "sp")
		switch r["source"] {
		case "gsw_hill1986": // below 2 the scale ends, and so does this package
			if want < 2 {
				_, err := PracticalSalinityUpTo(c, t90, maxPractical)
				refused(t, r["id"], err)
			}
			continue
		case "unesco1983":
			published++
			surface := c / pressureTerm(r.Number(t, "r"), r.Number(t, "t68_c"), r.Number(t, "p_dbar"))
			got, err := PracticalSalinityUpTo(surface, t90, maxPractical)
			near(t, r["id"], got, err, want, 5e-7)
			continue
		}
		got, err := PracticalSalinityUpTo(c, t90, maxPractical)
		near(t, r["id"]+" S", got, err, want, 1e-5)
		if want >= 2 && want <= 42 {
			back, err := Conductivity(want, t90)
			near(t, r["id"]+" C", back, err, c, 1e-4)
		}
	}
	if published != 3 {
		t.Errorf("%d published check values, want 3", published)
	}
}

// Conductivity of sea water of 35 by PSS-78 (computed with two libraries), printed to three decimals, and the
// inverse checks of conductivities as a keeper reads them.
func TestConductivityOfSeawater(t *testing.T) {
	for _, c := range []struct{ t68, want float64 }{
		{15, 42.914}, {18, 45.894}, {20, 47.913}, {22, 49.957}, {24, 52.023}, {25, 53.065}, {26, 54.112}, {28, 56.221},
	} {
		got, err := Conductivity(35, c.t68/1.00024)
		near(t, "C(35)", got, err, c.want, 5.1e-4)
	}
	for _, c := range []struct{ s, at20, at25 float64 }{
		{20, 28.942, 32.091}, {30, 41.748, 46.253}, {33, 45.467, 50.363}, {35, 47.918, 53.071}, {40, 53.951, 59.734},
	} {
		got, err := Conductivity(c.s, 20)
		near(t, "C at 20", got, err, c.at20, 5.1e-4)
		got, err = Conductivity(c.s, 25)
		near(t, "C at 25", got, err, c.at25, 5.1e-4)
	}
	for _, c := range []struct{ c, t90, want float64 }{{53, 25, 34.947}, {50, 25, 32.733}, {48, 20, 35.067}, {52, 24, 34.978}} {
		got, err := PracticalSalinityUpTo(c.c, c.t90, maxPractical)
		near(t, "S", got, err, c.want, 5.1e-4)
	}
}

// EOS-80: the four check values of UNESCO 44 at one atmosphere (from memory), to their five decimals; the rest the
// polynomial of Millero & Poisson 1981, computed twice.
func TestDensityTable(t *testing.T) {
	for _, r := range testdata.Table(t, "reference/eos80_density.csv") {
		s, t90, want := r.Number(t, "s"), r.Number(t, "t90_c"), r.Number(t, "rho_kg_m3")
		tolerance := 1e-4
		if r["source"] == "unesco1983" {
			tolerance = 5.1e-6
		}
		got, err := Density(s, t90)
		near(t, r["id"], got, err, want, tolerance)
	}
}

// TEOS-10 (GSW library, computed by two of its functions): reference salinity exactly, density within the stated
// 0.0055 kg/m3 by which EOS-80 differs.
func TestAgainstTEOS10(t *testing.T) {
	for _, r := range testdata.Table(t, "reference/teos10_density.csv") {
		sp, t90 := r.Number(t, "sp"), r.Number(t, "t90_c")
		got, err := Density(sp, t90)
		near(t, r["id"]+" rho", got, err, r.Number(t, "rho_exact_kg_m3"), 5.6e-3)
		sr, err := ReferenceSalinity(sp)
		near(t, r["id"]+" SR", sr, err, r.Number(t, "sr_g_kg"), 1e-6)
		back, err := PracticalFromReference(sr)
		near(t, r["id"]+" SP", back, err, sp, 1e-12)
	}
}

// Specific gravity at every reference of the table, EOS-80 to 1e-9 and TEOS-10 to the stated 2e-5.
func TestSpecificGravityTable(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range testdata.Table(t, "reference/specific_gravity.csv") {
		ref := must(ParseReference(r["frame"]))
		seen[r["frame"]] = true
		s := r.Number(t, "s")
		got, err := SpecificGravity(s, ref)
		near(t, r["id"], got, err, r.Number(t, "sg_eos80"), 1e-9)
		near(t, r["id"], got, err, r.Number(t, "sg_teos10"), 2e-5)
		back, err := SalinityFromGravity(r.Number(t, "sg_eos80"), ref)
		near(t, r["id"]+" back", back, err, s, 1e-6)
	}
	for _, frame := range []string{"20/20", "25/25", "60F/60F", "25/4"} {
		if !seen[frame] {
			t.Errorf("no row for %s", frame)
		}
	}
	for name, ref := range map[string]Reference{"20/20": At20, "25/25": At25, "60F/60F": At60F} {
		if parsed, err := ParseReference(name); err != nil || parsed != ref {
			t.Errorf("%s parses to %v, %v", name, parsed, err)
		}
	}
}

// The same printed reading means a different salinity on each reference (computed from EOS-80, two decimals).
func TestSameReadingOnEachReference(t *testing.T) {
	for _, c := range []struct {
		sg   float64
		want map[string]float64
	}{
		{1.0240, map[string]float64{"20/20": 31.59, "25/25": 31.87, "60F/60F": 31.29, "20/4": 33.97, "25/4": 35.84}},
		{1.0264, map[string]float64{"20/20": 34.73, "25/25": 35.04, "60F/60F": 34.40, "20/4": 37.11, "25/4": 39.01}},
	} {
		for name, want := range c.want {
			ref := must(ParseReference(name))
			got, err := SalinityFromGravity(c.sg, ref)
			near(t, name, got, err, want, 5.1e-3)
		}
	}
}

// A float in 25 degC water of 35 with nothing corrected (computed from EOS-80 and 25e-6 per degC for glass).
func TestHydrometerInWarmWater(t *testing.T) {
	for _, c := range []struct {
		ref  Reference
		want float64
	}{{At60F, 1.02459}, {At20, 1.02531}, {At25, 1.02637}} {
		got, err := HydrometerReading(35, 25, c.ref)
		near(t, c.ref.Name, got, err, c.want, 5.1e-6)
		s, err := SalinityFromHydrometerUpTo(got, 25, c.ref, maxPractical)
		near(t, c.ref.Name+" back", s, err, 35, 1e-6)
	}
	blind, err := SalinityFromGravity(1.02459, At60F)
	near(t, "read blind", blind, err, 32.1, 0.05)
}

func TestSeawaterRefusals(t *testing.T) {
	calls := map[string]func() error{
		"conductivity 0":      func() error { _, err := PracticalSalinityUpTo(0, 25, maxPractical); return err },
		"conductivity NaN":    func() error { _, err := PracticalSalinityUpTo(math.NaN(), 25, maxPractical); return err },
		"too salt":            func() error { _, err := PracticalSalinityUpTo(70, 25, maxPractical); return err },
		"too hot":             func() error { _, err := PracticalSalinityUpTo(53, 36, maxPractical); return err },
		"salinity below 2":    func() error { _, err := Conductivity(1.9, 25); return err },
		"density salinity":    func() error { _, err := Density(43, 25); return err },
		"density temperature": func() error { _, err := Density(35, 41); return err },
		"gravity below water": func() error { _, err := SalinityFromGravity(0.99, At25); return err },
		"gravity infinite":    func() error { _, err := SalinityFromGravity(math.Inf(1), At25); return err },
		"gravity too high":    func() error { _, err := SalinityFromGravity(1.05, At25); return err },
		"salt content":        func() error { _, err := PracticalFromReference(50); return err },
		"hot hydrometer":      func() error { _, err := SalinityFromHydrometerUpTo(1.02, 50, At25, maxPractical); return err },
		"odd reference":       func() error { _, err := SpecificGravity(35, Reference{"80/4", 80, 4}); return err },
	}
	for name, call := range calls {
		refused(t, name, call())
	}
	for _, s := range []string{"", "25", "25/", "a/b", "25/x"} {
		if _, err := ParseReference(s); err == nil {
			t.Errorf("reference %q accepted", s)
		}
	}
}

func TestSeawaterInverses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.Float64Range(2, 42).Draw(t, "s")
		c := rapid.Float64Range(0, 35).Draw(t, "t")
		k := must(Conductivity(s, c))
		back, err := PracticalSalinityUpTo(k, c, maxPractical)
		if err != nil || math.Abs(back-s) > 1e-9 {
			t.Fatalf("S %v -> C %v -> S %v, %v", s, k, back, err)
		}
		ref := rapid.SampledFrom([]Reference{At20, At25, At60F, {"25/4", 25, 4}}).Draw(t, "ref")
		sg := must(SpecificGravity(s, ref))
		back, err = SalinityFromGravity(sg, ref)
		if err != nil || math.Abs(back-s) > 1e-8 {
			t.Fatalf("S %v -> SG %v -> S %v, %v", s, sg, back, err)
		}
	})
}

// More salt conducts more and weighs more; warmer water conducts more.
func TestSeawaterMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.Float64Range(2, 41).Draw(t, "s")
		c := rapid.Float64Range(0, 34).Draw(t, "t")
		step := rapid.Float64Range(1e-3, 1).Draw(t, "step")
		k0, _ := Conductivity(s, c)
		k1, _ := Conductivity(s+step, c)
		k2, _ := Conductivity(s, c+step)
		d0, _ := Density(s, c)
		d1, _ := Density(s+step, c)
		if !(k1 > k0 && k2 > k0 && d1 > d0) {
			t.Fatalf("not rising at S %v T %v step %v: %v %v %v, %v %v", s, c, step, k0, k1, k2, d0, d1)
		}
	})
}

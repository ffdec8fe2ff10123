package water

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func gramsPerKg(t *testing.T, practical float64) float64 {
	t.Helper()
	return must(ReferenceSalinity(practical))
}

// Salt for a litre of RO water at 25 degC to practical 35, by active fraction (computed with TEOS-10; range
// of f from the hydrates of the D1141 recipe, itself from memory).
func TestSaltMassTable(t *testing.T) {
	for _, c := range []struct{ f, perFresh, perFinal, final float64 }{
		{1.00, 36.34, 35.99, 1.0098}, {0.95, 38.33, 37.88, 1.0118}, {0.92, 39.62, 39.12, 1.0130},
		{0.90, 40.54, 39.98, 1.0139}, {0.88, 41.50, 40.89, 1.0149}, {0.85, 43.03, 42.34, 1.0164},
	} {
		b, err := MixBatch(1, 25, gramsPerKg(t, 35), c.f)
		near(t, "salt", b.SaltG, err, c.perFresh, 0.0051)
		near(t, "final", b.FinalL, err, c.final, 5.1e-5)
		near(t, "per final litre", b.SaltG/b.FinalL, err, c.perFinal, 0.0051)
		fresh, err := FreshForFinal(b.FinalL, 25, gramsPerKg(t, 35), c.f)
		near(t, "fresh for final", fresh, err, 1, 1e-12)
		f, err := ActiveFraction(1, 25, b.SaltG, gramsPerKg(t, 35))
		near(t, "learnt", f, err, c.f, 1e-12)
	}
	for _, c := range []struct{ sp, perFresh, final float64 }{{30, 30.99, 1.0083}, {33, 34.19, 1.0092}, {36, 37.42, 1.0101}} {
		b, err := MixBatch(1, 25, gramsPerKg(t, c.sp), 1)
		near(t, "salt", b.SaltG, err, c.perFresh, 0.0051)
		near(t, "final", b.FinalL, err, c.final, 5.1e-5)
	}
}

// "35 grams a litre makes 35" (computed): it makes 33.75 of pure sea salt, 30.4 and 28.7 of real mixes.
func TestThirtyFiveGramsALitre(t *testing.T) {
	for _, c := range []struct{ f, want, tolerance float64 }{{1, 33.75, 0.03}, {0.9, 30.4, 0.051}, {0.85, 28.7, 0.051}} {
		find := invert(func(g float64) float64 {
			b := must(MixBatch(1, 25, g, c.f))
			return b.SaltG
		}, 35, 1, 42)
		sp, err := PracticalFromReference(find)
		near(t, "practical salinity", sp, err, c.want, c.tolerance)
	}
}

// Adjusting (computed; salinities taken as g/kg, densities at 25 degC). The printed masses used the density of
// practical 33 and 37, which moves them by less than 0.02 %.
func TestAdjusting(t *testing.T) {
	g, err := SaltToRaise(100, 25, 33, 35, 1)
	near(t, "raise, pure salt", g, err, 211.8, 0.08)
	g, err = SaltToRaise(100, 25, 33, 35, 0.9)
	near(t, "raise, f 0.90", g, err, 236.3, 0.08)
	l, err := FreshToLower(100, 25, 37, 35)
	near(t, "lower", l, err, 5.87, 5.1e-3)
	l, err = SwapForFresh(100, 25, 37, 35)
	near(t, "swap", l, err, 5.54, 5.1e-3)
	s, err := ShiftBatch(400, 40, 33, 34)
	near(t, "shift", s, err, 43, 1e-9)
}

func TestMixingRefusals(t *testing.T) {
	calls := map[string]func() error{
		"no water":            func() error { _, err := MixBatch(0, 25, 35, 0.9); return err },
		"brine":               func() error { _, err := MixBatch(100, 25, 60, 0.9); return err },
		"no target":           func() error { _, err := MixBatch(100, 25, 0, 0.9); return err },
		"fraction":            func() error { _, err := MixBatch(100, 25, 35, 1.1); return err },
		"hot":                 func() error { _, err := MixBatch(100, 60, 35, 0.9); return err },
		"final":               func() error { _, err := FreshForFinal(-1, 25, 35, 0.9); return err },
		"impossible strength": func() error { _, err := ActiveFraction(100, 25, 1000, 35); return err },
		"weak strength":       func() error { _, err := ActiveFraction(100, 25, 9000, 35); return err },
		"raise downwards":     func() error { _, err := SaltToRaise(100, 25, 36, 35, 0.9); return err },
		"lower upwards":       func() error { _, err := FreshToLower(100, 25, 33, 35); return err },
		"swap upwards":        func() error { _, err := SwapForFresh(100, 25, 35, 35); return err },
		"change too small":    func() error { _, err := ShiftBatch(400, 5, 33, 36); return err },
		"change too large":    func() error { _, err := ShiftBatch(400, 500, 33, 34); return err },
	}
	for name, call := range calls {
		refused(t, name, call())
	}
}

// A correction applied by mass balance lands on its target.
func TestCorrectionsLand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(10, 500).Draw(t, "volume")
		c := rapid.Float64Range(5, 35).Draw(t, "c")
		lo := rapid.Float64Range(20, 37).Draw(t, "lo")
		hi := lo + rapid.Float64Range(0.1, 3).Draw(t, "step")
		f := rapid.Float64Range(0.8, 1).Draw(t, "f")
		m := must(SaltToRaise(v, c, lo, hi, f))
		kg := v * densityOf(lo, c)
		if got := (kg*lo + m*f) / (kg + m/1000); math.Abs(got-hi) > 1e-9 {
			t.Fatalf("raising %v to %v lands on %v", lo, hi, got)
		}
		w := must(FreshToLower(v, c, hi, lo))
		kg = v * densityOf(hi, c)
		if got := kg * hi / (kg + w*densityOf(0, c)); math.Abs(got-lo) > 1e-9 {
			t.Fatalf("lowering %v to %v lands on %v", hi, lo, got)
		}
		b := must(MixBatch(v, c, hi, f))
		back, err := ActiveFraction(v, c, b.SaltG, hi)
		if err != nil || math.Abs(back-f) > 1e-9 {
			t.Fatalf("strength %v comes back as %v, %v", f, back, err)
		}
	})
}

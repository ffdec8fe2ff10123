package station

import (
	"math"
	"testing"

	"brine/wrasse/model"
)

// Grams of dry mix a litre of RO water at 25 degC for a practical salinity of 35, and
// the litres that makes, by active fraction: computed from the mass balance with TEOS-10
// densities; densities here are EOS-80's, which differ by less than 1e-5. The mix is to
// be within half a percent.
func TestPlan(t *testing.T) {
	for f, want := range map[float64][2]float64{
		1.00: {36.34, 1.0098}, 0.95: {38.33, 1.0118}, 0.92: {39.62, 1.0130},
		0.90: {40.54, 1.0139}, 0.88: {41.50, 1.0149}, 0.85: {43.03, 1.0164},
	} {
		m := must(Plan(120, 25, 35, Strength{f, f, f, 3}))
		if got := m.SaltG / 120; math.Abs(got-want[0]) > 0.005*want[0] {
			t.Errorf("f %v takes %.2f g a litre, want %.2f", f, got, want[0])
		}
		if got := m.SaltG / 120; math.Abs(got-want[0]) > 0.01 {
			t.Errorf("f %v takes %.3f g a litre, want %.2f to its last digit", f, got, want[0])
		}
		near(t, "litres made", m.FinalL/120, want[1], 2e-4)
	}
}

func TestTheFirstDoseIsTheLowEnd(t *testing.T) {
	m := must(Plan(100, 25, 35, defaultStrength))
	near(t, "first", m.FirstG, 3833, 1)
	near(t, "likely", m.SaltG, 4054, 1)
	near(t, "at most", m.MostG, 4303, 1)
	f := must(PlanFinal(m.FinalL, 25, 35, defaultStrength))
	near(t, "fresh water for what is made", f.FreshL, 100, 1e-6)
	for _, bad := range [][3]float64{{0, 25, 35}, {100, 60, 35}, {100, 25, 0}, {100, 25, 50}} {
		if m, err := Plan(bad[0], bad[1], bad[2], defaultStrength); err == nil {
			t.Errorf("Plan(%v) = %+v", bad, m)
		}
	}
}

// 100 L at 25 degC from 33 to 35 take 211.8 g of pure sea salt, 236.3 g at f 0.90; from 37
// to 35, 5.87 L added or 5.54 L swapped (computed). Those figures take salt by mass for
// the practical salinity; the reference salt is half a percent more of both.
func TestCorrect(t *testing.T) {
	c := must(Correct(100, 25, 33, 35, Strength{0.90, 0.85, 0.95, 0}))
	near(t, "salt", c.SaltG, 236.3, 0.006*236.3)
	if c.FirstG >= c.SaltG || !c.Needed() || c.FreshL != 0 {
		t.Errorf("33 to 35: %+v", c)
	}
	c = must(Correct(100, 25, 37, 35, defaultStrength))
	near(t, "fresh", c.FreshL, 5.87, 0.01)
	near(t, "swapped", c.SwapL, 5.54, 0.01)
	near(t, "made", c.FinalL, 105.87, 0.02)
	if c, err := Correct(100, 25, 35.1, 35, defaultStrength); err != nil || c.Needed() {
		t.Errorf("35.1 for 35: %+v, %v", c, err)
	}
}

func (l *log) batch(n int, volume, grams, salinity float64) {
	l.add(n, model.Batch{VolumeL: volume, SaltG: grams, Salinity: &salinity})
}

// The strength is learnt from 3 measured batches on, from the latest 8, and not from
// one that no dry mix can have made.
func TestStrength(t *testing.T) {
	l := newLog(t)
	if got := StrengthOf(l.book(), day(50)); got != defaultStrength {
		t.Errorf("an empty book: %+v", got)
	}
	l.add(2, model.Batch{VolumeL: 60, SaltG: 2400})
	l.batch(3, 60, 2400, 35)
	l.batch(4, 60, 24000, 35) // a nought too many
	l.batch(5, 60, 2400, 35.4)
	if got := StrengthOf(l.book(), day(50)); got.Batches != 0 {
		t.Errorf("two batches teach %+v", got)
	}
	l.batch(6, 60, 2400, 34.6)
	got := StrengthOf(l.book(), day(50))
	// f = SA (W + m)/(1000 m): 35.165 (59823 + 2400)/(1000 x 2400) = 0.9117
	near(t, "strength", got.Fraction, 0.9117, 5e-4)
	if got.Batches != 3 || got.Low >= got.Fraction || got.High <= got.Fraction {
		t.Errorf("three batches teach %+v", got)
	}
	if got := StrengthOf(l.book(), day(5)); got.Batches != 0 {
		t.Errorf("a later batch taught an earlier day: %+v", got)
	}
	for i := range 20 {
		l.batch(60+i, 60, 2300, 35)
	}
	if got := StrengthOf(l.book(), day(99)); got.Batches != 8 || got.Low != got.High {
		t.Errorf("another sack: %+v", got)
	}
}

// A batch is corrected by what it shows itself, so that mixing what it asks for hits the
// target whatever the salt.
func TestCorrectBatchByItsOwnStrength(t *testing.T) {
	salinity, warm := 33.0, 24.0
	batch := model.Batch{VolumeL: 60, SaltG: 2200, Salinity: &salinity, TemperatureC: &warm}
	f, ok := BatchStrength(batch)
	if !ok {
		t.Fatal("the batch shows no strength")
	}
	c := must(CorrectBatch(batch, 35, defaultStrength))
	near(t, "strength", c.Strength.Fraction, f, 0)
	m := must(Plan(60, 24, 35, Strength{f, f, f, 1}))
	near(t, "salt in all", batch.SaltG+c.SaltG, m.SaltG, 0.5)
	if _, err := CorrectBatch(model.Batch{VolumeL: 60, SaltG: 2200}, 35, defaultStrength); err == nil {
		t.Error("an unmeasured batch was corrected")
	}
}

// must is what can't fail here.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

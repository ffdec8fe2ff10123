package life

import (
	"math"
	"testing"
)

func repeat(o Observation, n int) []Observation {
	log := make([]Observation, n)
	for i := range log {
		log[i] = o
	}
	return log
}

func TestModeOfAwkwardLogs(t *testing.T) {
	long := append(append(repeat(Survived(40), 150), repeat(FailedBy(90), 80)...), repeat(Worn(70, 50), 70)...)
	for name, log := range map[string][]Observation{
		"one survival":              {Survived(100)},
		"one failure":               {FailedAt(100)},
		"all survived":              repeat(Survived(130), 20),
		"all failed at one age":     repeat(FailedAt(100), 20),
		"400 failed at one age":     repeat(FailedAt(80), 400),
		"all found failed":          repeat(FailedBy(60), 20),
		"all worn":                  repeat(Worn(60, 83), 20),
		"300 of all kinds":          long,
		"a hundredth":               {FailedAt(0.01)},
		"a hundredth and a million": {FailedAt(0.01), FailedAt(1e6)},
		"survived a million":        {Survived(1e6), FailedBy(0.01)},
		"failed at once":            repeat(FailedBy(0.01), 50),
		"far apart":                 {Worn(1e6, 83), Worn(0.01, 83), Survived(1e6), FailedAt(1e-6)},
		"smallest and greatest":     {FailedAt(math.SmallestNonzeroFloat64), Survived(1e308)},
		"worn without a plan":       {Worn(100, 0)},
	} {
		for _, median := range []float64{1e-6, 0.01, 1, 100, 1e6, 1e12} {
			fit := Mode(Around(median), log)
			finite(t, fit)
			if fit.Observations != len(log) {
				t.Errorf("%s: %d observations, want %d", name, fit.Observations, len(log))
			}
			if fit.Evaluations > 400 {
				t.Errorf("%s around %g: %d evaluations", name, median, fit.Evaluations)
			}
		}
	}
}

func TestModeWithNothingToLearnIsThePrior(t *testing.T) {
	for name, log := range map[string][]Observation{
		"none":       nil,
		"zero age":   {Survived(0), FailedAt(0), FailedBy(0), Worn(0, 10)},
		"no ages":    {Survived(math.NaN()), FailedAt(math.Inf(1)), FailedBy(-3)},
		"overflowed": {Worn(math.MaxFloat64, 1)},
	} {
		want := Fit{Weibull: Weibull{Shape: 6, Median: 180}}
		if fit := Mode(Around(180), log); fit != want {
			t.Errorf("%s: %+v, want %+v", name, fit, want)
		}
	}
}

// Four early failures of a part said to last 100: a random failer that lasts 40, or a sound one that lasts 12. Each is a
// mode; a search from the stated life alone ends in the lower one.
func TestModeIsTheHighestOfSeveral(t *testing.T) {
	log := []Observation{FailedBy(12), FailedBy(16), FailedAt(12), FailedBy(12)}
	prior := Around(100)
	fit := Mode(prior, log)
	if math.Abs(fit.Median-12.0) > 0.1 {
		t.Errorf("median %g, want the mode near 12", fit.Median)
	}
	if here, other := plainPosterior(prior, log, fit.Shape, fit.Median), plainPosterior(prior, log, 1.1, 40.4); here <= other {
		t.Errorf("the mode has %g, a point near the other one %g", here, other)
	}
}

// A part said to last 18,000 days that is worn or stopped after one or two: the mode at three days lies far below every
// place a search around the stated life begins, and no climb from those reaches it.
func TestModeIsTheHighestFarBelowTheStatedLife(t *testing.T) {
	var log []Observation
	for _, o := range []Observation{Survived(1), Survived(1), Survived(1), Survived(2), Survived(2), Worn(1, 13000), Worn(1, 13000), Worn(2, 13000), FailedBy(1), FailedBy(2)} {
		log = append(log, repeat(o, 36)...)
	}
	log = append(log, Survived(14), Survived(9), Worn(9, 13000), Worn(7, 13000), FailedBy(5))
	prior := Around(18000)
	fit := Mode(prior, log)
	if math.Abs(fit.Median-3) > 1 {
		t.Errorf("median %g, want the mode near 3", fit.Median)
	}
	if here, other := plainPosterior(prior, log, fit.Shape, fit.Median), plainPosterior(prior, log, 0.23, 360); here <= other {
		t.Errorf("the mode has %g, a point near the other one %g", here, other)
	}
}

func TestFitTakesFewEvaluations(t *testing.T) {
	log := append(repeat(Survived(160), 14), FailedBy(212), FailedAt(201), Worn(190, 150), Worn(205, 150), Survived(175), Survived(182))
	if fit := Mode(Around(200), log); fit.Evaluations > 10 {
		t.Errorf("%d evaluations for %d ordinary observations, want at most 10", fit.Evaluations, len(log))
	}
}

func TestRuleMedianPlansAtTheRule(t *testing.T) {
	for _, q := range []float64{0.30, 0.20, 0.10} {
		median := RuleMedian(180, q)
		if got, want := 180/median, math.Pow(-math.Log(1-q)/math.Ln2, 1.0/6); math.Abs(got-want) > 1e-12 {
			t.Errorf("g(%g) = %g, want %g", q, got, want)
		}
		if plan := Mode(Around(median), nil).Quantile(q); math.Abs(plan-180) > 1e-9 {
			t.Errorf("a rule of 180 plans at %g", plan)
		}
	}
}

// A few rows worked from Barlow and Proschan's condition, in the units of a household: months, hours.
func TestReplacementAgeWorkedRows(t *testing.T) {
	for _, c := range []struct{ shape, scale, planned, failure, age, failed float64 }{
		{2, 12, 1, 5, 6.128, 1 - 0.771},
		{3, 12, 1, 5, 6.031, 1 - 0.881},
		{3, 12, 1, 10, 4.590, 1 - 0.946},
		{2.5, 400, 15, 60, 222.0, 1 - 0.795},
		{4, 24, 1, 3, 15.40, 1 - 0.844},
	} {
		w := Weibull{Shape: c.shape, Median: c.scale * math.Pow(math.Ln2, 1/c.shape)}
		age, ok := w.ReplacementAge(c.planned, c.failure)
		if !ok || math.Abs(age/c.age-1) > 5e-4 || math.Abs(w.FailedBy(age)-c.failed) > 6e-4 {
			t.Errorf("shape %g, scale %g, costs %g and %g: %g (%g failed), %v; want %g (%g failed)",
				c.shape, c.scale, c.planned, c.failure, age, w.FailedBy(age), ok, c.age, c.failed)
		}
	}
}

func TestReplacementAgeStaysANumber(t *testing.T) {
	for _, shape := range []float64{1 + 1e-15, 1 + 1e-9, 1.0001, 1.01, 2, 50, 400} {
		for _, failure := range []float64{1 + 1e-12, 1.001, 2, 1000, 1e6} {
			for _, median := range []float64{1e-6, 1, 1e9} {
				age, ok := Weibull{Shape: shape, Median: median}.ReplacementAge(1, failure)
				if !ok || !(age > 0) || math.IsInf(age, 0) {
					t.Errorf("shape %g, median %g, failure %g: %g, %v", shape, median, failure, age, ok)
				}
			}
		}
	}
	for _, c := range []struct{ shape, planned, failure float64 }{{1, 1, 5}, {0.5, 1, 5}, {3, 1, 1}, {3, 2, 1}, {3, 0, 1}} {
		if age, ok := (Weibull{Shape: c.shape, Median: 10}).ReplacementAge(c.planned, c.failure); ok {
			t.Errorf("shape %g, costs %g and %g: an age of %g", c.shape, c.planned, c.failure, age)
		}
	}
}

func TestFailsWithinAtAnyAge(t *testing.T) {
	w := Weibull{Shape: 6, Median: 100}
	for _, c := range []struct{ age, span, want float64 }{
		{0, 100, 0.5},
		{0, 0, 0},
		{50, -1, 0},
		{1e300, 1, 1},
		{100, 1e308, 1},
	} {
		if got := w.FailsWithin(c.age, c.span); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("FailsWithin(%g, %g) = %g, want %g", c.age, c.span, got, c.want)
		}
	}
}

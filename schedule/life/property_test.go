package life

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

const minShape, maxShape = 0.05, 400

// plainPosterior is the log-posterior written straight from its definition, without derivatives or shortcuts.
func plainPosterior(prior Prior, observations []Observation, shape, median float64) float64 {
	z := func(x, centre, span float64) float64 { return (math.Log(x) - math.Log(centre)) / span }
	zs, zm := z(shape, prior.Shape, prior.ShapeSpan), z(median, prior.Median, prior.MedianSpan)
	sum := -(zs*zs + zm*zm) / 2
	lnHazard := func(t float64) float64 { return shape*math.Log(t/median) + math.Log(math.Ln2) }
	lnOneMinusExp := func(h, lnH float64) float64 { // ln(1 - exp(-h))
		if h < 1e-15 {
			return lnH
		}
		return math.Log(-math.Expm1(-h))
	}
	for _, o := range observations {
		lnH := lnHazard(o.age)
		h := math.Exp(lnH)
		switch o.kind {
		case rightCensored:
			sum -= h
		case exact:
			sum += math.Log(shape) + lnH - h
		case leftCensored:
			sum += lnOneMinusExp(h, lnH)
		case intervalCensored:
			low, high := lnHazard(o.low), lnHazard(heavyReach*o.age)
			lnGained := high + math.Log(-math.Expm1(low-high))
			sum += lnOneMinusExp(math.Exp(lnGained), lnGained) - math.Exp(low)
		}
	}
	return sum
}

// anyLog draws observations as a log may hold them, ages from a hundredth of the stated life to a hundred times it.
func anyLog(t *rapid.T, median float64) []Observation {
	spread := rapid.SampledFrom([]float64{0, 0.1, 0.5, 4.6}).Draw(t, "spread")
	centre := rapid.Float64Range(-1.5, 1.5).Draw(t, "centre")
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Observation {
		age := median * math.Exp(centre+rapid.Float64Range(-spread, spread).Draw(t, "age"))
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			return FailedAt(age)
		case 1:
			return FailedBy(age)
		case 2:
			return Worn(age, 0.83*median)
		}
		return Survived(age)
	}), 1, 30).Draw(t, "observations")
}

func anyMedian(t *rapid.T) float64 {
	return math.Exp(rapid.Float64Range(math.Log(1e-3), math.Log(1e7)).Draw(t, "ln median"))
}

func finite(t interface{ Fatalf(string, ...any) }, fit Fit) {
	for _, x := range []float64{fit.Shape, fit.Median, fit.Quantile(0.1), fit.Quantile(0.3)} {
		if math.IsNaN(x) || math.IsInf(x, 0) || x <= 0 {
			t.Fatalf("%+v has quantiles %g, %g", fit, fit.Quantile(0.1), fit.Quantile(0.3))
		}
	}
	if fit.Shape < minShape*0.999999 || fit.Shape > maxShape*1.000001 {
		t.Fatalf("shape %g is out of bounds", fit.Shape)
	}
}

func TestModeIsNoLowerThanAnyPointOfAGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		prior := Around(anyMedian(t))
		log := anyLog(t, prior.Median)
		fit := Mode(prior, log)
		finite(t, fit)
		top := plainPosterior(prior, log, fit.Shape, fit.Median)
		for i := range 40 {
			for j := range 60 {
				shape := minShape * math.Exp(math.Log(maxShape/minShape)*float64(i)/39)
				median := prior.Median * math.Exp(-6+12*float64(j)/59)
				if v := plainPosterior(prior, log, shape, median); v > top+1e-9*(1+math.Abs(top)) {
					t.Fatalf("mode (%g, %g) has %.12g, (%g, %g) has %.12g", fit.Shape, fit.Median, top, shape, median, v)
				}
			}
		}
		if again := Mode(prior, log); again != fit {
			t.Fatalf("a second fit gives %+v, not %+v", again, fit)
		}
	})
}

func TestModeScalesWithTheUnit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const gallon = 3.785411784
		prior := Around(anyMedian(t))
		log := anyLog(t, prior.Median)
		scaled := make([]Observation, len(log))
		for i, o := range log {
			scaled[i] = Observation{kind: o.kind, age: o.age * gallon, low: o.low * gallon}
		}
		a, b := Mode(prior, log), Mode(Around(prior.Median*gallon), scaled)
		if math.Abs(b.Median/a.Median/gallon-1) > 1e-6 || math.Abs(b.Shape/a.Shape-1) > 1e-5 {
			t.Fatalf("%+v in one unit, %+v in another", a, b)
		}
	})
}

func TestDerivativesAgreeWithDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		prior := Around(100)
		var terms []term
		for _, o := range anyLog(t, prior.Median) {
			terms = append(terms, newTerm(o))
		}
		p := posterior{terms: terms, all: len(terms), centre: point{math.Log(6), math.Log(100)}, wx: 4, wm: 6.25, longest: math.Inf(-1)}
		at := point{rapid.Float64Range(-1, 3).Draw(t, "ln shape"), math.Log(100) + rapid.Float64Range(-1, 2).Draw(t, "ln median")}
		here := p.at(at)
		if math.Abs(here.value) > 1e6 {
			t.Skip("too steep for differences to tell")
		}
		const h = 1e-5
		right, left := p.at(point{at.lnShape + h, at.lnMedian}), p.at(point{at.lnShape - h, at.lnMedian})
		up, down := p.at(point{at.lnShape, at.lnMedian + h}), p.at(point{at.lnShape, at.lnMedian - h})
		scale := 1 + math.Abs(here.value) + math.Abs(here.hxx) + math.Abs(here.hmm)
		for _, c := range []struct {
			name      string
			got, want float64
		}{
			{"gx", here.gx, (right.value - left.value) / (2 * h)},
			{"gm", here.gm, (up.value - down.value) / (2 * h)},
			{"hxx", here.hxx, (right.gx - left.gx) / (2 * h)},
			{"hxm", here.hxm, (right.gm - left.gm) / (2 * h)},
			{"hmm", here.hmm, (up.gm - down.gm) / (2 * h)},
		} {
			if math.Abs(c.got-c.want) > 1e-5*scale {
				t.Fatalf("%s = %g, by differences %g", c.name, c.got, c.want)
			}
		}
	})
}

func TestQuantilesRise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Weibull{
			Shape:  math.Exp(rapid.Float64Range(math.Log(minShape), math.Log(maxShape)).Draw(t, "ln shape")),
			Median: anyMedian(t),
		}
		q := rapid.Float64Range(0.001, 0.99).Draw(t, "q")
		a, b := w.Quantile(q), w.Quantile(q+0.005)
		if !(a < b) {
			t.Fatalf("quantile %g at %g, %g at %g", a, q, b, q+0.005)
		}
		if got := w.FailedBy(a); math.Abs(got-q) > 1e-9 {
			t.Fatalf("by its %g quantile %g have failed", q, got)
		}
		within := w.FailsWithin(a, b-a)
		if want := 0.005 / (1 - q); math.Abs(within-want) > 1e-9 {
			t.Fatalf("from quantile %g to %g a part fails with chance %g, want %g", q, q+0.005, within, want)
		}
	})
}

func TestReplacementAgeCostsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Weibull{
			Shape:  math.Exp(rapid.Float64Range(math.Log(1.2), math.Log(60)).Draw(t, "ln shape")),
			Median: anyMedian(t),
		}
		failure := 1 + math.Exp(rapid.Float64Range(math.Log(0.1), math.Log(999)).Draw(t, "ln excess"))
		best, ok := w.ReplacementAge(1, failure)
		if !ok || !(best > 0) || math.IsInf(best, 0) {
			t.Fatalf("%g, %v", best, ok)
		}
		if best > 3*w.Median {
			t.Skip("the cost is flat there")
		}
		least := costRate(w, best, failure)
		for _, times := range []float64{0.5, 0.8, 0.97, 1.03, 1.25, 2} {
			if c := costRate(w, times*best, failure); c < least*(1-1e-6) {
				t.Fatalf("%g costs %g, %g costs %g", best, least, times*best, c)
			}
		}
	})
}

// costRate is the long-run cost per unit of time of renewing at an age, by Simpson's rule.
func costRate(w Weibull, age, failure float64) float64 {
	const n = 4000
	integral := 0.0
	for i := 0; i <= n; i++ {
		weight := 2.0
		switch {
		case i == 0 || i == n:
			weight = 1
		case i%2 == 1:
			weight = 4
		}
		integral += weight * (1 - w.FailedBy(age*float64(i)/n))
	}
	integral *= age / n / 3
	failed := w.FailedBy(age)
	return (1 - failed + failure*failed) / integral
}

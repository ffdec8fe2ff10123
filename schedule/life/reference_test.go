package life

import (
	"math"
	"testing"

	"brine/wrasse/testdata"
)

func within(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g within %g of it", what, got, want, relative)
	}
}

// TestMaximumLikelihood checks shape and scale against survival::survreg of R, and through nist_8413 against the
// NIST/SEMATECH e-Handbook, section 8.4.1.3 (shape 1.7208, scale 606.5280), by the fit the schedule uses, with a
// prior that has no opinion.
func TestMaximumLikelihood(t *testing.T) {
	sets := map[string][]Observation{}
	longest := map[string]float64{}
	for _, r := range testdata.Table(t, "reference/weibull_censored_fits.csv") {
		id, age := r["id"], r.Number(t, "time")
		o := Survived(age)
		if r["event"] == "1" {
			o = FailedAt(age)
		}
		sets[id] = append(sets[id], o)
		longest[id] = math.Max(longest[id], age)
	}
	checked := 0
	for _, r := range testdata.Table(t, "reference/weibull_expected.csv") {
		if r["fit"] != "ok" {
			continue
		}
		checked++
		t.Run(r["id"], func(t *testing.T) {
			none := math.Inf(1)
			fit := Mode(Prior{Shape: 1, Median: longest[r["id"]], ShapeSpan: none, MedianSpan: none}, sets[r["id"]])
			within(t, "shape", fit.Shape, r.Number(t, "shape"), 1e-4)
			within(t, "scale", fit.Quantile(-math.Expm1(-1)), r.Number(t, "scale"), 1e-4)
			within(t, "median", fit.Median, r.Number(t, "median"), 1e-4)
			within(t, "b10", fit.Quantile(0.1), r.Number(t, "b10"), 1e-4)
			t.Logf("%d evaluations", fit.Evaluations)
		})
	}
	if checked != 9 {
		t.Errorf("checked %d sets, want the 9 that can be fitted", checked)
	}
}

// TestPosteriorMode checks the fit with its prior against modes found by two other optimisers.
func TestPosteriorMode(t *testing.T) {
	sets := map[string][]Observation{}
	for _, r := range testdata.Table(t, "reference/life_map.csv") {
		id, age := r["id"], r.Number(t, "age")
		var o Observation
		switch r["found"] {
		case "clean", "light":
			o = Survived(age)
		case "heavy":
			o = Worn(age, r.Number(t, "low"))
		case "failed":
			o = FailedBy(age)
		case "failed-at":
			o = FailedAt(age)
		default:
			t.Fatalf("unknown finding %q", r["found"])
		}
		sets[id] = append(sets[id], o)
	}
	expected := testdata.Table(t, "reference/life_map_expected.csv")
	if len(expected) != len(sets) {
		t.Fatalf("%d sets, %d expected", len(sets), len(expected))
	}
	for _, r := range expected {
		t.Run(r["id"], func(t *testing.T) {
			fit := Mode(Around(r.Number(t, "prior_median")), sets[r["id"]])
			within(t, "shape", fit.Shape, r.Number(t, "shape"), 1e-3)
			within(t, "median", fit.Median, r.Number(t, "median"), 1e-4)
			within(t, "q10", fit.Quantile(0.1), r.Number(t, "q10"), 1e-4)
			within(t, "q20", fit.Quantile(0.2), r.Number(t, "q20"), 1e-4)
			within(t, "q30", fit.Quantile(0.3), r.Number(t, "q30"), 1e-4)
			t.Logf("%d evaluations", fit.Evaluations)
		})
	}
}

// TestReplacementAgeTable checks the least-cost age against 40-digit roots of its condition, that of Barlow and Proschan
// (1965).
func TestReplacementAgeTable(t *testing.T) {
	for _, r := range testdata.Table(t, "reference/age_replacement.csv") {
		t.Run(r["id"], func(t *testing.T) {
			shape, scale, ratio := r.Number(t, "shape"), r.Number(t, "scale"), r.Number(t, "cost_ratio")
			w := Weibull{Shape: shape, Median: scale * math.Pow(math.Ln2, 1/shape)}
			age, ok := w.ReplacementAge(1, ratio)
			if want := r["policy"] == "replace_at_age"; ok != want {
				t.Fatalf("ok = %v, want %v", ok, want)
			}
			if !ok {
				return
			}
			if r["age_required"] == "1" {
				within(t, "age", age, r.Number(t, "opt_age"), 1e-4)
			}
			within(t, "chance of failing before it", w.FailedBy(age), r.Number(t, "prob_fail_before_age"), 1e-6)
			// At the optimum the cost rate is (failure - planned) times the hazard.
			hazard := shape / scale * math.Pow(age/scale, shape-1)
			within(t, "cost rate", (ratio-1)*hazard, r.Number(t, "cost_rate"), 1e-6)
		})
	}
}

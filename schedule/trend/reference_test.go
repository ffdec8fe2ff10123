package trend

import (
	"math"
	"testing"

	"brine/wrasse/testdata"
)

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tolerance)
	}
}

// ninth is the tolerance of what is a count, a median or one division: 1e-9 max(1, |value|).
func ninth(value float64) float64 { return 1e-9 * math.Max(1, math.Abs(value)) }

// TestSlopesAndTrendTests checks against rational arithmetic, SciPy's theilslopes and R's cor.test; sen1968 is the example of
// Sen's paper (slope 4, 93 % limits 26/7 and 35/8).
func TestSlopesAndTrendTests(t *testing.T) {
	days, values := map[string][]float64{}, map[string][]float64{}
	for _, r := range testdata.Table(t, "reference/theil_sen.csv") {
		days[r["id"]] = append(days[r["id"]], r.Number(t, "t"))
		values[r["id"]] = append(values[r["id"]], r.Number(t, "y"))
	}
	normalQuantile := map[string]float64{"0.05": Confidence95, "0.07": 1.8119106729525971}
	for _, r := range testdata.Table(t, "reference/theil_sen_expected.csv") {
		id := r["id"]
		t.Run(id, func(t *testing.T) {
			z, known := normalQuantile[r["alpha"]]
			if !known {
				t.Fatalf("no normal quantile for alpha %s", r["alpha"])
			}
			line, ok := TheilSen(days[id], values[id], z)
			if !ok {
				t.Fatal("no line")
			}
			for what, got := range map[string]float64{"slope": line.Slope, "intercept_conover": line.Intercept} {
				want := r.Number(t, what)
				within(t, what, got, want, ninth(want))
			}
			if r["ci_note"] == "ok" {
				within(t, "low", line.Low, r.Number(t, "slope_lo"), ninth(line.Low))
				within(t, "high", line.High, r.Number(t, "slope_hi"), ninth(line.High))
			}
			mk := MannKendall(days[id], values[id])
			if float64(mk.S) != r.Number(t, "mk_s") {
				t.Errorf("S = %d, want %s", mk.S, r["mk_s"])
			}
			within(t, "variance", mk.Variance, r.Number(t, "mk_var"), 1e-6*r.Number(t, "mk_var"))
			within(t, "p", mk.P, r.Number(t, "mk_p"), 1e-6)
		})
	}
}

// TestChartTable checks every average, exact limit and signal; nist_ewma_6324 is the worked example of the NIST/SEMATECH
// e-Handbook, section 6.3.2.4.
func TestChartTable(t *testing.T) {
	readings := map[string][]float64{}
	for _, r := range testdata.Table(t, "reference/ewma_cusum.csv") {
		readings[r["id"]] = append(readings[r["id"]], r.Number(t, "x"))
	}
	expected := map[string][]testdata.Row{}
	for _, r := range testdata.Table(t, "reference/ewma_cusum_expected.csv") {
		expected[r["id"]] = append(expected[r["id"]], r)
	}
	first := map[string]string{}
	for _, r := range testdata.Table(t, "reference/ewma_cusum_first_signal.csv") {
		first[r["id"]] = r["first_ewma_exact"]
	}
	for _, r := range testdata.Table(t, "reference/ewma_cusum_params.csv") {
		id := r["id"]
		t.Run(id, func(t *testing.T) {
			chart := Chart{Target: r.Number(t, "target"), Sigma: r.Number(t, "sigma"), Lambda: r.Number(t, "lambda"), L: r.Number(t, "L")}
			points := chart.Plot(readings[id])
			if len(points) != len(expected[id]) {
				t.Fatalf("%d points, want %d", len(points), len(expected[id]))
			}
			signal := ""
			for i, want := range expected[id] {
				tolerance := ninth(chart.Target)
				within(t, "average", points[i].Average, want.Number(t, "ewma"), tolerance)
				within(t, "low", points[i].Low, want.Number(t, "lcl_exact"), tolerance)
				within(t, "high", points[i].High, want.Number(t, "ucl_exact"), tolerance)
				if points[i].Outside != (want["signal_exact"] == "1") {
					t.Errorf("reading %d: outside = %v, want %s", i+1, points[i].Outside, want["signal_exact"])
				}
				if points[i].Outside && signal == "" {
					signal = want["i"]
				}
			}
			if signal != first[id] {
				t.Errorf("first signal at %q, want %q", signal, first[id])
			}
		})
	}
}

// TestIsotonicTable checks against the max-min formula in rational arithmetic.
func TestIsotonicTable(t *testing.T) {
	points, want := map[string][]Weighted{}, map[string][]testdata.Row{}
	for _, r := range testdata.Table(t, "reference/isotonic.csv") {
		p := Weighted{Level: r.Number(t, "x"), Value: r.Number(t, "y"), Weight: r.Number(t, "w")}
		points[r["id"]] = append(points[r["id"]], p)
	}
	for _, r := range testdata.Table(t, "reference/isotonic_expected.csv") {
		want[r["id"]] = append(want[r["id"]], r)
	}
	levels := map[string][]testdata.Row{}
	for _, r := range testdata.Table(t, "reference/isotonic_levels_expected.csv") {
		levels[r["id"]] = append(levels[r["id"]], r)
	}
	for id, in := range points {
		t.Run(id, func(t *testing.T) {
			if len(want[id]) != len(in) || len(levels[id]) == 0 {
				t.Fatalf("%d rows, %d expected, %d levels", len(in), len(want[id]), len(levels[id]))
			}
			fit := Isotonic(in)
			atLevel, values, squares := map[float64]float64{}, map[float64]bool{}, 0.0
			for i, r := range want[id] {
				within(t, "fit", fit[i], r.Number(t, "fit"), ninth(fit[i]))
				atLevel[in[i].Level] = fit[i]
				values[fit[i]] = true
				squares += in[i].Weight * (in[i].Value - fit[i]) * (in[i].Value - fit[i])
			}
			for _, r := range levels[id] {
				within(t, "fit of level "+r["x"], atLevel[r.Number(t, "x")], r.Number(t, "fit"), ninth(r.Number(t, "fit")))
			}
			if float64(len(values)) != levels[id][0].Number(t, "n_blocks") {
				t.Errorf("%d blocks, want %s", len(values), levels[id][0]["n_blocks"])
			}
			within(t, "squares", squares, levels[id][0].Number(t, "weighted_sse"), ninth(squares))
		})
	}
}

package trend

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// row is one line of a reference table by column name.
type row map[string]string

// readTable reads a table of testdata/reference; the README there says where each comes from.
func readTable(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, line := range lines[1:] {
		r := row{}
		for i, column := range lines[0] {
			r[column] = strings.TrimSpace(line[i])
		}
		rows = append(rows, r)
	}
	if len(rows) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return rows
}

func (r row) number(t *testing.T, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s of %v: %v", column, r, err)
	}
	return x
}

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
	for _, r := range readTable(t, "theil_sen.csv") {
		days[r["id"]] = append(days[r["id"]], r.number(t, "t"))
		values[r["id"]] = append(values[r["id"]], r.number(t, "y"))
	}
	normalQuantile := map[string]float64{"0.05": Confidence95, "0.07": 1.8119106729525971}
	for _, r := range readTable(t, "theil_sen_expected.csv") {
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
				want := r.number(t, what)
				within(t, what, got, want, ninth(want))
			}
			if r["ci_note"] == "ok" {
				within(t, "low", line.Low, r.number(t, "slope_lo"), ninth(line.Low))
				within(t, "high", line.High, r.number(t, "slope_hi"), ninth(line.High))
			}
			mk := MannKendall(days[id], values[id])
			if float64(mk.S) != r.number(t, "mk_s") {
				t.Errorf("S = %d, want %s", mk.S, r["mk_s"])
			}
			within(t, "variance", mk.Variance, r.number(t, "mk_var"), 1e-6*r.number(t, "mk_var"))
			within(t, "p", mk.P, r.number(t, "mk_p"), 1e-6)
		})
	}
}

// TestChartTable checks every average, exact limit and signal; nist_ewma_6324 is the worked example of the NIST/SEMATECH
// e-Handbook, section 6.3.2.4.
func TestChartTable(t *testing.T) {
	readings := map[string][]float64{}
	for _, r := range readTable(t, "ewma_cusum.csv") {
		readings[r["id"]] = append(readings[r["id"]], r.number(t, "x"))
	}
	expected := map[string][]row{}
	for _, r := range readTable(t, "ewma_cusum_expected.csv") {
		expected[r["id"]] = append(expected[r["id"]], r)
	}
	first := map[string]string{}
	for _, r := range readTable(t, "ewma_cusum_first_signal.csv") {
		first[r["id"]] = r["first_ewma_exact"]
	}
	for _, r := range readTable(t, "ewma_cusum_params.csv") {
		id := r["id"]
		t.Run(id, func(t *testing.T) {
			chart := Chart{Target: r.number(t, "target"), Sigma: r.number(t, "sigma"), Lambda: r.number(t, "lambda"), L: r.number(t, "L")}
			points := chart.Plot(readings[id])
			if len(points) != len(expected[id]) {
				t.Fatalf("%d points, want %d", len(points), len(expected[id]))
			}
			signal := ""
			for i, want := range expected[id] {
				tolerance := ninth(chart.Target)
				within(t, "average", points[i].Average, want.number(t, "ewma"), tolerance)
				within(t, "low", points[i].Low, want.number(t, "lcl_exact"), tolerance)
				within(t, "high", points[i].High, want.number(t, "ucl_exact"), tolerance)
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
	points, want := map[string][]Weighted{}, map[string][]row{}
	for _, r := range readTable(t, "isotonic.csv") {
		p := Weighted{Level: r.number(t, "x"), Value: r.number(t, "y"), Weight: r.number(t, "w")}
		points[r["id"]] = append(points[r["id"]], p)
	}
	for _, r := range readTable(t, "isotonic_expected.csv") {
		want[r["id"]] = append(want[r["id"]], r)
	}
	levels := map[string][]row{}
	for _, r := range readTable(t, "isotonic_levels_expected.csv") {
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
				within(t, "fit", fit[i], r.number(t, "fit"), ninth(fit[i]))
				atLevel[in[i].Level] = fit[i]
				values[fit[i]] = true
				squares += in[i].Weight * (in[i].Value - fit[i]) * (in[i].Value - fit[i])
			}
			for _, r := range levels[id] {
				within(t, "fit of level "+r["x"], atLevel[r.number(t, "x")], r.number(t, "fit"), ninth(r.number(t, "fit")))
			}
			if float64(len(values)) != levels[id][0].number(t, "n_blocks") {
				t.Errorf("%d blocks, want %s", len(values), levels[id][0]["n_blocks"])
			}
			within(t, "squares", squares, levels[id][0].number(t, "weighted_sse"), ninth(squares))
		})
	}
}

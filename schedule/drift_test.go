package schedule

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"brine/wrasse/model"
)

// TestResolutionOfReadings holds the last digit of a gauge to what its readings look like when they are written.
func TestResolutionOfReadings(t *testing.T) {
	written := func(values []float64) float64 {
		digits := 0
		for _, v := range values {
			_, after, _ := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), ".")
			digits = max(digits, len(after))
		}
		return math.Pow10(-digits)
	}
	rapid.Check(t, func(t *rapid.T) {
		typed := rapid.Map(rapid.StringMatching(`-?[0-9]{1,12}(\.[0-9]{1,8})?`), func(s string) float64 {
			v, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		})
		values := rapid.SliceOfN(rapid.OneOf(typed, typed, rapid.Float64Range(-1e18, 1e18), rapid.Float64Range(-1e-20, 1e-20)), 0, 12).Draw(t, "values")
		if got, want := resolution("tap", values), written(values); got != want {
			t.Fatalf("a last digit of %g, want %g", got, want)
		}
	})
	if got := resolution(model.Rejection, []float64{97.25}); got != 0.1 {
		t.Errorf("a derived gauge shows %g, want 0.1", got)
	}
}

// TestDriftIsWatchedOverTheLatestReadings reads a gauge at one level, then, more than 200 readings ago, at another: what
// it read first of all is forgotten.
func TestDriftIsWatchedOverTheLatestReadings(t *testing.T) {
	read := func(at, after int) *Round {
		d := newDiary(t).chore(clocks(watch("prod", 90, model.SideAbove)), func(c *model.Chore) { c.Work = model.WorkClean })
		for i := range 8 + after {
			value := 10.0
			if i >= 8 {
				value = 30
			}
			d.read(date(t, "2025-01-01").AddDays(i).String(), "prod", value+float64(i%2)/10)
		}
		return d.round(date(t, "2025-01-01").AddDays(at).String())
	}
	for _, c := range []struct {
		after  int
		drifts bool
	}{{192, true}, {200, false}} {
		r := read(400, c.after)
		of := find(t, r, "job").Clocks[0].Drift
		for what, d := range map[string]*Drift{"the clock's": of, "the gauge's": r.Drift("prod", 0)} {
			if (d != nil) != c.drifts {
				t.Errorf("%d readings after eight at another level: %s drift is %+v", c.after, what, d)
			}
		}
	}
}

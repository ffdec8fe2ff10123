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
		if got, want := lastDigit("tap", values), written(values); got != want {
			t.Fatalf("a last digit of %g, want %g", got, want)
		}
	})
	if got := lastDigit(model.PrefilterDrop, []float64{97.25}); got != 0.1 {
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

// TestDriftIsMoreThanTheInstrumentCanTell reads 5 of 250 ppm for weeks on a meter of whole ppm, then one 6, and a flow that
// moves by half a percent: neither is said to drift. Six times as much salt is.
func TestDriftIsMoreThanTheInstrumentCanTell(t *testing.T) {
	weekly := func(last ...float64) *Round {
		d := newDiary(t).chore(clocks(watch(model.Rejection, 95, model.SideBelow)))
		for i := range 21 + len(last) {
			on, m := date(t, "2025-01-01").AddDays(7*i).String(), 5.0
			if i >= 21 {
				m = last[i-21]
			}
			d.read(on, "tap", 246+float64(4*(i%3))).read(on, "mem", m).read(on, "temp", 12).read(on, "feed", 4)
			d.read(on, "flow", map[bool]float64{true: 8, false: 7.96}[i < 9])
		}
		return d.round("2025-12-31")
	}
	if d := weekly(6).Drift(model.Rejection, 0); d != nil {
		t.Errorf("one more ppm drifts: %+v", d)
	}
	if d := weekly(6).Drift(model.NormalisedFlow, 0); d != nil {
		t.Errorf("half a percent of flow drifts: %+v", d)
	}
	if d := weekly(30, 30, 30).Drift(model.Rejection, 0); d == nil || d.Up {
		t.Errorf("six times the salt doesn't drift: %+v", d)
	}
}

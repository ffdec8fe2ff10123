package trend

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func anySeries(t *rapid.T) (days, values []float64) {
	n := rapid.IntRange(1, 40).Draw(t, "n")
	for range n {
		days = append(days, float64(rapid.IntRange(0, 30).Draw(t, "day")))
		values = append(values, float64(rapid.IntRange(-20, 20).Draw(t, "tenths"))/10)
	}
	return days, values
}

func TestTheilSenFollowsTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days, values := anySeries(t)
		line, ok := TheilSen(days, values, Confidence95)
		if ok != (slices.Min(days) != slices.Max(days)) {
			t.Fatalf("ok = %v", ok)
		}
		if !ok {
			return
		}
		if !(line.Low <= line.Slope && line.Slope <= line.High) {
			t.Fatalf("slope %g outside [%g, %g]", line.Slope, line.Low, line.High)
		}
		// Adding a line to the points adds its slope to all three.
		a := rapid.Float64Range(-5, 5).Draw(t, "a")
		tilted := make([]float64, len(values))
		for i := range values {
			tilted[i] = values[i] + a*days[i] + 3
		}
		other, _ := TheilSen(days, tilted, 0)
		if math.Abs(other.Slope-line.Slope-a) > 1e-9 {
			t.Fatalf("slope %g, tilted by %g %g", line.Slope, a, other.Slope)
		}
		if at, ok := line.Reaches(line.MidY+7, line.Slope); ok && math.Abs((at-line.MidT)*line.Slope-7) > 1e-9 {
			t.Fatalf("reaches 7 above the middle at %g", at)
		}
	})
}

func TestMannKendallOfReversedSeries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days, values := anySeries(t)
		here := MannKendall(days, values)
		if math.IsNaN(here.P) || here.P < 0 || here.P > 1 || here.Variance < -1e-9 {
			t.Fatalf("%+v", here)
		}
		for i := range days {
			days[i] = -days[i]
		}
		if back := MannKendall(days, values); back.S != -here.S || back.P != here.P {
			t.Fatalf("%+v forward, %+v backward", here, back)
		}
	})
}

func TestTheilSenOfFewPoints(t *testing.T) {
	for _, days := range [][]float64{nil, {4}, {4, 4, 4}} {
		if line, ok := TheilSen(days, make([]float64, len(days)), Confidence95); ok {
			t.Errorf("%v gives %+v", days, line)
		}
		if mk := MannKendall(days, make([]float64, len(days))); mk.S != 0 || mk.P != 1 {
			t.Errorf("%v gives %+v", days, mk)
		}
	}
	flat, ok := TheilSen([]float64{1, 2, 3}, []float64{5, 5, 5}, Confidence95)
	if !ok || flat.Slope != 0 {
		t.Errorf("three equal readings give %+v, %v", flat, ok)
	}
	if at, ok := flat.Reaches(6, flat.Slope); ok {
		t.Errorf("a level line reaches 6 at %g", at)
	}
}

func TestRoundEven(t *testing.T) {
	for _, c := range []struct {
		x    float64
		want int
	}{{0.5, 0}, {1.5, 2}, {2.5 + 1e-10, 2}, {3.5 - 1e-10, 4}, {2.5001, 3}, {2.4999, 2}, {-0.5, 0}, {-1.5, -2}, {7, 7}} {
		if got := roundEven(c.x); got != c.want {
			t.Errorf("roundEven(%g) = %d, want %d", c.x, got, c.want)
		}
	}
}

func TestFindDrift(t *testing.T) {
	steady := []float64{10, 12, 11, 10, 12, 11, 10, 12}
	for _, c := range []struct {
		name       string
		later      []float64
		resolution float64
		since      int
		up, ok     bool
	}{
		{name: "only a baseline", resolution: 1},
		{name: "steady", later: []float64{11, 12, 10, 11}, resolution: 1},
		// Sigma 0.926: the average moves 0.6 with the first 14, beyond 2.7 sigma 0.2 = 0.5.
		{name: "a step up", later: []float64{14, 14, 14}, resolution: 1, since: 8, up: true, ok: true},
		{name: "a step down", later: []float64{11, 11, 8, 7, 7}, resolution: 1, since: 11, ok: true},
		{name: "come back", later: []float64{14, 14, 8, 8, 11}, resolution: 1},
		{name: "below what is shown", later: []float64{14, 14}, resolution: 10},
	} {
		drift, ok := FindDrift(append(slices.Clone(steady), c.later...), c.resolution)
		if ok != c.ok || drift.Since != c.since || drift.Up != c.up {
			t.Errorf("%s: %+v, %v; want since %d, up %v, %v", c.name, drift, ok, c.since, c.up, c.ok)
		}
	}
	equal := []float64{5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 6}
	if drift, ok := FindDrift(equal, 1); ok {
		t.Errorf("one unit of the last digit drifts: %+v", drift)
	}
	if drift, ok := FindDrift(append(equal, 7, 7), 1); !ok || drift.Baseline != 5 || drift.Since != 11 {
		t.Errorf("two units of the last digit: %+v, %v", drift, ok)
	}
}

func TestIsotonicIsTheClosestRisingFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Weighted {
			return Weighted{
				Level:  float64(rapid.IntRange(1, 5).Draw(t, "level")),
				Value:  rapid.Float64Range(0, 1).Draw(t, "value"),
				Weight: rapid.Float64Range(0.5, 20).Draw(t, "weight"),
			}
		}), 0, 20).Draw(t, "points")
		fit := Isotonic(points)
		squares := func(fit []float64) (sum float64) {
			for i, p := range points {
				sum += p.Weight * (p.Value - fit[i]) * (p.Value - fit[i])
			}
			return sum
		}
		for i, p := range points {
			for j, o := range points {
				if p.Level < o.Level && fit[i] > fit[j] || p.Level == o.Level && fit[i] != fit[j] {
					t.Fatalf("fit %v of %v", fit, points)
				}
			}
		}
		// Raising every level from one on, or lowering every one up to it, keeps the fit rising and never improves it.
		edge, by := float64(rapid.IntRange(1, 5).Draw(t, "edge")), rapid.Float64Range(0, 0.3).Draw(t, "by")
		raised, lowered := slices.Clone(fit), slices.Clone(fit)
		for i, p := range points {
			if p.Level >= edge {
				raised[i] += by
			} else {
				lowered[i] -= by
			}
		}
		if least := squares(fit); squares(raised) < least-1e-9 || squares(lowered) < least-1e-9 {
			t.Fatalf("fit %v of %v can be improved from level %g on", fit, points, edge)
		}
	})
}

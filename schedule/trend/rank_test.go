package trend

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestRankedAsSorted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := rapid.OneOf(
			rapid.SliceOfN(rapid.Float64Range(-1e9, 1e9), 1, 300),
			rapid.SliceOfN(rapid.Map(rapid.IntRange(-3, 3), func(n int) float64 { return float64(n) }), 1, 300),
		).Draw(t, "values")
		at := rapid.SliceOfN(rapid.IntRange(0, len(xs)-1), 1, 5).Draw(t, "at")
		slices.Sort(at)
		sorted := slices.Sorted(slices.Values(xs))
		rank(xs, at...)
		for _, k := range at {
			if xs[k] != sorted[k] {
				t.Fatalf("at %d stands %g, sorted it is %g", k, xs[k], sorted[k])
			}
		}
		if slices.Sort(xs); !slices.Equal(xs, sorted) {
			t.Fatalf("the values have become others: %v, were %v", xs, sorted)
		}
	})
}

// TestLineEqualsThatOfSorting holds the fit to one that sorts all slopes and compares all pairs.
func TestLineEqualsThatOfSorting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days, values := anySeries(t)
		got, ok := TheilSen(days, values, Confidence95)
		want, known := bySorting(days, values, Confidence95)
		if got != want || ok != known {
			t.Fatalf("got %+v %v, want %+v %v", got, ok, want, known)
		}
		if got, want := MannKendall(days, values).S, byPairs(days, values); got != want {
			t.Fatalf("S = %d, want %d", got, want)
		}
	})
	rng := rand.New(rand.NewPCG(5, 200))
	for _, digits := range []float64{1e9, 10, 1} {
		days, values := weekly(rng, 200, digits)
		if got, _ := TheilSen(days, values, Confidence95); got != must(bySorting(days, values, Confidence95)) {
			t.Errorf("200 dates: got %+v", got)
		}
		if got, want := MannKendall(days, values).S, byPairs(days, values); got != want {
			t.Errorf("200 dates: S = %d, want %d", got, want)
		}
	}
}

// weekly is a series that wanders up, read to a fraction of a unit.
func weekly(rng *rand.Rand, n int, fraction float64) (days, values []float64) {
	for i := range n {
		days = append(days, float64(7*i+rng.IntN(5)))
		values = append(values, math.Round((float64(i)/20+3*rng.NormFloat64())*fraction)/fraction)
	}
	return days, values
}

func must(line Line, _ bool) Line { return line }

func bySorting(t, y []float64, z float64) (line Line, ok bool) {
	slopes := slices.Sorted(slices.Values(pairwiseSlopes(t, y)))
	n := len(slopes)
	if n == 0 {
		return Line{}, false
	}
	at := func(rank int) float64 { return slopes[min(max(rank, 1), n)-1] }
	c := float64(z * math.Sqrt(sVariance(t, y)))
	line = Line{
		Slope: middle(slopes),
		Low:   at(roundEven((float64(n) - c) / 2)),
		High:  at(roundEven((float64(n)+c)/2) + 1),
		MidT:  middle(slices.Sorted(slices.Values(t))), MidY: middle(slices.Sorted(slices.Values(y))),
	}
	line.Intercept = line.MidY - float64(line.Slope*line.MidT)
	return line, true
}

func byPairs(t, y []float64) int {
	s := 0
	for i := range t {
		for j := range i {
			switch product := (t[i] - t[j]) * (y[i] - y[j]); {
			case product > 0:
				s++
			case product < 0:
				s--
			}
		}
	}
	return s
}

// BenchmarkLine200 fits a line to the most dates that are ever taken, read to two digits after the point.
func BenchmarkLine200(b *testing.B) {
	days, values := weekly(rand.New(rand.NewPCG(5, 200)), 200, 100)
	b.Run("TheilSen", func(b *testing.B) {
		for b.Loop() {
			TheilSen(days, values, Confidence95)
		}
	})
	b.Run("MannKendall", func(b *testing.B) {
		for b.Loop() {
			MannKendall(days, values)
		}
	})
}

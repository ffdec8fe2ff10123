package trend

import (
	"cmp"
	"math"
	"slices"
)

// Test is a Mann-Kendall test for a trend.
type Test struct {
	S        int     // pairs that rise less pairs that fall
	Variance float64 // of S when there is no trend, ties in both axes allowed for
	P        float64 // two-sided, normal approximation with continuity correction
}

// MannKendall tests points in any order for a trend of y in t. t and y have the same length.
func MannKendall(t, y []float64) Test {
	test := Test{S: rises(t, y), Variance: sVariance(t, y), P: 1}
	if test.S != 0 && test.Variance > 0 {
		z := (math.Abs(float64(test.S)) - 1) / math.Sqrt(test.Variance)
		test.P = math.Erfc(z / math.Sqrt2)
	}
	return test
}

// rises are the pairs of points that rise less those that fall, one that ties in either axis being neither. In order of t,
// and within one t of y, the pairs that fall are those that sorting by y must swap, which a merge sort counts as it goes
// (Knight, Journal of the American Statistical Association 61, 1966, from memory).
func rises(t, y []float64) int {
	type point struct{ t, y float64 }
	points := make([]point, len(t))
	for i := range points {
		points[i] = point{t[i], y[i]}
	}
	slices.SortFunc(points, func(a, b point) int { return cmp.Or(cmp.Compare(a.t, b.t), cmp.Compare(a.y, b.y)) })
	untied := len(t) * (len(t) - 1) / 2
	untied -= tied(points, func(a, b point) bool { return a.t == b.t })
	untied += tied(points, func(a, b point) bool { return a == b }) // taken off with both axes
	ys := make([]float64, len(points))
	for i, p := range points {
		ys[i] = p.y
	}
	falls := swaps(ys, make([]float64, len(ys)))
	untied -= tied(ys, func(a, b float64) bool { return a == b })
	return untied - 2*falls
}

// tied counts the pairs of equals in a list where equals stand together.
func tied[T any](sorted []T, equal func(a, b T) bool) int {
	pairs, run := 0, 0
	for i := 1; i < len(sorted); i++ {
		run++
		if !equal(sorted[i-1], sorted[i]) {
			run = 0
		}
		pairs += run
	}
	return pairs
}

// swaps sorts the values and counts the pairs that stood in falling order. It writes to the room, which is as long.
func swaps(xs, room []float64) int {
	if len(xs) < 2 {
		return 0
	}
	half := len(xs) / 2
	n := swaps(xs[:half], room[:half]) + swaps(xs[half:], room[half:])
	copy(room, xs)
	low, high := room[:half], room[half:]
	for i := range xs {
		if len(high) == 0 || len(low) > 0 && low[0] <= high[0] {
			xs[i], low = low[0], low[1:]
			continue
		}
		xs[i], high = high[0], high[1:]
		n += len(low)
	}
	return n
}

// sVariance is Kendall's variance of S with ties in both axes.
func sVariance(t, y []float64) float64 {
	n := float64(len(t))
	if n < 2 {
		return 0
	}
	in, of := tiesOf(t), tiesOf(y)
	v := (n*(n-1)*(2*n+5)-in.spread-of.spread)/18 + in.pairs*of.pairs/(2*n*(n-1))
	if n > 2 {
		v += in.triples * of.triples / (9 * n * (n - 1) * (n - 2))
	}
	return v
}

// ties sums over the groups of k equal values: k(k-1), k(k-1)(k-2) and k(k-1)(2k+5).
type ties struct{ pairs, triples, spread float64 }

func tiesOf(xs []float64) ties {
	sorted := slices.Clone(xs)
	slices.Sort(sorted)
	var sum ties
	for i := 0; i < len(sorted); {
		j := i
		for j < len(sorted) && sorted[j] == sorted[i] {
			j++
		}
		k := float64(j - i)
		sum.pairs += k * (k - 1)
		sum.triples += k * (k - 1) * (k - 2)
		sum.spread += k * (k - 1) * (2*k + 5)
		i = j
	}
	return sum
}

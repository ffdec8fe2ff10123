package trend

import (
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
	test := Test{Variance: sVariance(t, y), P: 1}
	for i := range t {
		for j := range i {
			test.S += sign(t[i]-t[j]) * sign(y[i]-y[j])
		}
	}
	if test.S != 0 && test.Variance > 0 {
		z := (math.Abs(float64(test.S)) - 1) / math.Sqrt(test.Variance)
		test.P = math.Erfc(z / math.Sqrt2)
	}
	return test
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
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

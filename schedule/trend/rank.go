package trend

import (
	"math/bits"
	"slices"
)

// rank puts the values at some indexes, given in rising order, where they would stand were all sorted. The values hold
// no NaN. The outermost come first: between them little is left.
func rank(xs []float64, at ...int) {
	from, to := 0, len(xs) // not yet ranked
	place := func(k int) bool {
		inside := from <= k && k < to
		if inside {
			choose(xs[from:to], k-from)
		}
		return inside
	}
	for len(at) > 0 {
		first, last := at[0], at[len(at)-1]
		if place(last) {
			to = last
		}
		if place(first) {
			from = first + 1
		}
		at = at[min(1, len(at)):max(1, len(at)-1)]
	}
}

// short is a stretch that is sorted sooner than parted.
const short = 24

// choose is quickselect: it parts the values about a pivot and goes on with the side that holds index k, so that xs[k]
// comes to stand where it would were all sorted, with nothing above it before it and nothing below it after it. A stretch
// that keeps being parted badly is sorted.
func choose(xs []float64, k int) {
	for tries := 2 * bits.Len(uint(len(xs))); len(xs) > short && tries > 0; tries-- {
		upTo, from := part(xs, pivot(xs))
		switch {
		case k <= upTo:
			xs = xs[:upTo+1]
		case k >= from:
			xs, k = xs[from:], k-from
		default:
			return // between the two all are the pivot
		}
	}
	slices.Sort(xs)
}

// pivot is the median of nine values spread over a stretch.
func pivot(xs []float64) float64 {
	var nine [9]float64
	for i := range nine {
		nine[i] = xs[i*(len(xs)-1)/(len(nine)-1)]
	}
	slices.Sort(nine[:])
	return nine[len(nine)/2]
}

// part brings what is not above the pivot to xs[:upTo+1] and what is not below it to xs[from:], upTo < from; between them
// all are the pivot. The pivot is one of the values.
func part(xs []float64, pivot float64) (upTo, from int) {
	i, j := 0, len(xs)-1
	for i <= j {
		for xs[i] < pivot {
			i++
		}
		for xs[j] > pivot {
			j--
		}
		if i <= j {
			xs[i], xs[j] = xs[j], xs[i]
			i++
			j--
		}
	}
	return j, i
}

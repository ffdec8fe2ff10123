package trend

import (
	"math"
	"slices"
)

// Confidence95 is the normal quantile that leaves 2.5 % in each tail.
const Confidence95 = 1.959963984540054

// Line is a Theil-Sen line: it passes through the medians of both axes.
type Line struct {
	Slope      float64 // unit of y per unit of t
	Low, High  float64 // confidence limits of the slope
	Intercept  float64 // y at t = 0: median(y) - Slope*median(t)
	MidT, MidY float64 // medians
}

// TheilSen fits a line to points in any order. The confidence limits are the sorted slopes of rank (N - c)/2 and
// (N + c)/2 + 1, rounded, with c = z times the standard deviation of Kendall's S; ranks beyond the slopes there are take
// the outermost. It is not ok when no two points differ in t. t and y have the same length.
func TheilSen(t, y []float64, z float64) (line Line, ok bool) {
	slopes := pairwiseSlopes(t, y)
	n := len(slopes)
	if n == 0 {
		return Line{}, false
	}
	c := float64(z * math.Sqrt(sVariance(t, y)))
	low := min(max(roundEven((float64(n)-c)/2), 1), n) - 1
	high := min(max(roundEven((float64(n)+c)/2)+1, 1), n) - 1
	rank(slopes, low, (n-1)/2, n/2, high)
	line = Line{
		Slope: middle(slopes),
		Low:   slopes[low],
		High:  slopes[high],
		MidT:  median(t), MidY: median(y),
	}
	line.Intercept = line.MidY - float64(line.Slope*line.MidT)
	return line, true
}

// Reaches returns the t at which a line of the given slope through the medians reaches the level. It is not ok when the
// slope is zero. Pass Slope for the line itself, Low or High for the quickest it may be.
func (l Line) Reaches(level, slope float64) (t float64, ok bool) {
	t = l.MidT + (level-l.MidY)/slope
	return t, slope != 0 && !math.IsInf(t, 0)
}

func pairwiseSlopes(t, y []float64) []float64 {
	slopes := make([]float64, 0, len(t)*(len(t)-1)/2)
	for i := range t {
		for j := i + 1; j < len(t); j++ {
			if t[i] != t[j] {
				slopes = append(slopes, (y[j]-y[i])/(t[j]-t[i]))
			}
		}
	}
	return slopes
}

func median(xs []float64) float64 {
	own := slices.Clone(xs)
	rank(own, (len(own)-1)/2, len(own)/2)
	return middle(own)
}

// middle is the median of values of which those in the middle stand in their places.
func middle(xs []float64) float64 {
	n := len(xs)
	if n%2 == 1 {
		return xs[n/2]
	}
	return (xs[n/2-1] + xs[n/2]) / 2
}

// roundEven rounds to the nearest whole number, and to the even one where x is within 1e-9 of a half.
func roundEven(x float64) int {
	floor := math.Floor(x)
	if math.Abs(x-floor-0.5) <= 1e-9 {
		return int(math.RoundToEven(floor + 0.5))
	}
	return int(math.Round(x))
}

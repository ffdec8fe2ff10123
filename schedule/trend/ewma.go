package trend

import "math"

// Chart is an exponentially weighted moving average chart.
type Chart struct {
	Target float64 // the value when all is well
	Sigma  float64 // standard deviation of one reading, above 0
	Lambda float64 // weight of the newest reading, in (0, 1]
	L      float64 // width of the limits in standard deviations of the average
}

// ChartPoint is the chart after one reading.
type ChartPoint struct {
	Average   float64
	Low, High float64 // the exact limits, which widen from the first reading on
	Outside   bool    // strictly beyond a limit
}

// Plot charts readings in the order they were taken: z_0 = Target, z_i = Lambda x_i + (1 - Lambda) z_(i-1), limits
// Target -+ L Sigma sqrt(Lambda/(2 - Lambda) (1 - (1 - Lambda)^(2i))).
func (c Chart) Plot(readings []float64) []ChartPoint {
	points := make([]ChartPoint, len(readings))
	z, kept := c.Target, 1.0 // kept is (1 - Lambda)^(2i)
	for i, x := range readings {
		z = float64(c.Lambda*x) + float64((1-c.Lambda)*z)
		kept *= (1 - c.Lambda) * (1 - c.Lambda)
		half := c.L * c.Sigma * math.Sqrt(c.Lambda/(2-c.Lambda)*(1-kept))
		p := ChartPoint{Average: z, Low: c.Target - half, High: c.Target + half}
		p.Outside = beyond(z, p.High) || beyond(-z, -p.Low)
		points[i] = p
	}
	return points
}

// beyond reports whether x is above the limit by more than rounding.
func beyond(x, limit float64) bool {
	return x-limit > 1e-9*max(math.Abs(x), math.Abs(limit))
}

// The drift watch of a gauge. Weight and width are this project's choice, near what the handbook advises (from memory: Lambda
// 0.2 to 0.3, L 3).
const (
	driftBaseline = 8
	driftLambda   = 0.2
	driftL        = 2.7
)

// Drift is a gauge that has moved away from where it stood.
type Drift struct {
	Since    int     // index of the first reading of the run outside the limits that lasts to the latest reading
	Up       bool    // the average is above the baseline
	Baseline float64 // mean of the first eight readings
	Average  float64 // the chart's average after the latest reading
}

// FindDrift watches the readings of one gauge in time order, those since a renewal or all there are. The first eight are
// the baseline: their mean is the target, their sample standard deviation, but no less than half of resolution (one unit
// of the last digit shown, above 0), is sigma. The chart begins with the ninth. It is not ok when nothing drifts.
func FindDrift(readings []float64, resolution float64) (drift Drift, ok bool) {
	if len(readings) <= driftBaseline {
		return Drift{}, false
	}
	mean, deviation := meanDeviation(readings[:driftBaseline])
	chart := Chart{Target: mean, Sigma: max(deviation, resolution/2), Lambda: driftLambda, L: driftL}
	points := chart.Plot(readings[driftBaseline:])
	first := len(points)
	for first > 0 && points[first-1].Outside {
		first--
	}
	if first == len(points) {
		return Drift{}, false
	}
	latest := points[len(points)-1]
	return Drift{Since: driftBaseline + first, Up: latest.Average > mean, Baseline: mean, Average: latest.Average}, true
}

// meanDeviation returns the mean and the sample standard deviation (divisor n - 1) of at least two values.
func meanDeviation(xs []float64) (mean, deviation float64) {
	n := float64(len(xs))
	for _, x := range xs {
		mean += x / n
	}
	squares := 0.0
	for _, x := range xs {
		squares += (x - mean) * (x - mean)
	}
	return mean, math.Sqrt(squares / (n - 1))
}

package trend

import "math"

const (
	usageHalfLife  = 60.0 // days after which an amount counts half
	usagePriorSpan = 30.0 // days a declared rate counts for when the record opens
)

// Use is an amount entered some days before the day asked about.
type Use struct {
	DaysAgo float64 // 0 or more
	Amount  float64 // in the counter's unit
}

// UsageRate returns the present rate per day of a counter whose record opened span days ago, from the entries after the
// opening one. Each amount, and each day of the record, counts 2^(-age/60 d). With the record opened today there is no
// rate, and it is not ok.
func UsageRate(span float64, later []Use) (perDay float64, ok bool) {
	weight := daysCounted(span)
	if !(weight > 0) {
		return 0, false
	}
	return usedCounted(later) / weight, true
}

// UsageRateDeclared is UsageRate for a counter with a declared rate per day, which stands for 30 days of record before the
// opening entry and fades as they do. A counter with no entry has a span of 0.
func UsageRateDeclared(declared, span float64, later []Use) (perDay float64) {
	prior := usagePriorSpan * fading(span)
	return (float64(prior*declared) + usedCounted(later)) / (prior + daysCounted(span))
}

// fading is the weight of a day or an amount of the given age in days.
func fading(age float64) float64 { return math.Exp2(-age / usageHalfLife) }

// daysCounted is the weight of all days of a record: the integral of fading from 0 to span.
func daysCounted(span float64) float64 {
	return -math.Expm1(-span*math.Ln2/usageHalfLife) * usageHalfLife / math.Ln2
}

func usedCounted(later []Use) float64 {
	sum := 0.0
	for _, u := range later {
		sum += float64(u.Amount * fading(u.DaysAgo))
	}
	return sum
}

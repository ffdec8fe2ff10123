package schedule

import "math"

// slack is how far a computed number may be off through rounding.
const slack = 1e-9

// floor, ceil and round are whole numbers that a last digit doesn't sway; round takes halves up.
func floor(x float64) int { return toInt(math.Floor(x + slack)) }
func ceil(x float64) int  { return toInt(math.Ceil(x - slack)) }
func round(x float64) int { return toInt(math.Floor(x + 0.5 + slack)) }

// toInt keeps what lies beyond any date where a date can still be told from it.
func toInt(x float64) int {
	const most = 1 << 30
	return int(max(-most, min(most, x)))
}

// least is the smallest number that counts as at least x.
func least(x float64) float64 { return x - float64(slack*math.Abs(x)) }

// above tells whether a computed number is strictly above a threshold.
func above(x, threshold float64) bool { return x > threshold+float64(slack*math.Abs(threshold)) }

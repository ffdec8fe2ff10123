package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule/trend"
)

// What is believed of slip before the ticks say anything: jobs of grade 1 don't slip, those of grade 5 by 15 % of
// their interval, each as surely as 4 ticks would tell. Our own choice.
const priorTicks = 4

var priorSlip = [ledger.Grades]float64{0, 0.02, 0.05, 0.10, 0.15}

// slips is how far jobs of each reach grade slip past their planned dates.
type slips struct {
	fit   [ledger.Grades]float64
	ticks [ledger.Grades]int
}

// grade is the fit and the number of ticks of a reach grade, 1 to 5.
func (s *slips) grade(reach int) (fit float64, ticks int) {
	if reach < 1 || reach > ledger.Grades {
		return 0, 0
	}
	return s.fit[reach-1], s.ticks[reach-1]
}

// learnSlips learns from the ticks of all chores, those of retired ones too.
func learnSlips(v *sight, chores []model.Chore) *slips {
	out := &slips{}
	var sums [ledger.Grades]float64
	for i := range chores {
		var of [ledger.Grades]float64
		starts := v.history[chores[i].ID].starts
		for k := 1; k < len(starts); k++ {
			if slip, ok := v.away.Slip(starts[k-1], starts[k]); ok {
				of[slip.Reach-1] += slip.Value
				out.ticks[slip.Reach-1]++
			}
		}
		for g := range of {
			sums[g] += of[g]
		}
	}
	points := make([]trend.Weighted, ledger.Grades)
	for g := range points {
		weight := float64(priorTicks + out.ticks[g])
		shrunk := (float64(priorTicks*priorSlip[g]) + sums[g]) / weight
		points[g] = trend.Weighted{Level: float64(g + 1), Value: shrunk, Weight: weight}
	}
	copy(out.fit[:], trend.Isotonic(points))
	return out
}

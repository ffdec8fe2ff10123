package station

import (
	"fmt"
	"math"

	"brine/wrasse/model/water"
)

// mostADay is by how much the salinity of a tank with animals is moved in a day, at the most (common practice, no source:
// 1 to 2).
const mostADay = 1

// usualChange is the share of a tank that is changed in a day where nothing else is said.
const usualChange = 0.1

// Shift is how a tank with animals is brought to another salinity: by water changes and never by dry salt, which burns what
// it falls on.
type Shift struct {
	Now, Target float64 // practical salinity
	WaterC      float64
	TankL       float64 // real water: the tank less rock and sand, and the sump
	ChangeL     float64 // taken out and put back each day
	Days        []ShiftDay
	Strength    Strength
}

// ShiftDay is one day's change.
type ShiftDay struct {
	From, To float64
	Batch    float64 // practical salinity of the water put in
	Mix      Mix     // of it, mixed apart; of fresh water alone its salt is 0
}

// Needed tells whether there is anything to shift.
func (s Shift) Needed() bool { return len(s.Days) > 0 }

// PlanShift is the shift of tankL litres at waterC from one practical salinity to another, with changes of changeL litres;
// 0 stands for a tenth of the tank.
func PlanShift(tankL, changeL, waterC, now, target float64, s Strength) (Shift, error) {
	if changeL == 0 {
		changeL = usualChange * tankL
	}
	out := Shift{Now: now, Target: target, WaterC: waterC, TankL: tankL, ChangeL: changeL, Strength: s}
	if err := water.PracticalRange("target", target); err != nil {
		return out, err
	}
	if (Correction{Now: now, Target: target}).Needed() {
		for from := now; math.Abs(target-from) > 1e-9; {
			to := from + math.Max(-mostADay, math.Min(mostADay, target-from))
			d, err := shiftDay(tankL, changeL, waterC, from, to, s)
			if err != nil {
				return out, err
			}
			out.Days = append(out.Days, d)
			from = to
		}
	}
	return out, nil
}

func shiftDay(tankL, changeL, waterC, from, to float64, s Strength) (ShiftDay, error) {
	d := ShiftDay{From: from, To: to}
	var err error
	if d.Batch, err = water.ShiftBatch(tankL, changeL, from, to); err != nil {
		if changeL > 0 && changeL <= tankL {
			return d, fmt.Errorf("a change of %.4g L moves %.4g L too little: %w; give a larger change", changeL, tankL, err)
		}
		return d, err
	}
	if d.Batch == 0 {
		d.Mix = Mix{WaterC: waterC, FreshL: changeL, FinalL: changeL, Strength: s}
		return d, nil
	}
	d.Mix, err = planFinal(changeL, waterC, d.Batch, s)
	return d, err
}

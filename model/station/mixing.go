package station

import (
	"cmp"
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// Mix is the salt for a batch.
type Mix struct {
	Target   float64 // practical salinity
	WaterC   float64
	FreshL   float64 // before the salt
	FinalL   float64
	SaltG    float64 // at the strength reckoned with
	FirstG   float64 // what to weigh out first: enough if the salt is as strong as it may be
	MostG    float64 // what it takes if the salt is as weak as it may be
	Strength Strength
}

// Plan is the salt for freshL litres of fresh water at waterC to reach a practical
// salinity. More can be added to a weak batch in a minute and nothing be taken out of a
// strong one, so the first dose is the low end.
func Plan(freshL, waterC, target float64, s Strength) (Mix, error) {
	if err := water.PracticalRange("target", target); err != nil {
		return Mix{}, err
	}
	return plan(freshL, waterC, target, s)
}

// plan is Plan, for stronger water than a batch is made of, too: what shifts a tank.
func plan(freshL, waterC, target float64, s Strength) (Mix, error) {
	gPerKg, err := water.ReferenceSalinity(target)
	if err != nil {
		return Mix{}, err
	}
	mid, err1 := water.MixBatch(freshL, waterC, gPerKg, s.Fraction)
	first, err2 := water.MixBatch(freshL, waterC, gPerKg, s.High)
	most, err3 := water.MixBatch(freshL, waterC, gPerKg, s.Low)
	if err := cmp.Or(err1, err2, err3); err != nil {
		return Mix{}, err
	}
	return Mix{target, waterC, freshL, mid.FinalL, mid.SaltG, first.SaltG, most.SaltG, s}, nil
}

// PlanFinal is Plan for finalL litres of finished salt water.
func PlanFinal(finalL, waterC, target float64, s Strength) (Mix, error) {
	if err := water.PracticalRange("target", target); err != nil {
		return Mix{}, err
	}
	return planFinal(finalL, waterC, target, s)
}

func planFinal(finalL, waterC, target float64, s Strength) (Mix, error) {
	gPerKg, err := water.ReferenceSalinity(target)
	if err != nil {
		return Mix{}, err
	}
	fresh, err := water.FreshForFinal(finalL, waterC, gPerKg, s.Fraction)
	if err != nil {
		return Mix{}, err
	}
	return plan(fresh, waterC, target, s)
}

// Correction is what brings salt water from one salinity to another.
type Correction struct {
	Now, Target float64 // practical salinity
	WaterC      float64
	VolumeL     float64 // of the salt water before
	SaltG       float64 // to add, when it is too weak, at the strength reckoned with
	FirstG      float64 // what to add first: enough if the salt is as strong as it may be
	FreshL      float64 // to add, when it is too strong
	SwapL       float64 // or, when it is too strong and the vat full, to replace by fresh water
	FinalL      float64 // after adding
	Strength    Strength
}

// closeEnough is how near to its target a batch is left alone, in practical salinity: a
// hand-held instrument shows no more. Common practice, no source.
const closeEnough = 0.2

// Beyond tells whether the salinity lies where the scales have ended, so that it is about what it says.
func (c Correction) Beyond() bool { return water.PracticalRange("now", c.Now) != nil }

// Needed tells whether there is anything to correct.
func (c Correction) Needed() bool {
	return c.Now < c.Target-closeEnough-1e-9 || c.Now > c.Target+closeEnough+1e-9
}

// Correct is the correction of volumeL litres of salt water at waterC from the
// practical salinity now to target. The first dose of salt is the low end, as in Plan.
func Correct(volumeL, waterC, now, target float64, s Strength) (Correction, error) {
	c := Correction{Now: now, Target: target, WaterC: waterC, VolumeL: volumeL, FinalL: volumeL, Strength: s}
	if err := water.PracticalRange("target", target); err != nil {
		return c, err
	}
	from, err1 := water.ReferenceSalinity(now)
	to, err2 := water.ReferenceSalinity(target)
	err := cmp.Or(err1, err2)
	switch {
	case err != nil:
	case now < target:
		c.SaltG, err1 = water.SaltToRaise(volumeL, waterC, from, to, s.Fraction)
		c.FirstG, err2 = water.SaltToRaise(volumeL, waterC, from, to, s.High)
		if err = cmp.Or(err1, err2); err == nil {
			c.FinalL, err = volumeAfter(volumeL, waterC, now, target, c.SaltG/1000)
		}
	case now > target:
		c.FreshL, err1 = water.FreshToLower(volumeL, waterC, from, to)
		c.SwapL, err2 = water.SwapForFresh(volumeL, waterC, from, to)
		fresh, err3 := water.Density(0, waterC)
		if err = cmp.Or(err1, err2, err3); err == nil {
			c.FinalL, err = volumeAfter(volumeL, waterC, now, target, c.FreshL*fresh/1000)
		}
	}
	return c, err
}

// volumeAfter is the volume of volumeL litres of one salinity once addedKg have made it
// another, in litres at waterC.
func volumeAfter(volumeL, waterC, now, target, addedKg float64) (float64, error) {
	before, err1 := water.DensityUpTo(now, waterC, water.MostMixed)
	after, err2 := water.Density(target, waterC)
	if err := cmp.Or(err1, err2); err != nil {
		return 0, err
	}
	return (volumeL*before/1000 + addedKg) / (after / 1000), nil
}

// CorrectBatch is the correction of a measured batch, from its own strength where it
// shows one.
func CorrectBatch(batch model.Batch, target float64, s Strength) (Correction, error) {
	if batch.Salinity == nil {
		return Correction{}, fmt.Errorf("the batch has not been measured; measure its salinity first")
	}
	if f, ok := BatchStrength(batch); ok {
		s = Strength{f, f, f, 1}
	}
	volume, err := BatchVolume(batch)
	if err != nil {
		return Correction{}, err
	}
	return Correct(volume, batchC(batch), *batch.Salinity, target, s)
}

// BatchVolume is how many litres of salt water a measured batch is.
func BatchVolume(batch model.Batch) (float64, error) {
	return volumeAfter(batch.VolumeL, batchC(batch), 0, *batch.Salinity, batch.SaltG/1000)
}

// AfterSwap is a measured batch once swapL litres of it have been replaced by fresh water:
// what is in the vat, as if it had been mixed so. It is unmeasured again.
func AfterSwap(batch model.Batch, swapL float64) (model.Batch, error) {
	if batch.Salinity == nil {
		return batch, fmt.Errorf("the batch has not been measured; measure its salinity first")
	}
	volume, err := BatchVolume(batch)
	if err != nil {
		return batch, err
	}
	if swapL <= 0 || swapL >= volume {
		return batch, fmt.Errorf("%.4g L can't be swapped out of %.4g L; give more than 0 and less than all of it", swapL, volume)
	}
	left := 1 - swapL/volume
	batch.SaltG *= left
	batch.VolumeL = float64(batch.VolumeL*left) + swapL
	batch.Salinity = nil
	return batch, nil
}

// Mass is that of litres of water of a practical salinity, in kg.
func Mass(litres, waterC, salinity float64) (float64, error) {
	rho, err := water.Density(salinity, waterC)
	return litres * rho / 1000, err
}

package water

import "math"

// The dilution formulas work in any unit of concentration, the same throughout; old is the tank's, fresh the new
// water's. Volumes are of real water: tank and sump less rock and sand. Source: mass balance (computed).

func concentration(name string, v float64) error { return within(name, v, 0, 1e6, "") }

func share(v float64) error { return positive("share changed", v, 1, "") }

// Dilute is the concentration after n changes of the share f (above 0, up to 1) of the volume each: Cn + (C0-Cn)(1-f)^n,
// n 0 to 10000.
func Dilute(old, fresh, f float64, n int) (float64, error) {
	err := first(concentration("concentration", old), concentration("concentration of the new water", fresh), share(f),
		within("number of changes", float64(n), 0, 10000, ""))
	if err != nil {
		return 0, err
	}
	return fresh + (old-fresh)*math.Pow(1-f, float64(n)), nil
}

// DiluteContinuous is the concentration after changedL litres were put in while as much ran out, at constant
// volume: Cn + (C0-Cn) exp(-v/V).
func DiluteContinuous(old, fresh, changedL, volumeL float64) (float64, error) {
	err := first(concentration("concentration", old), concentration("concentration of the new water", fresh),
		within("water changed", changedL, 0, 1e6, "L"), litres("volume", volumeL))
	if err != nil {
		return 0, err
	}
	return fresh + (old-fresh)*math.Exp(-changedL/volumeL), nil
}

// ChangesToReach is how many changes of the share f (below 1) bring old to target, a fraction of a change included.
// Target lies between old and fresh, fresh excluded: it is never quite reached.
func ChangesToReach(old, fresh, target, f float64) (float64, error) {
	err := first(concentration("concentration", old), concentration("concentration of the new water", fresh), concentration("target", target))
	if err == nil && !(f > 0 && f < 1) {
		err = &RangeError{"share changed", f, "", "above 0 and below 1"}
	}
	if err == nil && !(math.Min(old, fresh) <= target && target <= math.Max(old, fresh) && target != fresh) {
		err = &RangeError{"target", target, "", "from " + number(old) + " towards " + number(fresh) + ", which itself is never reached"}
	}
	if err != nil {
		return 0, err
	}
	return math.Log((target-fresh)/(old-fresh)) / math.Log1p(-f), nil
}

// SteadyState is where a concentration settles that rises by production between changes of the share f: just before a
// change Cn + p/f, just after it Cn + p(1-f)/f.
func SteadyState(fresh, production, f float64) (before, after float64, err error) {
	err = first(concentration("concentration of the new water", fresh), concentration("rise between changes", production), share(f))
	if err != nil {
		return 0, 0, err
	}
	return fresh + production/f, fresh + production*(1-f)/f, nil
}

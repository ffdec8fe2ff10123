package water

// assumedRecovery stands in when the waste flow was not measured: 4 to 1.
const assumedRecovery = 0.2

// ExpectedFlow is the flow an element should give, rated * (ndp/ratedNDP) * tcf, in the unit of rated. Pressures in
// bar (or both in another unit), tcf from TCF.
//
// Source: linear in the driving pressure as in ASTM D4516, and the temperature factor of TCF (from memory).
func ExpectedFlow(rated, ndp, ratedNDP, tcf float64) (float64, error) {
	err := first(positive("rated flow", rated, maxFlow, ""), drivingPressure(ndp), drivingPressure(ratedNDP),
		positive("temperature correction factor", tcf, 3, ""))
	if err != nil {
		return 0, err
	}
	return rated * (ndp / ratedNDP) * tcf, nil
}

// NormalisedFlow refers a measured flow to standard conditions: q * (NDPs TCFs)/(NDPa TCFa), in the unit of q. The
// driving pressures in bar, the factors of one form throughout.
//
// Source: ASTM D4516 (from memory: the standard was not seen).
func NormalisedFlow(q, ndpActual, tcfActual, ndpStandard, tcfStandard float64) (float64, error) {
	err := first(within("product flow", q, 0, maxFlow, ""), drivingPressure(ndpActual), drivingPressure(ndpStandard),
		positive("temperature correction factor", tcfActual, 3, ""), positive("temperature correction factor", tcfStandard, 3, ""))
	if err != nil {
		return 0, err
	}
	return q * (ndpStandard * tcfStandard) / (ndpActual * tcfActual), nil
}

// A FlowSet is a set of readings of one date from which the membrane's flow can be judged.
type FlowSet struct {
	ProductLH   float64
	WasteLH     *float64 // nil when not measured: a recovery of 0.2 is assumed
	PressureBar float64  // at the membrane, else in the line
	WaterC      float64
	TapPPM      float64
}

// drivingPressure is the set's net driving pressure, in bar.
func (s FlowSet) drivingPressure() (float64, error) {
	y := assumedRecovery
	if s.WasteLH != nil {
		ratio, err := WasteRatio(s.ProductLH, *s.WasteLH)
		if err != nil {
			return 0, err
		}
		if y, err = Recovery(ratio); err != nil {
			return 0, err
		}
	}
	brine, err := FeedBrinePPM(s.TapPPM, y)
	if err != nil {
		return 0, err
	}
	osmotic, err := OsmoticPressure(brine, s.WaterC)
	if err != nil {
		return 0, err
	}
	return NetDrivingPressure(Pressures{FeedBar: s.PressureBar, OsmoticFeedBar: osmotic})
}

// strength is what the flow of the set is to be cleared of: its driving pressure in bar and its temperature factor.
func (s FlowSet) strength() (ndp, tcf float64, err error) {
	if ndp, err = s.drivingPressure(); err != nil {
		return 0, 0, err
	}
	tcf, err = TCF(s.WaterC)
	return ndp, tcf, err
}

// What a label leaves unsaid of its test: small elements are commonly rated on 250 to 500 ppm at 15 % recovery (from memory).
const (
	ratedPPM      = 250
	ratedRecovery = 0.15
	ratedC        = 25
)

// Expected is the flow, in L/h, that an element of a label should give under the conditions of the set: ExpectedFlow with
// the driving pressures of both. The product's back-pressure and the drop along the element are taken as 0 in both.
func (s FlowSet) Expected(label Rated) (float64, error) {
	brine, err := FeedBrinePPM(ratedPPM, ratedRecovery)
	if err != nil {
		return 0, err
	}
	osmotic, err := OsmoticPressure(brine, ratedC)
	if err != nil {
		return 0, err
	}
	rated, err := NetDrivingPressure(Pressures{FeedBar: label.PressureBar, OsmoticFeedBar: osmotic})
	if err != nil {
		return 0, err
	}
	ndp, tcf, err := s.strength()
	if err != nil {
		return 0, err
	}
	return ExpectedFlow(label.FlowLH, ndp, rated, tcf)
}

// NormalisedFlowPercent is the product flow of now, cleared of pressure, cold and salt, in percent of the baseline
// set's. Form A of the temperature factor; the product's own osmotic pressure, its back-pressure and the drop along
// the element are taken as 0 in both sets. One value is good to about 6 % (flow 3 %, pressure 4 %, temperature 3 %).
func NormalisedFlowPercent(now, baseline FlowSet) (float64, error) {
	err := first(positive("product flow", now.ProductLH, maxFlow, "L/h"), positive("product flow of the baseline", baseline.ProductLH, maxFlow, "L/h"))
	if err != nil {
		return 0, err
	}
	ndp, tcf, err := now.strength()
	if err != nil {
		return 0, err
	}
	ndpWas, tcfWas, err := baseline.strength()
	if err != nil {
		return 0, err
	}
	q, err := NormalisedFlow(now.ProductLH, ndp, tcf, ndpWas, tcfWas)
	return 100 * q / baseline.ProductLH, err
}

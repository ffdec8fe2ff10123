package water

import "math"

// maxFlow (L/h) and maxRatio bound what a household unit can do; beyond them a unit was mistyped. A membrane that is all
// but blocked still lets the waste run: hundreds of litres to one of product are a finding, not a slip of the pen.
const (
	maxFlow   = 10000
	maxRatio  = 1000
	maxLitres = 1e9
)

func wasteRatio(v float64) error { return within("waste ratio", v, 0, maxRatio, "") }

// recovery accepts 0 < Y < 1, the open ends being where the formulas have no value.
func recovery(v float64) error {
	if v > 0 && v < 1 {
		return nil
	}
	return &RangeError{"recovery", v, "", "above 0 and below 1"}
}

// WasteRatio is waste flow / product flow, both in the same unit (said "4 to 1"). Product flow above 0.
func WasteRatio(productLH, wasteLH float64) (float64, error) {
	err := first(positive("product flow", productLH, maxFlow, "L/h"), within("waste flow", wasteLH, 0, maxFlow, "L/h"))
	if err != nil {
		return 0, err
	}
	w := wasteLH / productLH
	return w, wasteRatio(w)
}

// Recovery is the share of the feed that becomes product, 1/(1+W), for a waste ratio W of 0 to 1000.
func Recovery(ratio float64) (float64, error) {
	if err := wasteRatio(ratio); err != nil {
		return 0, err
	}
	return 1 / (1 + ratio), nil
}

// FeedLitres is what passes the prefilters while productL is made: product * (1 + waste ratio). Sediment and carbon
// see this, the resin sees the product alone.
func FeedLitres(productL, ratio float64) (float64, error) {
	if err := first(within("water made", productL, 0, maxLitres, "L"), wasteRatio(ratio)); err != nil {
		return 0, err
	}
	return productL * (1 + ratio), nil
}

// FeedBrinePPM is the log-mean concentration on the feed side of the element, Cf * ln(1/(1-Y))/Y, in ppm.
//
// Source: ASTM D4516 (from memory: the standard was not seen).
func FeedBrinePPM(tapPPM, y float64) (float64, error) {
	if err := first(tapTDS(tapPPM), recovery(y)); err != nil {
		return 0, err
	}
	return tapPPM * -math.Log1p(-y) / y, nil
}

// BrinePPM is the TDS the waste must have by mass balance, (Cf - Y*Cp)/(1-Y), in ppm. A measured waste TDS more than
// about 10 % off says that a flow or a tap was misread.
func BrinePPM(tapPPM, membranePPM, y float64) (float64, error) {
	err := first(tapTDS(tapPPM), within("TDS after the membrane", membranePPM, 0, tapPPM, "ppm"), recovery(y))
	if err != nil {
		return 0, err
	}
	return (tapPPM - float64(y*membranePPM)) / (1 - y), nil
}

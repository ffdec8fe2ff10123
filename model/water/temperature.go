package water

import "math"

// feedTemperature is the liquid range up to what domestic elements bear (from memory: 45 degC).
func feedTemperature(v float64) error { return within("water temperature", v, 0, 45, "°C") }

// TCF is the temperature correction factor of a thin-film membrane's flow, flow at T / flow at 25 degC, form A:
// exp(2640 (1/298 - 1/(273+T))) from 25 degC up, 3020 in place of 2640 below. Dividing a measured flow by it gives the
// flow at 25 degC. T 0 to 45 degC. 298 and 273 are as printed.
//
// Source: the design equation usual for thin-film membranes (from memory). Makers differ: their charts lie between 0.53
// and 0.64 at 10 degC (from memory).
func TCF(waterC float64) (float64, error) {
	if err := feedTemperature(waterC); err != nil {
		return 0, err
	}
	k := 3020.0
	if waterC >= 25 {
		k = 2640
	}
	return math.Exp(k * (1.0/298 - 1/(273+waterC))), nil
}

package water

// maxPressure (bar) is the usual maximum of an element (from memory: 300 psi).
const maxPressure = 20.7

func gauge(name string, v float64) error { return within(name, v, 0, maxPressure, "bar") }

// OsmoticPressure is the osmotic pressure in bar of water with the given TDS (ppm = mg/L as NaCl) at T degC:
// 0.2654 C (T+273.15)/(1000 - C/1000) kPa. TDS 0 to 50000 ppm, T 0 to 45 degC.
//
// Source: the form of ASTM D4516 (coefficient from memory; cross-computed against a molal-sum form to 0.6 %).
func OsmoticPressure(ppm, waterC float64) (float64, error) {
	if err := first(tds("TDS", ppm), feedTemperature(waterC)); err != nil {
		return 0, err
	}
	return 0.2654 * ppm * (waterC + 273.15) / (1000 - ppm/1000) / 100, nil
}

// Pressures are those around an element, in bar: at its inlet after the prefilters, the drop from feed to waste
// along it, in the product line, and the osmotic pressures of feed-brine and product. What was not measured is 0.
type Pressures struct {
	FeedBar, DropBar, ProductBar, OsmoticFeedBar, OsmoticProductBar float64
}

// NetDrivingPressure is what pushes water through the membrane, in bar: Pf - dP/2 - Pp - (pi_fb - pi_p). Each
// pressure 0 to 20.7 bar (osmotic: 0 to 50 bar); a result of 0 or less is refused, since nothing would flow.
//
// Source: ASTM D4516 (from memory: the standard was not seen).
func NetDrivingPressure(p Pressures) (float64, error) {
	err := first(gauge("feed pressure", p.FeedBar), gauge("pressure drop along the element", p.DropBar),
		gauge("product back-pressure", p.ProductBar), within("osmotic pressure of the feed", p.OsmoticFeedBar, 0, 50, "bar"),
		within("osmotic pressure of the product", p.OsmoticProductBar, 0, 50, "bar"))
	if err != nil {
		return 0, err
	}
	ndp := p.FeedBar - p.DropBar/2 - p.ProductBar - (p.OsmoticFeedBar - p.OsmoticProductBar)
	return ndp, drivingPressure(ndp)
}

func drivingPressure(v float64) error {
	return positive("net driving pressure", v, 2*maxPressure, "bar")
}

// PrefilterDrop is the pressure lost over the prefilters in bar, line - membrane, both read while the unit runs, each
// 0 to 20.7 bar. It is negative where a booster pump sits between the two gauges.
func PrefilterDrop(lineBar, membraneBar float64) (float64, error) {
	if err := first(gauge("line pressure", lineBar), gauge("membrane pressure", membraneBar)); err != nil {
		return 0, err
	}
	return lineBar - membraneBar, nil
}

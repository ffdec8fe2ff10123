package parse

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// salinity brings a salinity, typed in any scale that needs no temperature, to
// practical salinity. A bare figure is the instrument's own: practical, or of a
// refractometer with a brine scale table salt.
func salinity(t term, g model.Gauge) (float64, error) {
	scale, err := water.ParseSaltScale(g.Scale)
	switch strings.ToLower(t.unit) {
	case "", "sp", "psu", "ppt":
		if t.value > 0.9 && t.value < 1.1 {
			return 0, fmt.Errorf("%s looks like a specific gravity; give it as %s SG, or a practical salinity such as 35", trimmed(t.value), trimmed(t.value))
		}
		if scale.Brine && t.unit == "" {
			return water.SalinityFromBrine(t.value)
		}
		return t.value, nil
	case "brine":
		return water.SalinityFromBrine(t.value)
	case "sg":
		if err != nil {
			return 0, fmt.Errorf("scale of %s: %w", g.Name, err)
		}
		return water.SalinityFromGravity(t.value, scale.Reference)
	case "g/kg":
		return water.PracticalFromReference(t.value)
	}
	return 0, fmt.Errorf("unit %q: not accepted for a salinity; give SP, SG, g/kg or brine", t.unit)
}

func trimmed(v float64) string {
	return strings.TrimRight(fmt.Sprintf("%.5f", v), "0")
}

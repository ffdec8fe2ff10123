package typed

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// salinity brings a salinity, typed in any scale that needs no temperature, to
// practical salinity.
func salinity(t term, g model.Gauge) (float64, error) {
	switch strings.ToLower(t.unit) {
	case "", "sp", "psu", "ppt":
		if t.value > 0.9 && t.value < 1.1 {
			return 0, fmt.Errorf("%s looks like a specific gravity; give it as %s SG, or a practical salinity such as 35", trimmed(t.value), trimmed(t.value))
		}
		return t.value, nil
	case "sg":
		scale := water.At25
		if g.Scale != "" {
			var err error
			if scale, err = water.ParseReference(g.Scale); err != nil {
				return 0, fmt.Errorf("scale of %s: %w", g.Name, err)
			}
		}
		return water.SalinityFromGravity(t.value, scale)
	case "g/kg":
		return water.PracticalFromReference(t.value)
	}
	return 0, fmt.Errorf("unit %q: not accepted for a salinity; give SP, SG or g/kg", t.unit)
}

func trimmed(v float64) string {
	return strings.TrimRight(fmt.Sprintf("%.5f", v), "0")
}

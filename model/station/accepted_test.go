package station

import (
	"testing"

	"brine/wrasse/model/water"
)

// What Accepted takes, a verdict can be made of, and what lies beyond is refused there too.
func TestAcceptedIsWhatAVerdictTakes(t *testing.T) {
	for _, r := range roles {
		low, high, ok := Accepted(r.role)
		if !ok {
			t.Errorf("%s has no range", r.role)
		}
		for value, taken := range map[float64]bool{low: true, high: true, low - 0.01: false, high + 0.01: false} {
			var all water.Readings
			*r.of(&all) = &water.Reading{Value: value}
			if _, err := water.Diagnose(all); (err == nil) != taken {
				t.Errorf("%s of %g, accepted from %g to %g: the verdict says %v", r.role, value, low, high, err)
			}
		}
	}
	if _, _, ok := Accepted("salinity"); ok {
		t.Error("a gauge that is none of the station's has a range")
	}
}

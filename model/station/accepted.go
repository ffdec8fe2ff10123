package station

import "brine/wrasse/model/water"

// Accepted is the range of values of a gauge of the station, by its role, in its unit: what lies beyond no instrument
// shows, and a verdict would be refused for it. ok is false for other gauges.
func Accepted(role string) (low, high float64, ok bool) {
	for _, r := range roles {
		if r.role == role {
			var all water.Readings
			one := new(water.Reading)
			*r.of(&all) = one
			return all.Accepted(one)
		}
	}
	return 0, 0, false
}

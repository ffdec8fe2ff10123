package water

// Accepted is the range of values that Diagnose takes of one of the readings of r, in its unit. ok is false for a reading
// that is none of r's.
func (r *Readings) Accepted(one *Reading) (low, high float64, ok bool) {
	for _, g := range gauges {
		if of := *g.of(r); of != nil && of == one {
			return g.lo, g.hi, true
		}
	}
	return 0, 0, false
}

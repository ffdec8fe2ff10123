package water

import "fmt"

// A refractometer sees how strongly light is bent. Sea water bends it less than table salt of the same mass does, so that
// one whose scale was made with table salt ("brine") shows sea water of 35 as about 36.5. A specific gravity on its second
// scale is mostly stated at 20/20.

// quanFry is the refractive index of sea water of practical salinity S at 20 degC and the yellow sodium line, 589.3 nm.
//
// Source: Quan & Fry 1995 (coefficients from memory; 1.33300 at 0 and 1.33941 at 35 recomputed).
func quanFry(s float64) float64 {
	const t, l = 20, 589.3
	return 1.31405 + (1.779e-4-1.05e-6*t+1.6e-8*t*t)*s - 2.02e-6*t*t + (15.868+0.01155*s-0.00423*t)/l - 4382/(l*l) + 1.1455e6/(l*l*l)
}

// brineIndex is the refractive index of table salt in water at 20 degC and 589 nm, for each 10 g/kg from 0 on.
//
// Source: CRC Handbook, concentrative properties of sodium chloride (from memory).
var brineIndex = [...]float64{1.3330, 1.3347, 1.3365, 1.3383, 1.3400, 1.3418, 1.3435}

// BrineReading is what a refractometer with a brine scale shows, in g/kg of table salt, for sea water of practical salinity
// 0 to 42: 36.5 for 35.
func BrineReading(salinity float64) (float64, error) {
	if err := within("practical salinity", salinity, 0, maxPractical, ""); err != nil {
		return 0, err
	}
	return brineOf(quanFry(salinity)), nil
}

// brineOf is the table salt, in g/kg, that bends light like an index.
func brineOf(n float64) float64 {
	i := 0
	for i < len(brineIndex)-2 && n > brineIndex[i+1] {
		i++
	}
	return 10 * (float64(i) + (n-brineIndex[i])/(brineIndex[i+1]-brineIndex[i]))
}

// SalinityFromBrine is the inverse of BrineReading.
func SalinityFromBrine(reading float64) (float64, error) {
	lo, hi := brineOf(quanFry(0)), brineOf(quanFry(maxPractical))
	if err := within("reading on a brine scale", reading, 0, hi, "g/kg"); err != nil {
		return 0, err
	}
	if reading <= lo {
		return 0, nil
	}
	return invert(func(s float64) float64 { return brineOf(quanFry(s)) }, reading, 0, maxPractical), nil
}

// A SaltScale is what an instrument for salinity shows: a specific gravity at its reference, practical salinity, or the
// table salt of a brine refractometer.
type SaltScale struct {
	Reference Reference // of what it shows as a specific gravity
	Brine     bool      // its figures are those of table salt
	Sea       bool      // a refractometer whose scale was made with sea water
}

// ParseSaltScale reads the scale of an instrument: a reference such as "25/25", "brine" or "sea water" of a
// refractometer; "" is a specific gravity at 25/25.
func ParseSaltScale(s string) (SaltScale, error) {
	switch s {
	case "":
		return SaltScale{Reference: At25}, nil
	case "brine", "NaCl":
		return SaltScale{Reference: At20, Brine: true}, nil
	case "sea", "sea water":
		return SaltScale{Reference: At20, Sea: true}, nil
	}
	r, err := ParseReference(s)
	if err != nil {
		return SaltScale{}, fmt.Errorf("scale %q: not known; write 25/25, 20/20 or 60F/60F of a specific gravity, brine or sea water of a refractometer", s)
	}
	return SaltScale{Reference: r}, nil
}

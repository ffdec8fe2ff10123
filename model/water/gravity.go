package water

import (
	"fmt"
	"strconv"
	"strings"
)

// A Reference names the two temperatures a specific gravity is stated for: the density of the sample at SampleC over
// that of pure water at WaterC (degC, ITS-90). Without it a specific gravity means nothing: 1.0264 is a salinity of
// 35.0 on 25/25, 34.4 on 60F/60F and 39.0 on 25/4.
type Reference struct {
	Name            string
	SampleC, WaterC float64
}

// The references instruments are sold with.
var (
	At20  = Reference{"20/20", 20, 20}
	At25  = Reference{"25/25", 25, 25}
	At60F = Reference{"60F/60F", 140.0 / 9, 140.0 / 9}
)

// ParseReference reads "25/25", "20/4", "17.5/17.5" (degC) or "60F/60F". Temperatures 0 to 40 degC.
func ParseReference(s string) (Reference, error) {
	a, b, ok := strings.Cut(strings.TrimSpace(s), "/")
	sample, err1 := referenceTemperature(a)
	water, err2 := referenceTemperature(b)
	if !ok || err1 != nil || err2 != nil {
		return Reference{}, fmt.Errorf("reference %q: not two temperatures; write 25/25, 20/20, 60F/60F or 20/4", s)
	}
	r := Reference{strings.ToUpper(strings.TrimSpace(a) + "/" + strings.TrimSpace(b)), sample, water}
	return r, r.check()
}

func referenceTemperature(s string) (float64, error) {
	s = strings.ToUpper(strings.TrimSpace(s))
	if f, ok := strings.CutSuffix(s, "F"); ok {
		v, err := strconv.ParseFloat(f, 64)
		return (v - 32) * 5 / 9, err
	}
	return strconv.ParseFloat(strings.TrimSuffix(s, "C"), 64)
}

func (r Reference) check() error {
	return first(within("reference temperature", r.SampleC, 0, 40, "°C"), within("reference temperature", r.WaterC, 0, 40, "°C"))
}

// pure is the density of the reference's pure water.
func (r Reference) pure() float64 { return rho(0, t68(r.WaterC)) }

// SpecificGravity is that of water of practical salinity 0 to 42 at reference r.
//
// Source: hydrometry's definition (ISO 649, ASTM E100) with the densities of EOS-80; TEOS-10 agrees to 6e-6.
func SpecificGravity(salinity float64, r Reference) (float64, error) {
	err := first(within("practical salinity", salinity, 0, maxPractical, ""), r.check())
	if err != nil {
		return 0, err
	}
	return rho(salinity, t68(r.SampleC)) / r.pure(), nil
}

// SalinityFromGravity is the inverse of SpecificGravity: practical salinity from a specific gravity stated at r.
func SalinityFromGravity(sg float64, r Reference) (float64, error) {
	return SalinityFromGravityUpTo(sg, r, maxPractical)
}

// SalinityFromGravityUpTo is SalinityFromGravity with another upper end, at most MostMixed.
func SalinityFromGravityUpTo(sg float64, r Reference, most float64) (float64, error) {
	if err := r.check(); err != nil {
		return 0, err
	}
	return salinityOf(func(s float64) float64 { return rho(s, t68(r.SampleC)) / r.pure() }, most, sg, "specific gravity "+r.Name, "")
}

// glassExpansion is the cubic expansion of a hydrometer's glass per degC (from memory; computed with this value).
const glassExpansion = 25e-6

// hydrometerScale turns a density (kg/m3) of the water a float stands in at sampleC into what its stem shows.
func (r Reference) hydrometerScale(sampleC float64) float64 {
	return (1 + glassExpansion*(sampleC-r.SampleC)) / r.pure()
}

// HydrometerReading is what a glass hydrometer made for reference r shows in water of practical salinity 0 to 42 at
// sampleC (0 to 40 degC), with nothing corrected.
func HydrometerReading(salinity, sampleC float64, r Reference) (float64, error) {
	err := first(within("practical salinity", salinity, 0, maxPractical, ""), within("sample temperature", sampleC, 0, 40, "°C"), r.check())
	if err != nil {
		return 0, err
	}
	return rho(salinity, t68(sampleC)) * r.hydrometerScale(sampleC), nil
}

// SalinityFromHydrometerUpTo is the inverse of HydrometerReading: the practical salinity behind a stem reading taken in
// water at sampleC, up to most, which is at most MostMixed. Read blind, a 60F/60F float in water of 25 degC is 2.9 too low.
func SalinityFromHydrometerUpTo(reading, sampleC float64, r Reference, most float64) (float64, error) {
	if err := first(within("sample temperature", sampleC, 0, 40, "°C"), r.check()); err != nil {
		return 0, err
	}
	scale := r.hydrometerScale(sampleC)
	return salinityOf(func(s float64) float64 { return rho(s, t68(sampleC)) * scale }, most, reading,
		"hydrometer reading "+r.Name+" at "+number(sampleC)+" °C", "")
}

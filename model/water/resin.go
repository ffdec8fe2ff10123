package water

import "math"

// DefaultResinCapacity (eq/L) and DefaultUtilisation (share of it that is used before the product leaks) are the
// figures for a mixed bed of which nothing better is known. Mixed beds hold 0.50 to 0.66 eq/L; all of
// it is common practice, no source. A small cartridge with gaps uses 0.6 to 0.7 of its capacity.
const (
	DefaultResinCapacity = 0.55
	DefaultUtilisation   = 0.9
)

// A SaltScale says what a TDS figure stands for when it is turned into equivalents.
type SaltScale int

const (
	// AsNaCl takes ppm as mg/L of sodium chloride, 58.44 mg/meq.
	AsNaCl SaltScale = iota
	// AsCaCO3 takes ppm as mg/L of calcium carbonate, 50.04 mg/meq.
	AsCaCO3
	// AsMeter takes ppm as shown by a meter with factor 0.5: conductivity/126.4 uS/cm per meq/L, right for sodium
	// chloride and within 25 % for bicarbonate waters.
	AsMeter
)

// mgPerMeq of each scale (computed from molar masses, and limiting conductances of sodium chloride).
var mgPerMeq = map[SaltScale]float64{AsNaCl: 58.44, AsCaCO3: mgCaCO3PerMeq, AsMeter: 126.4 * FactorNaCl}

// Meq is the salt of a TDS of ppm in meq/L.
func Meq(ppm float64, scale SaltScale) (float64, error) {
	per, ok := mgPerMeq[scale]
	if !ok {
		return 0, &RangeError{"salt scale", float64(scale), "", "AsNaCl, AsCaCO3 or AsMeter"}
	}
	if err := tds("TDS", ppm); err != nil {
		return 0, err
	}
	return ppm / per, nil
}

// A ResinBed is a cartridge of mixed-bed resin.
type ResinBed struct {
	VolumeL        float64 // 0.6 for a 10-inch cartridge
	CapacityEqPerL float64 // of the mixed bed
	Utilisation    float64 // share used, above 0 up to 1
}

// Capacity is what the bed takes up before it leaks, in meq. Volume up to 50 L, capacity 0.1 to 2 eq/L.
func (b ResinBed) Capacity() (float64, error) {
	err := first(positive("resin volume", b.VolumeL, 50, "L"), within("resin capacity", b.CapacityEqPerL, 0.1, 2, "eq/L"),
		positive("resin utilisation", b.Utilisation, 1, ""))
	if err != nil {
		return 0, err
	}
	return b.VolumeL * b.CapacityEqPerL * b.Utilisation * 1000, nil
}

// Litres is how much water the bed treats at an inlet TDS (ppm in scale, after the membrane) and a dissolved CO2
// (mmol/L, 0 to 10): capacity / (salt + CO2), one meq per mmol on the anion side, which dies first. A water that
// carries nothing is refused, since no bed would ever be spent by it. The CO2 is not seen by a TDS meter and cuts the
// life three or four times on hard water.
//
// Source: ion-exchange stoichiometry (computed); capacity and utilisation as documented there.
func (b ResinBed) Litres(ppm float64, scale SaltScale, co2 float64) (float64, error) {
	capacity, err := b.Capacity()
	if err != nil {
		return 0, err
	}
	salt, err := Meq(ppm, scale)
	if err := first(err, within("dissolved CO2", co2, 0, 10, "mmol/L")); err != nil {
		return 0, err
	}
	if err := positive("load of the water", salt+co2, 2000, "meq/L"); err != nil {
		return 0, err
	}
	return capacity / (salt + co2), nil
}

// Grams is the TDS, in grams, that passes into the bed over its Litres at the same inlet: what a load clock counts.
// TDS after the membrane above 0.
func (b ResinBed) Grams(ppm float64, scale SaltScale, co2 float64) (float64, error) {
	if err := positive("TDS after the membrane", ppm, maxTDS, "ppm"); err != nil {
		return 0, err
	}
	litres, err := b.Litres(ppm, scale, co2)
	if err != nil {
		return 0, err
	}
	return litres * ppm / 1000, nil
}

// DissolvedCO2 is the carbon dioxide of tap water in mmol/L from its alkalinity (mg/L as CaCO3, 0 to 500) and pH (6 to
// 9): Alk/50.04 * 10^(6.35-pH), at 25 degC; cold water holds about a third more. The membrane lets it pass whole.
//
// Source: carbonate equilibrium, Stumm & Morgan (computed).
func DissolvedCO2(alkalinityMgL, pH float64) (float64, error) {
	err := first(within("alkalinity", alkalinityMgL, 0, 500, "mg/L CaCO3"), within("pH", pH, 6, 9, ""))
	if err != nil {
		return 0, err
	}
	return alkalinityMgL / mgCaCO3PerMeq * math.Pow(10, 6.35-pH), nil
}

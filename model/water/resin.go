package water

import "math"

// DefaultResinCapacity (eq/L) and DefaultUtilisation (share of it that is used before the product leaks) are the
// figures for a mixed bed of which nothing better is known. Mixed beds hold 0.50 to 0.66 eq/L; all of
// it is common practice, no source. A small cartridge with gaps uses 0.6 to 0.7 of its capacity.
const (
	DefaultResinCapacity = 0.55
	DefaultUtilisation   = 0.9
)

// DefaultCO2 is the dissolved carbon dioxide in mmol/L that is reckoned with where the tap's alkalinity and pH are not
// known: a guess, that of a moderate tap water (alkalinity 100 mg/L at pH 7.55).
const DefaultCO2 = 0.127

// UsualPassage is the salt passage that is reckoned with behind a membrane that was never read (common practice, no
// source: a sound one passes 2 to 4 %).
const UsualPassage = 0.03

// mgPerMeqNaCl is the molar mass of sodium chloride, as which a TDS in ppm is taken (computed from molar masses). Bicarbonate waters
// conduct less for each meq, so that this is good to 25 %.
const mgPerMeqNaCl = 58.44

// LoadMeq is what a litre of water brings to a resin bed in meq: the salt that it takes up, of a TDS in ppm between inlet
// and outlet, and the dissolved carbon dioxide in mmol/L, one meq each, which a TDS meter doesn't see. TDS isn't
// conserved as a load: the better the membrane, the more of the load is carbon dioxide.
//
// Source: ion-exchange stoichiometry (computed).
func LoadMeq(ppm, co2 float64) float64 { return math.Max(0, ppm)/mgPerMeqNaCl + co2 }

// A ResinBed is a cartridge of mixed-bed resin.
type ResinBed struct {
	VolumeL        float64 // 0.6 for a 10-inch cartridge
	CapacityEqPerL float64 // of the mixed bed
	Utilisation    float64 // share used, above 0 up to 1
}

// BedOf is a bed of so many litres of a resin of which nothing more is known.
func BedOf(litres float64) ResinBed {
	return ResinBed{litres, DefaultResinCapacity, DefaultUtilisation}
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

// BedLitres is how much water a bed of so many meq treats at a TDS after the membrane (ppm as NaCl) and a dissolved CO2
// (mmol/L, 0 to 10): capacity / (salt + CO2). The anion side takes both and dies first. A water that carries nothing is
// refused, since no bed would ever be spent by it. The CO2 cuts the life three or four times on hard water.
//
// Source: ion-exchange stoichiometry (computed).
func BedLitres(capacity, ppm, co2 float64) (float64, error) {
	err := first(positive("bed capacity", capacity, 1e5, "meq"), tds("TDS", ppm), within("dissolved CO2", co2, 0, 10, "mmol/L"))
	if err != nil {
		return 0, err
	}
	if err := positive("load of the water", LoadMeq(ppm, co2), 2000, "meq/L"); err != nil {
		return 0, err
	}
	return capacity / LoadMeq(ppm, co2), nil
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

package water

// Factors from conductivity at 25 degC (uS/cm) to what a meter calls ppm TDS, by the scale printed on it.
//
// Source: common practice, no source. True natural waters lie between 0.54 and 0.96 (Hem 1985, from memory).
const (
	FactorNaCl    = 0.5 // sodium chloride scale; 0.45 to 0.56 over its range
	FactorNatural = 0.7 // natural-water scale; 0.60 to 0.88 over its range
)

// Temperature coefficients for KappaAt25Linear, per degC.
const (
	AlphaDefault = 0.020  // the usual setting of a meter (common practice, no source)
	AlphaKCl     = 0.0191 // Standard Methods 2510 B, for the KCl standard (from memory)
)

func tdsFactor(v float64) error { return within("TDS factor", v, 0.4, 1, "ppm per µS/cm") }

// TDSFromConductivity is what a meter with the given factor shows, in ppm, for a conductivity in uS/cm at 25 degC.
// Conductivity 0 to 50000 uS/cm, factor 0.4 to 1.
func TDSFromConductivity(kappa25, factor float64) (float64, error) {
	if err := first(within("conductivity", kappa25, 0, maxTDS, "µS/cm"), tdsFactor(factor)); err != nil {
		return 0, err
	}
	return kappa25 * factor, nil
}

// ConductivityFromTDS is the conductivity in uS/cm at 25 degC behind a meter's ppm; the inverse of TDSFromConductivity.
func ConductivityFromTDS(ppm, factor float64) (float64, error) {
	err := first(tdsFactor(factor), within("TDS", ppm, 0, maxTDS*factor, "ppm"))
	if err != nil {
		return 0, err
	}
	return ppm / factor, nil
}

// KappaAt25Linear refers a conductivity (uS/cm) measured at T degC to 25 degC: kappa/(1 + alpha (T-25)). T 0 to 50,
// alpha 0.01 to 0.03 per degC. It is wrong below about 1 uS/cm, where water conducts by its own ions.
func KappaAt25Linear(kappa, waterC, alpha float64) (float64, error) {
	err := first(within("conductivity", kappa, 0, 200000, "µS/cm"), within("water temperature", waterC, 0, 50, "°C"),
		within("temperature coefficient", alpha, 0.01, 0.03, "per °C"))
	if err != nil {
		return 0, err
	}
	return kappa / (1 + alpha*(waterC-25)), nil
}

// f25 is the factor for whole degrees 0 to 35.
//
// Source: the table of ISO 7888 / EN 27888, at second hand: it was not seen in the standard.
var f25 = [...]float64{
	1.918, 1.857, 1.800, 1.745, 1.693, 1.643, 1.596, 1.551, 1.508, 1.467,
	1.428, 1.390, 1.354, 1.320, 1.287, 1.256, 1.225, 1.196, 1.168, 1.141,
	1.116, 1.091, 1.067, 1.044, 1.021, 1.000, 0.979, 0.959, 0.940, 0.921,
	0.903, 0.886, 0.869, 0.853, 0.837, 0.822,
}

// NaturalWaterFactor is f25, the factor that refers the conductivity of a natural water at T degC to 25 degC, from
// the table of ISO 7888 interpolated between whole degrees (good to 0.001). T 0 to 35 degC.
func NaturalWaterFactor(waterC float64) (float64, error) {
	if err := within("water temperature", waterC, 0, 35, "°C"); err != nil {
		return 0, err
	}
	i := int(waterC)
	if i == len(f25)-1 {
		return f25[i], nil
	}
	part := waterC - float64(i)
	return f25[i]*(1-part) + f25[i+1]*part, nil
}

// KappaAt25Natural refers the conductivity (uS/cm) of tap, ground or surface water at T degC to 25 degC by
// NaturalWaterFactor. The table is meant for about 60 to 1000 uS/cm, and other conductivities are refused: after the
// membrane and for sea water use KappaAt25Linear.
func KappaAt25Natural(kappa, waterC float64) (float64, error) {
	f, err := NaturalWaterFactor(waterC)
	if err := first(within("conductivity of a natural water", kappa, 60, 1000, "µS/cm"), err); err != nil {
		return 0, err
	}
	return kappa * f, nil
}

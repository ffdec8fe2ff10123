package water

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Unit conversions, computed from the definitions of the units.
func TestConversions(t *testing.T) {
	for _, c := range []struct {
		v         float64
		from, to  Unit
		want, tol float64
	}{
		{50, PSI, Bar, 3.44738, 5.1e-6}, {65, PSI, Bar, 4.48159, 5.1e-6}, {40, PSI, Bar, 2.75790, 5.1e-6}, {80, PSI, Bar, 5.51581, 5.1e-6},
		{1, Bar, PSI, 14.503774, 5.1e-7}, {1, Bar, Kilopascal, 100, 1e-12},
		{75, GallonPerDy, LitrePerHr, 11.8294, 5.1e-5}, {100, GallonPerDy, LitrePerDay, 378.54, 5.1e-3}, {1, LitrePerHr, MlPerMinute, 16.6667, 5.1e-5},
		{1, USGallon, Litre, 3.785412, 5.1e-7}, {500, Millilitre, Litre, 0.5, 1e-12},
		{1, Grain, Milligram, 64.79891, 1e-9}, {51, Pound, Kilogram, 23.13, 5.1e-3},
		{1, GrainPerGallon, MgCaCO3, 17.11806, 5.1e-6}, {1, MeqPerLitre, MgCaCO3, 50.04, 1e-9}, {1, MeqPerLitre, GermanDegree, 2.8, 1e-12},
		{1, MeqPerLitre, FrenchDegree, 5, 1e-12}, {1, EqPerLitre, KilogrPerFt3, 21.87, 5.1e-3},
		{53.07, MilliSiemens, MicroSiemens, 53070, 1e-9},
		{60, Fahrenheit, Celsius, 15.5556, 5.1e-5}, {25, Celsius, Fahrenheit, 77, 1e-9}, {-40, Fahrenheit, Celsius, -40, 1e-9},
	} {
		got, err := Convert(c.v, c.from, c.to)
		near(t, string(c.from)+" to "+string(c.to), got, err, c.want, c.tol)
		back, err := Convert(got, c.to, c.from)
		near(t, "back", back, err, c.v, 1e-9*math.Max(1, math.Abs(c.v)))
	}
	for _, c := range []struct {
		v        float64
		from, to Unit
	}{{1, Bar, Litre}, {1, "furlong", Litre}, {1, Litre, "furlong"}, {math.NaN(), Bar, PSI}, {math.Inf(1), Bar, PSI}} {
		if got, err := Convert(c.v, c.from, c.to); err == nil {
			t.Errorf("%v %s to %s gives %v", c.v, c.from, c.to, got)
		}
	}
	for s, want := range map[string]Unit{" GAL ": USGallon, "°F": Fahrenheit, "psi": PSI, "mS/cm": MilliSiemens, "litres": Litre} {
		if got, err := ParseUnit(s); err != nil || got != want {
			t.Errorf("%q parses to %q, %v", s, got, err)
		}
	}
	if _, err := ParseUnit("cup"); err == nil {
		t.Error("cup accepted")
	}
	for alias, u := range aliases {
		if _, ok := units[u]; !ok {
			t.Errorf("alias %q leads to unknown unit %q", alias, u)
		}
	}
}

// ec25_iso7888.csv: the table of ISO 7888 / EN 27888, at second hand, not seen in the standard; linear columns computed.
func TestTemperatureCompensation(t *testing.T) {
	alphas := table(t, "ec25_linear_alpha.csv")
	for _, r := range table(t, "ec25_iso7888.csv") {
		c := r.num(t, "t_c")
		f, err := NaturalWaterFactor(c)
		near(t, "f25", f, err, r.num(t, "f25"), 1e-12)
		for _, a := range alphas {
			want := r.num(t, a["column"])
			got, err := KappaAt25Linear(1, c, a.num(t, "alpha_per_c"))
			near(t, a["column"], got, err, want, 1e-9*want)
		}
	}
	if alphas[0].num(t, "alpha_per_c") != AlphaKCl || alphas[1].num(t, "alpha_per_c") != AlphaDefault {
		t.Error("the constants are not those of the table")
	}
	// Tenths of the same table, at second hand too, within 0.001.
	for _, c := range []struct{ c, f float64 }{{0.5, 1.887}, {10.4, 1.413}, {15.3, 1.246}, {20.2, 1.111}, {34.3, 0.832}} {
		f, err := NaturalWaterFactor(c.c)
		near(t, "tenths", f, err, c.f, 1e-3)
	}
	// 420 uS/cm at 12 degC (computed).
	k, err := KappaAt25Natural(420, 12)
	near(t, "table", k, err, 568.7, 0.051)
	k, err = KappaAt25Linear(420, 12, 0.02)
	near(t, "2 %", k, err, 567.6, 0.051)
	k, err = KappaAt25Linear(420, 12, 0.019)
	near(t, "1.9 %", k, err, 557.8, 0.051)
}

func TestTDSFactor(t *testing.T) {
	// The same water on two scales (common practice, no source): 400 uS/cm is 280 on 0.7 and 200 on 0.5.
	got, err := TDSFromConductivity(400, FactorNatural)
	near(t, "natural-water scale", got, err, 280, 1e-9)
	got, err = TDSFromConductivity(400, FactorNaCl)
	near(t, "NaCl", got, err, 200, 1e-9)
	got, err = ConductivityFromTDS(5, FactorNaCl)
	near(t, "5 ppm", got, err, 10, 1e-12)
}

// CO2 from alkalinity and pH (computed; carbonate equilibrium, Stumm & Morgan).
func TestDissolvedCO2(t *testing.T) {
	for _, c := range []struct{ alk, pH, want float64 }{
		{40, 7.5, 0.0566}, {100, 7.5, 0.1415}, {150, 7.2, 0.4234}, {150, 7.5, 0.2122}, {150, 8, 0.0671}, {200, 7, 0.8948}, {60, 9, 0.0027},
	} {
		got, err := DissolvedCO2(c.alk, c.pH)
		near(t, "CO2", got, err, c.want, 5.1e-5)
	}
}

// Worked cases of a 0.6 L bed at 0.55 eq/L (computed), to the printed litre.
func TestResinLitres(t *testing.T) {
	for _, c := range []struct {
		name         string
		ppm          float64
		scale        SaltScale
		co2, u       float64
		litres, salt float64
	}{
		{"A", 5, AsNaCl, 0, 1, 3857, 3857},
		{"A2", 5, AsCaCO3, 0, 1, 3303, 3303},
		{"B", 5, AsNaCl, 0.212, 0.9, 998, 3471},
		{"C", 2, AsNaCl, 0.050, 0.9, 3526, 8678},
		{"D", 10, AsNaCl, 0.200, 0.9, 800, 1736},
		{"E", 6, AsNaCl, 0.170, 0.85, 1029, 2732},
		{"F", 5, AsNaCl, 0.0143, 0.9, 2974, 3471},
	} {
		bed := ResinBed{0.6, DefaultResinCapacity, c.u}
		got, err := bed.Litres(c.ppm, c.scale, c.co2)
		near(t, c.name, got, err, c.litres, 0.51)
		got, err = bed.Litres(c.ppm, c.scale, 0)
		near(t, c.name+" without CO2", got, err, c.salt, 0.51)
	}
	// What a membrane's rejection of 250 ppm buys: 99 to 90 %, no CO2, all capacity (computed).
	for ppm, want := range map[float64]float64{2.5: 7714, 5: 3857, 7.5: 2571, 10: 1929, 12.5: 1543, 25: 771} {
		got, err := ResinBed{0.6, 0.55, 1}.Litres(ppm, AsNaCl, 0)
		near(t, "leverage", got, err, want, 0.51)
	}
	meq, err := ResinBed{0.6, 0.55, 1}.Capacity()
	near(t, "capacity", meq, err, 330, 1e-9)
	near(t, "as CaCO3", meq*mgCaCO3PerMeq/1000, nil, 16.51, 5.1e-3)
	grams, err := ResinBed{0.6, 0.55, 1}.Grams(5, AsNaCl, 0)
	near(t, "grams as NaCl", grams, err, 0.330*58.44, 1e-9) // 5095 ppm-gallons of the trade
	near(t, "ppm-gallons", grams*1000/litresPerUSGallon, nil, 5095, 0.51)
	// 10 uS/cm is 0.0791 meq/L (computed from limiting conductances).
	m, err := Meq(5, AsMeter)
	near(t, "meter scale", m, err, 0.0791, 5.1e-5)
}

// Ledger of three fills, 103.046 meq of 297.0 used (computed).
func TestResinLedger(t *testing.T) {
	used := 0.0
	for _, fill := range []struct{ litres, ppm, co2 float64 }{{200, 5, 0.10}, {150, 6, 0.10}, {300, 4, 0.05}} {
		m, err := Meq(fill.ppm, AsNaCl)
		if err != nil {
			t.Fatal(err)
		}
		used += fill.litres * (m + fill.co2)
	}
	near(t, "used", used, nil, 103.046, 5.1e-4)
	total, err := ResinBed{0.6, 0.55, 0.9}.Capacity()
	near(t, "total", total, err, 297, 1e-9)
}

// Carbon (computed; derating and chlorine limits common practice, no source).
func TestCarbon(t *testing.T) {
	rated, err := Convert(20000, USGallon, Litre)
	if err != nil {
		t.Fatal(err)
	}
	got, err := CarbonLitres(rated, 1.0, 0.25)
	near(t, "litres", got, err, rated*0.5, 1e-6)
	half, err := Convert(10000, USGallon, Litre)
	if err != nil {
		t.Fatal(err)
	}
	g, err := ChlorineGrams(half, 2)
	near(t, "grams", g, err, 75.7, 0.051)
	for _, c := range []struct{ litres, flow, minutes float64 }{{0.5, 59, 0.51}, {1, 59, 1.02}, {2.2, 59, 2.24}, {0.5, 24, 1.25}} {
		m, err := ContactMinutes(c.litres, c.flow)
		near(t, "contact", m, err, c.minutes, 5.1e-3)
	}
	for chlorine, want := range map[float64]float64{1: 650, 0.1: 65} {
		e, err := ChlorineExposure(chlorine, 650)
		near(t, "exposure", e, err, want, 1e-9)
	}
}

func TestFreshwaterRefusals(t *testing.T) {
	bed := ResinBed{0.6, 0.55, 0.9}
	calls := map[string]func() error{
		"factor":            func() error { _, err := TDSFromConductivity(400, 0.2); return err },
		"TDS negative":      func() error { _, err := ConductivityFromTDS(-1, 0.5); return err },
		"alpha":             func() error { _, err := KappaAt25Linear(400, 20, 0.2); return err },
		"too hot for table": func() error { _, err := NaturalWaterFactor(36); return err },
		"NaN temperature":   func() error { _, err := NaturalWaterFactor(math.NaN()); return err },
		"permeate by table": func() error { _, err := KappaAt25Natural(10, 20); return err },
		"sea by table":      func() error { _, err := KappaAt25Natural(48000, 20); return err },
		"pH":                func() error { _, err := DissolvedCO2(150, 5); return err },
		"empty water":       func() error { _, err := bed.Litres(0, AsNaCl, 0); return err },
		"no TDS, grams":     func() error { _, err := bed.Grams(0, AsNaCl, 0.2); return err },
		"empty bed":         func() error { _, err := ResinBed{}.Litres(5, AsNaCl, 0); return err },
		"odd scale":         func() error { _, err := Meq(5, SaltScale(9)); return err },
		"CO2 negative":      func() error { _, err := bed.Litres(5, AsNaCl, -1); return err },
		"no chlorine":       func() error { _, err := CarbonLitres(10000, 0, 0.3); return err },
		"derating":          func() error { _, err := CarbonLitres(10000, 1, 1.5); return err },
		"chlorine":          func() error { _, err := ChlorineGrams(100, 50); return err },
		"contact":           func() error { _, err := ContactMinutes(1, 0); return err },
		"exposure":          func() error { _, err := ChlorineExposure(0.1, -1); return err },
	}
	for name, call := range calls {
		refused(t, name, call())
	}
}

func TestFreshwaterProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ppm := rapid.Float64Range(0.1, 500).Draw(t, "ppm")
		co2 := rapid.Float64Range(0, 2).Draw(t, "co2")
		step := rapid.Float64Range(0.01, 1).Draw(t, "step")
		bed := ResinBed{0.6, 0.55, 0.9}
		l0, err := bed.Litres(ppm, AsNaCl, co2)
		l1, _ := bed.Litres(ppm+step, AsNaCl, co2)
		l2, _ := bed.Litres(ppm, AsNaCl, co2+step)
		if err != nil || !(l1 < l0 && l2 < l0) {
			t.Fatalf("life does not fall with load: %v %v %v %v", l0, l1, l2, err)
		}
		factor := rapid.Float64Range(0.4, 1).Draw(t, "factor")
		k, err := ConductivityFromTDS(ppm, factor)
		if err != nil {
			t.Fatal(err)
		}
		back, err := TDSFromConductivity(k, factor)
		if err != nil || math.Abs(back-ppm) > 1e-9 {
			t.Fatalf("TDS %v -> %v -> %v, %v", ppm, k, back, err)
		}
		c := rapid.Float64Range(0, 34).Draw(t, "c")
		f0, _ := NaturalWaterFactor(c)
		f1, _ := NaturalWaterFactor(c + step)
		if !(f1 < f0) {
			t.Fatalf("f25 does not fall at %v: %v %v", c, f0, f1)
		}
	})
}

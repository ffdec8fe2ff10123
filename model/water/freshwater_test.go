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
		co2, u       float64
		litres, salt float64
	}{
		{"A", 5, 0, 1, 3857, 3857},
		{"B", 5, 0.212, 0.9, 998, 3471},
		{"C", 2, 0.050, 0.9, 3526, 8678},
		{"D", 10, 0.200, 0.9, 800, 1736},
		{"E", 6, 0.170, 0.85, 1029, 2732},
		{"F", 5, 0.0143, 0.9, 2974, 3471},
	} {
		bed, _ := ResinBed{0.6, DefaultResinCapacity, c.u}.Capacity()
		got, err := BedLitres(bed, c.ppm, c.co2)
		near(t, c.name, got, err, c.litres, 0.51)
		got, err = BedLitres(bed, c.ppm, 0)
		near(t, c.name+" without CO2", got, err, c.salt, 0.51)
	}
	// What a membrane's rejection of 250 ppm buys: 99 to 90 %, no CO2, all capacity (computed).
	for ppm, want := range map[float64]float64{2.5: 7714, 5: 3857, 7.5: 2571, 10: 1929, 12.5: 1543, 25: 771} {
		got, err := BedLitres(330, ppm, 0)
		near(t, "leverage", got, err, want, 0.51)
	}
	meq, err := ResinBed{0.6, 0.55, 1}.Capacity()
	near(t, "capacity", meq, err, 330, 1e-9)
	near(t, "as CaCO3", meq*mgCaCO3PerMeq/1000, nil, 16.51, 5.1e-3)
}

// The usual bed behind a membrane of 5 ppm, by the carbon dioxide of the tap: litres, and the grams of TDS that were in
// them, which are no measure of a bed (computed by hand: 297 meq over 5/58.44 and 3/58.44 and 12/58.44 plus the gas).
func TestGramsAreNoMeasureOfABed(t *testing.T) {
	for _, c := range []struct{ ppm, co2, litres, grams float64 }{
		{5, DefaultCO2, 1397, 7}, {5, 0.21, 1005, 5}, {5, 0.05, 2191, 11}, {3, 0.21, 1136, 3.4}, {12, DefaultCO2, 894, 10.7},
	} {
		litres, err := BedLitres(297, c.ppm, c.co2)
		near(t, "litres", litres, err, c.litres, 1)
		near(t, "grams", litres*c.ppm/1000, nil, c.grams, 0.06)
	}
	if got := LoadMeq(-3, 0.1); got != 0.1 {
		t.Errorf("an outlet above the inlet takes %v meq off", got)
	}
}

// Ledger of three fills, 103.046 meq of 297.0 used (computed).
func TestResinLedger(t *testing.T) {
	used := 0.0
	for _, fill := range []struct{ litres, ppm, co2 float64 }{{200, 5, 0.10}, {150, 6, 0.10}, {300, 4, 0.05}} {
		used += fill.litres * LoadMeq(fill.ppm, fill.co2)
	}
	near(t, "used", used, nil, 103.046, 5.1e-4)
	total, err := BedOf(0.6).Capacity()
	near(t, "total", total, err, 297, 1e-9)
}

// Carbon (computed; chlorine limits common practice, no source).
func TestCarbon(t *testing.T) {
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
	calls := map[string]func() error{
		"pH":           func() error { _, err := DissolvedCO2(150, 5); return err },
		"empty water":  func() error { _, err := BedLitres(297, 0, 0); return err },
		"empty bed":    func() error { _, err := ResinBed{}.Capacity(); return err },
		"spent bed":    func() error { _, err := BedLitres(0, 5, 0); return err },
		"CO2 negative": func() error { _, err := BedLitres(297, 5, -1); return err },
		"contact":      func() error { _, err := ContactMinutes(1, 0); return err },
		"exposure":     func() error { _, err := ChlorineExposure(0.1, -1); return err },
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
		l0, err := BedLitres(297, ppm, co2)
		l1, _ := BedLitres(297, ppm+step, co2)
		l2, _ := BedLitres(297, ppm, co2+step)
		if err != nil || !(l1 < l0 && l2 < l0) {
			t.Fatalf("life does not fall with load: %v %v %v %v", l0, l1, l2, err)
		}
	})
}

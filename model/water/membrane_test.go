package water

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"brine/wrasse/testdata"
)

// Textbook definition of rejection and salt passage (ASTM D6161, D4194 named, not seen); values are arithmetic.
func TestSaltPassageAndRejection(t *testing.T) {
	for _, c := range []struct{ tap, membrane, rejection float64 }{
		{250, 5, 98}, {250, 10, 96}, {250, 25, 90}, {400, 12, 97}, {120, 4, 96.667},
	} {
		sp, err := SaltPassage(c.tap, c.membrane)
		near(t, "salt passage", sp, err, 1-c.rejection/100, 5.1e-6)
	}
	for waterC, want := range map[float64]float64{5: 1, 20: 1, 30: 1 / 1.344} { // 1.03^10 = 1.344: a third more is normal
		factor, err := WarmWaterFactor(waterC)
		near(t, "factor of warm water", factor, err, want, 1e-4)
	}
}

// Resolution of a meter (computed): feed 250 +/- 5, after membrane 5 +/- 1, 0.5, 0.1 ppm.
func TestSaltPassageSpan(t *testing.T) {
	for _, c := range []struct{ off, lo, hi float64 }{{1, 0.0157, 0.0245}, {0.5, 0.0176, 0.0224}, {0.1, 0.0192, 0.0208}} {
		lo, hi, err := SaltPassageSpan(250, 5, 5, c.off)
		near(t, "lo", lo, err, c.lo, 5.1e-5)
		near(t, "hi", hi, err, c.hi, 5.1e-5)
	}
}

// Waste ratio, recovery, log-mean factor, feed litres (computed).
func TestRecoveryTable(t *testing.T) {
	for _, c := range []struct{ w, recovery, logMean, feed float64 }{
		{1, 50, 1.3863, 200}, {1.5, 40, 1.2771, 250}, {2, 33.33, 1.2164, 300},
		{3, 25, 1.1507, 400}, {4, 20, 1.1157, 500}, {5, 16.67, 1.0939, 600},
	} {
		y, err := Recovery(c.w)
		near(t, "recovery", 100*y, err, c.recovery, 5.1e-3)
		m, err := FeedBrinePPM(1, y)
		near(t, "log-mean factor", m, err, c.logMean, 5.1e-5)
		feed, err := FeedLitres(100, c.w)
		near(t, "feed", feed, err, c.feed, 1e-9)
	}
	w, err := WasteRatio(11.842, 47.368)
	near(t, "waste ratio", w, err, 4, 1e-9)
}

// Mass balance of the waste (computed).
func TestBrine(t *testing.T) {
	for _, c := range []struct{ y, want float64 }{{0.2, 311.25}, {0.25, 331.667}, {0.5, 495}} {
		b, err := BrinePPM(250, 5, c.y)
		near(t, "brine", b, err, c.want, 5.1e-4)
	}
	fb, err := FeedBrinePPM(250, 0.2)
	near(t, "feed-brine", fb, err, 278.929, 5.1e-4)
}

// ro_tcf.csv: form A and a correction chart of thin-film elements, both from memory.
func TestTemperatureCorrection(t *testing.T) {
	published := 0
	for _, r := range testdata.Table(t, "reference/ro_tcf.csv") {
		c := r.Number(t, "t_c")
		a, err := TCF(c)
		want := r.Number(t, "tcf_arrhenius")
		near(t, "form A", a, err, want, 1e-9*want)
		if r["published_correction"] != "" {
			published++
			near(t, "published chart", 1/a, nil, r.Number(t, "published_correction"), 5e-4)
		}
	}
	if published < 16 {
		t.Errorf("%d published corrections, want 16 or more", published)
	}
	for _, c := range []struct{ c, a float64 }{{2, 0.4284}, {12, 0.6299}, {35, 1.3333}} {
		a, err := TCF(c.c)
		near(t, "form A", a, err, c.a, 5.1e-5)
	}
}

// ro_normalised_flow.csv: equation of ASTM D4516, from memory.
func TestNormalisedFlowTable(t *testing.T) {
	for _, r := range testdata.Table(t, "reference/ro_normalised_flow.csv") {
		tcf := TCF
		if r["tcf_form"] == "pow103" {
			tcf = func(c float64) (float64, error) { return math.Pow(1.03, c-25), nil }
		}
		pressures := func(suffix string) Pressures {
			return Pressures{r.Number(t, "p_feed_"+suffix), r.Number(t, "dp_"+suffix), r.Number(t, "p_perm_"+suffix),
				r.Number(t, "pi_fb_"+suffix), r.Number(t, "pi_p_"+suffix)}
		}
		a, err := NetDrivingPressure(pressures("a"))
		near(t, r["id"]+" NDP a", a, err, r.Number(t, "ndp_a"), 1e-9)
		s, err := NetDrivingPressure(pressures("s"))
		near(t, r["id"]+" NDP s", s, err, r.Number(t, "ndp_s"), 1e-9)
		ta := must(tcf(r.Number(t, "t_actual_c")))
		ts := must(tcf(r.Number(t, "t_std_c")))
		q, err := NormalisedFlow(r.Number(t, "q_actual"), a, ta, s, ts)
		want := r.Number(t, "q_standardised")
		near(t, r["id"], q, err, want, 1e-9*want)
	}
}

// Osmotic pressure, D4516 form (coefficient from memory, cross-computed), at 25 degC, printed to four decimals.
func TestOsmoticPressure(t *testing.T) {
	for _, c := range []struct{ ppm, bar, tolerance float64 }{
		{100, 0.0791, 5.1e-5}, {250, 0.1979, 5.1e-5}, {500, 0.3958, 5.1e-5}, {1000, 0.7921, 5.1e-5},
		{2000, 1.5858, 5.1e-5}, {5000, 3.9763, 5.1e-5}, {35000, 28.700, 5.1e-4},
	} {
		got, err := OsmoticPressure(c.ppm, 25)
		near(t, "osmotic pressure", got, err, c.bar, c.tolerance)
	}
	// An independent form, from memory: 1.12 (273+T) sum of molalities in psi gives 0.1969 bar for 250 mg/L; the two
	// agree to 0.6 %.
	got, err := OsmoticPressure(250, 25)
	near(t, "against the molal sum", got, err, 0.1969, 0.006*0.1969)
}

// The worked example of a winter reading against the settled reference (all computed with the D4516 forms).
func TestWorkedExample(t *testing.T) {
	type state struct{ p, dp, c, tap, membrane, product, waste float64 }
	evaluate := func(s state) (ndp, factor, brine float64) {
		t.Helper()
		w := must(WasteRatio(s.product, s.waste))
		y := must(Recovery(w))
		brine = must(FeedBrinePPM(s.tap, y))
		feed := must(OsmoticPressure(brine, s.c))
		product := must(OsmoticPressure(s.membrane, s.c))
		ndp = must(NetDrivingPressure(Pressures{s.p, s.dp, 0, feed, product}))
		factor = must(TCF(s.c))
		return ndp, factor, brine
	}
	reference := state{4, 0.1, 25, 250, 5, 11.8, 47.2}
	actual := state{3.6, 0.15, 12, 280, 7, 5.2, 22}
	ndpS, tcfS, _ := evaluate(reference)
	ndpA, tcfA, brine := evaluate(actual)
	near(t, "reference NDP", ndpS, nil, 3.733181, 5.1e-7)
	near(t, "actual NDP", ndpA, nil, 3.295049, 5.1e-7)
	near(t, "feed-brine", brine, nil, 310.7541, 5.1e-5)
	q, err := NormalisedFlow(5.2, ndpA, tcfA, ndpS, tcfS)
	near(t, "flow", q, err, 9.3536, 5.1e-5)
	near(t, "change", 100*(q/11.8-1), nil, -20.73, 5.1e-3)
}

// The same example as the normalised-flow gauge takes it: no drop, no product osmotic pressure. The expected value is
// worked by hand: NDP 4-0.220776 and 3.6-0.235248, form A factors 1 and 0.629857.
func TestNormalisedFlowPercent(t *testing.T) {
	was, is := 47.2, 22.0
	baseline := FlowSet{11.8, &was, 4, 25, 250}
	now := FlowSet{5.2, &is, 3.6, 12, 280}
	want := 100 * 5.2 / 11.8 * (4 - 0.220776) / ((3.6 - 0.235248) * 0.629857)
	got, err := NormalisedFlowPercent(now, baseline)
	near(t, "percent of baseline", got, err, want, 1e-3)
	same, err := NormalisedFlowPercent(baseline, baseline)
	near(t, "baseline against itself", same, err, 100, 1e-12)
	assumed := baseline
	assumed.WasteLH = nil // a recovery of 0.2 is what 4 to 1 is
	got, err = NormalisedFlowPercent(assumed, baseline)
	near(t, "waste not measured", got, err, 100, 1e-9)
}

// A 75 gpd element rated at 65 psi, used at 50 psi and 12 degC, is healthy at 35 gpd (computed).
func TestExpectedFlow(t *testing.T) {
	tcf := must(TCF(12))
	psi := func(v float64) float64 {
		return must(Convert(v, PSI, Bar))
	}
	got, err := ExpectedFlow(75, psi(50-3.1), psi(65-2.5), tcf)
	near(t, "gpd", got, err, 35.448, 5.1e-4)
	lh, err := Convert(got, GallonPerDy, LitrePerHr)
	near(t, "L/h", lh, err, 5.591, 5.1e-4)
	// Flow is linear in the driving pressure, the form of ASTM D4516 (from memory).
	for _, times := range []float64{0.5, 1, 2, 2.5} {
		got, err := ExpectedFlow(80, 2*times, 2, 1)
		near(t, "linear in pressure", got, err, 80*times, 1e-9)
	}
}

func TestMembraneRefusals(t *testing.T) {
	calls := map[string]func() error{
		"tap 0":               func() error { _, err := SaltPassage(0, 5); return err },
		"membrane negative":   func() error { _, err := SaltPassage(250, -1); return err },
		"tap NaN":             func() error { _, err := SaltPassage(math.NaN(), 5); return err },
		"boiling":             func() error { _, err := WarmWaterFactor(60); return err },
		"meter error too big": func() error { _, _, err := SaltPassageSpan(5, 5, 1, 1); return err },
		"no product flow":     func() error { _, err := WasteRatio(0, 40); return err },
		"ratio out of reason": func() error { _, err := WasteRatio(0.1, 400); return err },
		"ratio negative":      func() error { _, err := FeedLitres(10, -1); return err },
		"no recovery":         func() error { _, err := FeedBrinePPM(250, 0); return err },
		"permeate above feed": func() error { _, err := BrinePPM(250, 260, 0.2); return err },
		"freezing":            func() error { _, err := TCF(-1); return err },
		"osmotic of brine":    func() error { _, err := OsmoticPressure(60000, 25); return err },
		"no driving pressure": func() error { _, err := NetDrivingPressure(Pressures{FeedBar: 1, ProductBar: 1}); return err },
		"pressure beyond":     func() error { _, err := NetDrivingPressure(Pressures{FeedBar: 30}); return err },
		"prefilter gauge":     func() error { _, err := PrefilterDrop(-1, 3); return err },
		"normalised factor 0": func() error { _, err := NormalisedFlow(5, 3, 0, 3, 1); return err },
		"expected NDP 0":      func() error { _, err := ExpectedFlow(75, 0, 3, 1); return err },
		"set without flow":    func() error { _, err := NormalisedFlowPercent(FlowSet{}, FlowSet{11, nil, 4, 25, 250}); return err },
		"set with cold ice": func() error {
			_, err := NormalisedFlowPercent(FlowSet{9, nil, 4, -5, 250}, FlowSet{11, nil, 4, 25, 250})
			return err
		},
	}
	for name, call := range calls {
		refused(t, name, call())
	}
}

// Cold and low pressure alone never change the normalised flow of a membrane that follows the model.
func TestNormalisedFlowSeesThroughColdAndPressure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		baseline := FlowSet{12, nil, 4, 25, 250}
		now := FlowSet{1, nil, rapid.Float64Range(1.5, 8).Draw(t, "bar"), rapid.Float64Range(1, 40).Draw(t, "c"), rapid.Float64Range(50, 1500).Draw(t, "tap")}
		ndp, tcf, err := now.strength()
		if err != nil {
			t.Skip("no driving pressure")
		}
		ndpWas, tcfWas, err := baseline.strength()
		if err != nil {
			t.Fatal(err)
		}
		now.ProductLH = 12 * (ndp * tcf) / (ndpWas * tcfWas)
		got, err := NormalisedFlowPercent(now, baseline)
		if err != nil || math.Abs(got-100) > 1e-9 {
			t.Fatalf("got %v, %v", got, err)
		}
	})
}

func TestTemperatureFactorsRise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(0, 44).Draw(t, "c")
		lo, err1 := TCF(c)
		hi, err2 := TCF(c + 0.5)
		if err1 != nil || err2 != nil || lo >= hi {
			t.Fatalf("at %v: %v, %v", c, lo, hi)
		}
	})
}

package schedule

import (
	"math"
	"testing"

	"brine/wrasse/model"
)

// watch is a reading clock of a derived gauge.
func watch(gauge model.ID, limit float64, bad model.Side) model.Clock {
	return model.Clock{Kind: model.ClockReading, Gauge: gauge, Limit: limit, Bad: bad}
}

func values(s *Standing) []float64 {
	var out []float64
	for _, p := range s.Clocks[0].Recent {
		out = append(out, p.Value)
	}
	return out
}

func equalValues(t *testing.T, got []float64, want ...float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("got %v, want %v", got, want)
	}
	for i := range got {
		if math.Abs(got[i]-want[i]) > 1e-9 {
			t.Errorf("got %v, want %v", got, want)
		}
	}
}

func TestRejection(t *testing.T) {
	start := func() *diary {
		return newDiary(t).chore(clocks(watch(model.Rejection, 92, model.SideBelow))).tick("2025-03-01", "")
	}
	t.Run("100 (1 - after / tap); warm water excuses, cold never accuses", func(t *testing.T) {
		d := start()
		for _, on := range []string{"2025-03-02", "2025-03-09", "2025-04-09", "2025-04-23", "2025-04-24"} {
			d.read(on, "tap", 200).read(on, "mem", 10)
		}
		d.read("2025-03-09", "temp", 10).read("2025-04-09", "temp", 45).read("2025-04-09", "temp", 26)
		warm := 100 * (1 - 0.05*math.Pow(1.03, -6))
		// The last temperature of a date counts, for 14 days.
		equalValues(t, values(d.job("2025-05-01")), 95, 95, warm, warm, 95)
	})
	t.Run("a temperature that no water has excuses nothing", func(t *testing.T) {
		d := start().read("2025-03-02", "tap", 200).read("2025-03-02", "mem", 10).read("2025-03-02", "temp", 77)
		equalValues(t, values(d.job("2025-03-20")), 95)
	})
	t.Run("against a limit, whole ppm leave half a ppm to the membrane", func(t *testing.T) {
		for _, c := range []struct {
			name     string
			tap, mem float64
			bad      model.Side
			crossed  bool
		}{
			{"100 (1 - 17/200) is 91.5, but 16.5/200.5 is 91.77", 200, 17, model.SideBelow, true},
			{"100 (1 - 16.5/200) is 91.75, and tenths were read", 200, 16.5, model.SideBelow, true},
			{"100 (1 - 9/112) is 91.96, but 8.5/112.5 is 92.4", 112, 9, model.SideBelow, false},
			{"the same of a tap read in tenths", 112.1, 9.02, model.SideBelow, true},
			{"100 (1 - 8/101) is 92.08, but 8.5/100.5 is 91.54", 101, 8, model.SideAbove, false},
			{"100 (1 - 6/101) is 94.06, 6.5/100.5 is 93.5", 101, 6, model.SideAbove, true},
			{"nothing behind the membrane", 5, 0, model.SideBelow, false},
		} {
			d := newDiary(t).chore(clocks(watch(model.Rejection, 92, c.bad))).tick("2025-03-01", "")
			s := d.read("2025-03-02", "tap", c.tap).read("2025-03-02", "mem", c.mem).job("2025-03-20")
			if got := s.Clocks[0].Crossed; got != c.crossed {
				t.Errorf("%s: crossed %v", c.name, got)
			}
			equalValues(t, values(s), 100*(1-c.mem/c.tap)) // for the eye, as it was read
		}
	})
	t.Run("only with a tap reading of the date", func(t *testing.T) {
		d := start().read("2025-03-02", "tap", 200).read("2025-03-03", "mem", 10)
		equalValues(t, values(d.job("2025-03-20")))
	})
	t.Run("one value a date, of the last readings, and creep counts nowhere", func(t *testing.T) {
		d := start().read("2025-03-02", "mem", 90).read("2025-03-02", "mem", 10).readEarly("2025-03-02", "mem", 150, 2)
		d.read("2025-03-02", "tap", 100).read("2025-03-02", "tap", 200).readEarly("2025-03-02", "tap", 900, 2)
		equalValues(t, values(d.job("2025-03-20")), 95)
	})
	t.Run("within a date, the cycle of the after-membrane reading", func(t *testing.T) {
		d := newDiary(t).chore(clocks(watch(model.Rejection, 92, model.SideBelow), lasts("100d")))
		d.read("2025-03-02", "mem", 40).read("2025-03-03", "mem", 40).tick("2025-03-03", "light").read("2025-03-03", "mem", 10)
		d.read("2025-03-02", "tap", 200).read("2025-03-03", "tap", 200)
		s := d.job("2025-03-20")
		equalValues(t, values(s), 95)
		// 80 % on both dates of the cycle that ended: a confirmed crossing from the 2nd.
		if e := s.Clocks[1].Evidence; e.FailedAt != 1 || e.FailAges[0].Value != 60 {
			t.Errorf("got %+v", e)
		}
	})
	t.Run("two dates confirm", func(t *testing.T) {
		d := start().read("2025-03-02", "tap", 200).read("2025-03-02", "mem", 40).read("2025-03-02", "mem", 41)
		if c := d.job("2025-03-20").Clocks[0]; !c.Crossed || c.Confirmed {
			t.Errorf("one date: crossed %v, confirmed %v", c.Crossed, c.Confirmed)
		}
		d.read("2025-03-05", "tap", 200).read("2025-03-05", "mem", 40)
		if c := d.job("2025-03-20").Clocks[0]; !c.Confirmed || c.Since.String() != "2025-03-02" {
			t.Errorf("two dates: confirmed %v since %v", c.Confirmed, c.Since)
		}
	})
	t.Run("exactly at the threshold is not beyond", func(t *testing.T) {
		d := start().read("2025-03-02", "tap", 156.25).read("2025-03-02", "mem", 12.5) // 100 (1 - 12.5/156.25) = 92
		if c := d.job("2025-03-20").Clocks[0]; c.Crossed {
			t.Error("crossed")
		}
	})
	t.Run("water stronger behind the membrane than before it is beyond", func(t *testing.T) {
		d := start().read("2025-03-02", "tap", 10).read("2025-03-02", "mem", 12)
		equalValues(t, values(d.job("2025-03-20")), -20)
	})
}

func TestWasteRatioAndPrefilterDrop(t *testing.T) {
	d := newDiary(t).chore(clocks(watch(model.WasteRatio, 5, model.SideAbove))).tick("2025-03-01", "")
	d.read("2025-03-02", "flow", 8).read("2025-03-02", "waste", 32).read("2025-03-03", "flow", 0).read("2025-03-03", "waste", 32)
	equalValues(t, values(d.job("2025-03-20")), 4)

	d = newDiary(t).chore(clocks(watch(model.PrefilterDrop, 0.5, model.SideAbove))).tick("2025-03-01", "")
	d.read("2025-03-02", "line", 3.5).read("2025-03-02", "feed", 3.25).read("2025-03-03", "line", 3.5)
	equalValues(t, values(d.job("2025-03-20")), 0.25)
}

func TestABlockedMembraneWastesBeyondAnyThreshold(t *testing.T) {
	d := newDiary(t).chore(clocks(watch(model.WasteRatio, 5, model.SideAbove))).tick("2025-03-01", "")
	d.read("2025-03-02", "flow", 0.25).read("2025-03-02", "waste", 40).read("2025-03-04", "flow", 0.2).read("2025-03-04", "waste", 40)
	s := d.job("2025-03-20")
	equalValues(t, values(s), 160, 200)
	if c := s.Clocks[0]; !c.Confirmed || c.Since.String() != "2025-03-02" {
		t.Errorf("confirmed %v since %v", c.Confirmed, c.Since)
	}
}

// set writes a complete set of readings for the normalised flow.
func (d *diary) set(on string, flow, bar, degC, ppm float64) *diary {
	return d.read(on, "flow", flow).read(on, "feed", bar).read(on, "temp", degC).read(on, "tap", ppm)
}

func TestNormalisedFlow(t *testing.T) {
	clock := watch(model.NormalisedFlow, 85, model.SideBelow)
	t.Run("cleared of cold, in the form of ASTM D4516", func(t *testing.T) {
		// Two sets of one pressure and one tap, 25 and 12 degC: q (NDP_s TCF_s)/(NDP_a TCF_a), with the osmotic pressure
		// of the log-mean feed at the assumed recovery, 250 ln(1/0.8)/0.2 = 278.929 ppm, and TCF(12) = exp(3020 (1/298 - 1/285)).
		d := newDiary(t).chore(clocks(clock), func(c *model.Chore) { c.Work = model.WorkClean })
		d.set("2025-03-02", 11.8, 4, 25, 250).set("2025-04-02", 5.2, 4, 12, 250)
		osmotic := func(degC float64) float64 {
			c := 250 * math.Log(1/0.8) / 0.2
			return 0.2654 * c * (degC + 273.15) / (1000 - c/1000) / 100
		}
		want := 100 * 5.2 / 11.8 * (4 - osmotic(25)) / (4 - osmotic(12)) / math.Exp(3020*(1/298.0-1/285.0))
		s := d.job("2025-05-01")
		equalValues(t, values(s), 100, want)
		if c := s.Clocks[0]; !c.FirstEver || c.Baseline.String() != "2025-03-02" {
			t.Errorf("baseline %v, first ever %v", c.Baseline, c.FirstEver)
		}
	})
	t.Run("the baseline is the first set two days after the renewal", func(t *testing.T) {
		d := newDiary(t).chore(clocks(clock))
		d.set("2025-02-01", 6, 4, 20, 250).tick("2025-03-01", "")
		d.set("2025-03-02", 9, 4, 20, 250).set("2025-03-03", 10, 4, 20, 250).set("2025-04-01", 8, 4, 20, 250)
		s := d.job("2025-05-01")
		equalValues(t, values(s), 90, 100, 80)
		if c := s.Clocks[0]; c.FirstEver || c.Baseline.String() != "2025-03-03" {
			t.Errorf("baseline %v, first ever %v", c.Baseline, c.FirstEver)
		}
		equalValues(t, values(d.job("2025-03-02"))) // no baseline yet
	})
	t.Run("the membrane's pressure, else the line's; a missing waste flow is a recovery of 0.2", func(t *testing.T) {
		d := newDiary(t).chore(clocks(clock))
		d.set("2025-02-01", 10, 4, 20, 250).read("2025-02-01", "line", 9)
		d.read("2025-02-09", "flow", 10).read("2025-02-09", "line", 4).read("2025-02-09", "temp", 20).read("2025-02-09", "tap", 250).read("2025-02-09", "waste", 40)
		d.read("2025-02-19", "flow", 10).read("2025-02-19", "line", 4).read("2025-02-19", "temp", 20) // no tap
		equalValues(t, values(d.job("2025-05-01")), 100, 100)
	})
}

func TestDriftIsSeenBeforeTheThreshold(t *testing.T) {
	// Eight readings with mean 2 and sample deviation 0.5345; then three at 4: z = 2.4, 2.72, 2.976 against bounds of
	// 2 + 2.7 * 0.5345 * 0.2 * sqrt(1 + 0.64 + ...), which are 2.289, 2.370, 2.414.
	d := newDiary(t).chore(clocks(watch("prod", 10, model.SideAbove)), func(c *model.Chore) { c.Work = model.WorkClean })
	for i, v := range []float64{1, 2, 2, 2, 2, 2, 2, 3, 4, 4, 4} {
		d.did(date(t, "2025-03-01").AddDays(3*i).String(), model.Reading{Gauge: "prod", Value: v})
	}
	c := d.job("2025-04-05").Clocks[0]
	if c.Drift == nil || !c.Drift.Up || c.Drift.Mean != 2 || c.Drift.Since.String() != "2025-03-25" || math.Abs(c.Drift.Value-2.976) > 1e-9 {
		t.Errorf("drift %+v", c.Drift)
	}
	if d := d.round("2025-04-05").Drift("prod", 0); d == nil || d.Since.String() != "2025-03-25" {
		t.Errorf("drift of the gauge: %+v", d)
	}
	// Away from the threshold is no drift of the clock.
	d = newDiary(t).chore(clocks(watch("prod", 0, model.SideBelow)))
	for i, v := range []float64{1, 2, 2, 2, 2, 2, 2, 3, 4, 4, 4} {
		d.did(date(t, "2025-03-01").AddDays(3*i).String(), model.Reading{Gauge: "prod", Value: v})
	}
	if c := d.job("2025-04-05").Clocks[0]; c.Drift != nil {
		t.Errorf("drift %+v", c.Drift)
	}
}

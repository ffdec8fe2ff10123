package schedule

import (
	"testing"

	"brine/wrasse/model"
)

func TestCalendarClock(t *testing.T) {
	for _, c := range []struct {
		name           string
		clock          model.Clock
		tick           string
		planned, limit string
	}{
		// 30 / g with g(0.20) = 0.827866: 36.24 days.
		{"a rule plans itself; its median is longer", every("30d"), "2025-03-01", "2025-03-31", "2025-04-06"},
		// 30 * 0.827866 = 24.84 days.
		{"a life plans earlier; its median is the life", lasts("30d"), "2025-03-01", "2025-03-26", "2025-03-31"},
		{"a month is clamped to the month's end", every("1mo"), "2025-01-31", "2025-02-28", "2025-03-06"},
		{"a year from a leap day", every("1y"), "2024-02-29", "2025-02-28", "2025-05-15"},
		{"weeks", every("2w"), "2025-03-01", "2025-03-15", "2025-03-18"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newDiary(t).chore(clocks(c.clock)).tick(c.tick, "").job("2025-03-10")
			equalDate(t, "planned", s.Planned, c.planned)
			equalDate(t, "limit", s.Limit, c.limit)
		})
	}
}

func TestPlannedQuantileFollowsTheConsequence(t *testing.T) {
	// 100 * g(q), g as the method prints it: 0.895, 0.828, 0.730.
	for consequence, days := range map[int]string{1: "2025-03-31", 2: "2025-03-25", 3: "2025-03-15"} {
		s := newDiary(t).chore(clocks(lasts("100d")), func(c *model.Chore) { c.Consequence = consequence }).job("2025-01-02")
		want := date(t, "2025-01-01").AddDays(map[int]int{1: 90, 2: 83, 3: 73}[consequence])
		if s.Planned != want {
			t.Errorf("consequence %d: planned %v, want %v (%s)", consequence, s.Planned, want, days)
		}
	}
}

func TestUsageClock(t *testing.T) {
	use := func(d *diary) *diary {
		return d.tick("2025-03-01", "").
			use("2025-03-01", "water", 40). // after the tick, so in its cycle; opens the record
			use("2025-03-11", "water", 30).
			use("2025-03-21", "water", 30)
	}
	t.Run("an amount that was reached", func(t *testing.T) {
		s := use(newDiary(t).chore(clocks(everyUsed("water", 70)))).job("2025-04-01")
		equalNumber(t, "used", s.Clocks[0].Used, 100)
		equalDate(t, "planned", s.Planned, "2025-03-11")
		equalDate(t, "limit", s.Limit, "2025-03-21") // 70/0.828 = 84.5
	})
	t.Run("an amount ahead, at the present rate", func(t *testing.T) {
		// On 2025-03-21, 20 days into the record: sum(q w) = 30 * 2^(-10/60) + 30 = 56.7270; W = 60/ln 2 * (1 - 2^(-20/60))
		// = 17.8576; rate 3.17662 a day; (150 - 100)/3.17662 = 15.74, so 16 days.
		s := use(newDiary(t).chore(clocks(everyUsed("water", 150)))).job("2025-03-21")
		near(t, "rate", "3.17662", s.Clocks[0].Rate, 1e-5)
		equalDate(t, "planned", s.Planned, "2025-04-06")
	})
	t.Run("feed ratio multiplies what was used and the rate", func(t *testing.T) {
		clock := everyUsed("water", 450)
		clock.FeedRatio = 2
		s := use(newDiary(t).chore(clocks(clock))).job("2025-03-21")
		equalNumber(t, "used", s.Clocks[0].Used, 300)
		near(t, "rate", "9.52987", s.Clocks[0].Rate, 1e-5)
		equalDate(t, "planned", s.Planned, "2025-04-06")
	})
	t.Run("a declared rate with no entry", func(t *testing.T) {
		s := newDiary(t).chore(clocks(everyUsed("declared", 45))).tick("2025-03-01", "").job("2025-03-02")
		equalNumber(t, "rate", s.Clocks[0].Rate, 10)
		equalDate(t, "planned", s.Planned, "2025-03-07")
	})
	t.Run("no entry and none declared", func(t *testing.T) {
		s := newDiary(t).chore(clocks(everyUsed("water", 45))).job("2025-03-02")
		if s.State != StateIdle || s.Governs != -1 || s.HasDue || s.Risk != 0 || s.Clocks[0].Reason != ReasonNoRate {
			t.Errorf("got %v, governs %d, risk %v, reason %q", s.State, s.Governs, s.Risk, s.Clocks[0].Reason)
		}
	})
	t.Run("a record that opened today gives no rate", func(t *testing.T) {
		s := newDiary(t).chore(clocks(everyUsed("water", 45))).use("2025-03-02", "water", 100).job("2025-03-02")
		if s.State != StateIdle || s.Clocks[0].HasRate {
			t.Errorf("got %v with a rate of %v", s.State, s.Clocks[0].Rate)
		}
	})
	t.Run("beyond a hundred years is no date", func(t *testing.T) {
		s := newDiary(t).chore(clocks(everyUsed("declared", 365_001))).job("2025-03-02")
		if s.State != StateIdle || s.Clocks[0].Reason != ReasonFar {
			t.Errorf("got %v, %q", s.State, s.Clocks[0].Reason)
		}
		s = newDiary(t).chore(clocks(everyUsed("declared", 364_990))).job("2025-03-02")
		equalDate(t, "planned", s.Planned, "2125-02-05")
	})
	t.Run("a meter counts differences, and starts anew after a reset", func(t *testing.T) {
		d := newDiary(t).chore(clocks(everyUsed("hours", 1000))).meter("2025-02-01", 500).meter("2025-02-11", 620)
		d.did("2025-02-12", model.MeterReset{Counter: "hours"}).meter("2025-02-12", 3).meter("2025-02-21", 43)
		equalNumber(t, "used", d.job("2025-03-01").Clocks[0].Used, 160)
	})
	t.Run("same day, before and after the tick", func(t *testing.T) {
		d := newDiary(t).chore(clocks(everyUsed("water", 100))).use("2025-03-01", "water", 5).tick("2025-03-01", "").use("2025-03-01", "water", 7)
		equalNumber(t, "used", d.job("2025-03-04").Clocks[0].Used, 7)
	})
	t.Run("a backdated amount lands in the cycle of its date", func(t *testing.T) {
		d := newDiary(t).chore(clocks(everyUsed("water", 100))).tick("2025-03-05", "").use("2025-03-08", "water", 7).use("2025-03-02", "water", 50)
		equalNumber(t, "used", d.job("2025-03-10").Clocks[0].Used, 7)
	})
}

func TestLoadClock(t *testing.T) {
	t.Run("amounts are weighted by the water of their date", func(t *testing.T) {
		d := newDiary(t).chore(clocks(everyLoad("water", 1, "prod")))
		d.read("2025-02-01", "mem", 4).read("2025-02-11", "mem", 99).read("2025-02-11", "mem", 6). // the last of a date counts
														read("2025-02-05", "prod", 1)
		d.readEarly("2025-02-06", "mem", 80, 4) // creep: counts nowhere
		d.use("2025-01-20", "water", 100)       // before the first readings: 4 - 1
		d.use("2025-02-06", "water", 10)        // half way: 5 - 1
		d.use("2025-02-20", "water", 1000)      // after the last: 6 - 1
		s := d.job("2025-02-20")
		equalNumber(t, "used", s.Clocks[0].Used, (100*3+10*4+1000*5)/1000.0)
	})
	t.Run("an outlet above the inlet carries nothing", func(t *testing.T) {
		d := newDiary(t).chore(clocks(everyLoad("water", 1, "prod"))).read("2025-02-01", "mem", 4).read("2025-02-01", "prod", 9)
		equalNumber(t, "used", d.use("2025-02-02", "water", 100).job("2025-02-20").Clocks[0].Used, 0)
	})
	t.Run("an outlet without readings counts as 0", func(t *testing.T) {
		d := newDiary(t).chore(clocks(everyLoad("water", 1, "prod"))).read("2025-02-01", "mem", 4)
		equalNumber(t, "used", d.use("2025-02-02", "water", 100).job("2025-02-20").Clocks[0].Used, 0.4)
	})
	t.Run("without inlet readings there is no date", func(t *testing.T) {
		s := newDiary(t).chore(clocks(everyLoad("declared", 1, ""))).use("2025-02-02", "declared", 100).job("2025-02-20")
		if s.State != StateIdle || s.Clocks[0].Reason != ReasonNoInlet {
			t.Errorf("got %v, %q", s.State, s.Clocks[0].Reason)
		}
	})
	t.Run("a declared rate is turned into grams by the water of the day", func(t *testing.T) {
		clock := everyLoad("declared", 1, "prod")
		clock.FeedRatio = 1
		d := newDiary(t).chore(clocks(clock)).read("2025-02-01", "mem", 5).read("2025-02-11", "mem", 15).read("2025-02-01", "prod", 2)
		equalNumber(t, "rate", d.job("2025-02-06").Clocks[0].Rate, 2*10*(5-2)/1000.0) // the later reading does not exist yet
		equalNumber(t, "rate", d.job("2025-03-06").Clocks[0].Rate, 2*10*(15-2)/1000.0)
	})
}

func TestReadingClockCrossed(t *testing.T) {
	start := func() *diary {
		return newDiary(t).chore(clocks(above1("prod"), every("1y"))).tick("2025-03-01", "").read("2025-03-02", "prod", 0)
	}
	t.Run("one reading beyond: read again, no limit", func(t *testing.T) {
		c := start().read("2025-03-10", "prod", 2).job("2025-03-12").Clocks[0]
		if !c.Crossed || c.Confirmed || c.Reason != ReasonReadAgain {
			t.Errorf("crossed %v, confirmed %v, %q", c.Crossed, c.Confirmed, c.Reason)
		}
		equalDate(t, "planned", c.Planned, "2025-03-10")
		equalDate(t, "limit", c.Limit, "")
	})
	t.Run("two on one day confirm", func(t *testing.T) {
		s := start().read("2025-03-10", "prod", 2).read("2025-03-10", "prod", 3).job("2025-03-12")
		if c := s.Clocks[0]; !c.Confirmed || s.Governs != 0 || s.Risk != 3 || !s.PastLimit || s.LeadDays != 0 {
			t.Errorf("got %+v", s)
		}
		equalDate(t, "due", s.Due, "2025-03-10")
		equalDate(t, "limit", s.Limit, "2025-03-10")
	})
	t.Run("at the limit is not beyond, and ends the run", func(t *testing.T) {
		if c := start().read("2025-03-10", "prod", 2).read("2025-03-11", "prod", 1).job("2025-03-12").Clocks[0]; c.Crossed {
			t.Error("crossed")
		}
	})
	t.Run("the run begins after the last good reading", func(t *testing.T) {
		c := start().read("2025-03-10", "prod", 2).read("2025-03-11", "prod", 1).read("2025-03-13", "prod", 2).read("2025-03-15", "prod", 2).
			job("2025-03-20").Clocks[0]
		equalDate(t, "since", c.Since, "2025-03-13")
	})
	t.Run("creep is shown and counts nowhere", func(t *testing.T) {
		c := start().readEarly("2025-03-10", "prod", 9, 4.9).readEarly("2025-03-11", "prod", 2, 5).job("2025-03-12").Clocks[0]
		if !c.Crossed || c.Confirmed || len(c.Recent) != 3 || !c.Recent[1].Shown || c.Recent[2].Shown {
			t.Errorf("got %+v", c)
		}
	})
	t.Run("readings of the cycle before do not count", func(t *testing.T) {
		d := start().read("2025-03-10", "prod", 2).read("2025-03-11", "prod", 2).tick("2025-03-11", "").read("2025-03-11", "prod", 2)
		if c := d.job("2025-03-12").Clocks[0]; !c.Crossed || c.Confirmed {
			t.Errorf("crossed %v, confirmed %v", c.Crossed, c.Confirmed)
		}
	})
	t.Run("a confirmed crossing governs over an earlier date; the planned date stays the earliest", func(t *testing.T) {
		d := newDiary(t).chore(clocks(every("5d"), above1("prod"))).tick("2025-03-01", "").read("2025-03-10", "prod", 2).read("2025-03-11", "prod", 2)
		s := d.job("2025-03-12")
		if s.Governs != 1 || s.Chance != 1 {
			t.Errorf("governs %d, chance %v", s.Governs, s.Chance)
		}
		equalDate(t, "planned", s.Planned, "2025-03-06")
		equalDate(t, "due", s.Due, "2025-03-06")
	})
	t.Run("an unconfirmed one does not", func(t *testing.T) {
		s := newDiary(t).chore(clocks(every("5d"), above1("prod"))).tick("2025-03-01", "").read("2025-03-10", "prod", 2).job("2025-03-12")
		if s.Governs != 0 {
			t.Errorf("governs %d", s.Governs)
		}
	})
	t.Run("an unconfirmed one that governs is even odds", func(t *testing.T) {
		s := start().read("2025-03-10", "prod", 2).job("2025-03-12")
		equalNumber(t, "risk", s.Risk, 0.5*3)
	})
	t.Run("below is bad", func(t *testing.T) {
		clock := model.Clock{Kind: model.ClockReading, Gauge: "feed", Limit: 3, Bad: model.SideBelow}
		d := newDiary(t).chore(clocks(clock)).read("2025-03-10", "feed", 3).read("2025-03-11", "feed", 2.9).read("2025-03-12", "feed", 2.5)
		equalDate(t, "since", d.job("2025-03-12").Clocks[0].Since, "2025-03-11")
	})
}

func TestReadingClockForecast(t *testing.T) {
	clock := model.Clock{Kind: model.ClockReading, Gauge: "prod", Limit: 20, Bad: model.SideAbove}
	readings := func(values ...float64) *diary {
		d := newDiary(t).chore(clocks(clock))
		for i, v := range values {
			d.did(date(t, "2025-03-01").AddDays(5*i).String(), model.Reading{Gauge: "prod", Value: v})
		}
		return d
	}
	t.Run("a straight line crosses on a whole day", func(t *testing.T) {
		// y = 2 + t/5, t in days from 1 March; 20 at t = 90.
		s := readings(2, 3, 4, 5, 6).job("2025-03-22")
		equalDate(t, "planned", s.Planned, "2025-05-30")
		equalDate(t, "limit", s.Limit, "2025-05-30")
		if s.Chance != 0 {
			t.Errorf("chance %v", s.Chance)
		}
		// Lead of grade 1 is 0.
		equalDate(t, "due", s.Due, "2025-05-30")
	})
	t.Run("fails within the week that holds the limit", func(t *testing.T) {
		s := readings(2, 6, 10, 14, 18).job("2025-03-22") // 20 at t = 22.5, so on day 23, the 24th
		equalDate(t, "limit", s.Limit, "2025-03-24")
		equalNumber(t, "chance", s.Chance, 1)
	})
	t.Run("a crossing in the past is today", func(t *testing.T) {
		s := readings(2, 6, 10, 14, 18).job("2025-04-20")
		equalDate(t, "planned", s.Planned, "2025-04-20")
		equalDate(t, "limit", s.Limit, "2025-04-20")
	})
	for _, c := range []struct {
		name   string
		values []float64
		want   Reason
	}{
		{"none", nil, ReasonNoReadings},
		{"too few dates", []float64{2, 3, 4, 5}, ReasonTooFew},
		{"no trend", []float64{2, 3, 2, 3, 2, 3}, ReasonNoTrend},
		{"moving away", []float64{9, 8, 7, 6, 5, 4}, ReasonAway},
		{"more than two years off", []float64{2, 2.01, 2.02, 2.03, 2.04}, ReasonFar},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := readings(c.values...).job("2025-04-05")
			if s.State != StateIdle || s.Clocks[0].Reason != c.want {
				t.Errorf("got %v, %q, want %q", s.State, s.Clocks[0].Reason, c.want)
			}
		})
	}
	t.Run("less than 14 days", func(t *testing.T) {
		d := newDiary(t).chore(clocks(clock))
		for i := range 6 {
			d.did(date(t, "2025-03-01").AddDays(2*i).String(), model.Reading{Gauge: "prod", Value: float64(i)})
		}
		if c := d.job("2025-04-05").Clocks[0]; c.Reason != ReasonTooFew {
			t.Errorf("got %q", c.Reason)
		}
	})
	t.Run("730 days ahead is a date, 731 is not", func(t *testing.T) {
		// y = t/5 from 2 at t = 0; limit 20 + x so that the crossing is t = 90 + 5x; asked at t = 21.
		for days, want := range map[int]bool{730: true, 731: false} {
			c := clock
			c.Limit = 2 + float64(21+days)/5
			d := newDiary(t).chore(clocks(c))
			for i := range 5 {
				d.did(date(t, "2025-03-01").AddDays(5*i).String(), model.Reading{Gauge: "prod", Value: 2 + float64(i)})
			}
			if got := !d.job("2025-03-22").Limit.IsZero(); got != want {
				t.Errorf("%d days: a date %v, want %v", days, got, want)
			}
		}
	})
	t.Run("the last reading of a date is plotted, and planned comes from the steeper slope", func(t *testing.T) {
		d := readings(2, 3.2, 3.9, 5.1, 6).read("2025-03-21", "prod", 6.3)
		s := d.job("2025-03-22")
		if s.Clocks[0].Trend == nil || s.Clocks[0].Trend.Steep <= s.Clocks[0].Trend.Slope || s.Planned >= s.Limit {
			t.Errorf("trend %+v, planned %v, limit %v", s.Clocks[0].Trend, s.Planned, s.Limit)
		}
		if got := s.Clocks[0].Trend.Dates; got != 5 {
			t.Errorf("%d dates, want 5", got)
		}
	})
}

func TestTiesBetweenClocks(t *testing.T) {
	// All four are due the same day: the water that was declared at 10 L a day carries 5 ppm.
	d := newDiary(t).chore(clocks(every("10d"), everyUsed("declared", 100), everyLoad("declared", 0.5, ""))).tick("2025-03-01", "")
	d.read("2025-02-01", "mem", 5)
	s := d.job("2025-03-01")
	for i, c := range s.Clocks {
		equalDate(t, "planned of clock "+string(c.Kind), c.Planned, "2025-03-11")
		if c.Kind == model.ClockLoad && s.Governs != i {
			t.Errorf("governs %d, want the load", s.Governs)
		}
	}
	d = newDiary(t).chore(clocks(every("10d"), everyUsed("declared", 100))).tick("2025-03-01", "")
	if s := d.job("2025-03-01"); s.Governs != 1 {
		t.Errorf("governs %d, want the usage", s.Governs)
	}
	d = newDiary(t).chore(clocks(every("10d"), above1("prod"))).tick("2025-03-01", "").read("2025-03-11", "prod", 2)
	if s := d.job("2025-03-11"); s.Governs != 1 {
		t.Errorf("governs %d, want the reading", s.Governs)
	}
}

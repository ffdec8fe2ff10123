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
		// 30 / g with g = 0.827866: 36.24 days.
		{"a rule plans itself; its median is longer", every("30d"), "2025-03-01", "2025-03-31", "2025-04-06"},
		// 20 minutes and 10 of access weigh 35/24 * 30 / (3 * 30 days) = 0.486; 30 (-ln(1 - 0.486)/ln 2)^(1/6) = 29.80 days.
		{"a short life is nearly lived out", lasts("30d"), "2025-03-01", "2025-03-31", "2025-03-31"},
		// 35/24 * 30 / (3 * 150) = 0.0972: 150 * 0.7277 = 109.2 days.
		{"a longer one plans earlier; its median is the life", lasts("150d"), "2025-03-01", "2025-06-18", "2025-07-29"},
		// 35/24 * 30 / (3 * 300) = 0.0486: 193 days, but no less than 0.7 * 300 on a guess.
		{"a guess throws nothing away young", lasts("300d"), "2025-03-01", "2025-09-27", "2025-12-26"},
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

// TestChanceFollowsWhatIsAtStake works out 35/24 k m / (w D) by hand, for a life of 60 days.
func TestChanceFollowsWhatIsAtStake(t *testing.T) {
	const lid = `{"kind":"component","id":"lid","name":"Lid","place":"cellar","reach":1,"access_minutes":40,"in_service":"2025-01-01"}
{"kind":"component","id":"part","name":"Part","place":"cellar","reach":1,"access_minutes":10,"in_service":"2025-01-01","opens_with":"lid"}`
	book := func(fields string) string {
		return `{"kind":"book","name":"Test","units":{"volume":"L","temperature":"C","pressure":"bar"},` + fields + `}`
	}
	for _, c := range []struct {
		name   string
		clock  model.Clock
		lines  string
		change func(*model.Chore)
		want   float64
	}{
		{"looks bad", lasts("60d"), "", func(c *model.Chore) { c.Consequence = 1 }, 0.5}, // of 0.729
		{"costs money or water", lasts("60d"), "", nil, 35.0 / 24 * 30 / (3 * 60)},
		{"endangers animals or people", lasts("60d"), "", func(c *model.Chore) { c.Consequence = 3 }, 35.0 / 24 * 30 / (10 * 60)},
		{"careful", lasts("60d"), book(`"care":"careful"`), nil, 35.0 / 24 * 0.5 * 30 / (3 * 60)},
		{"usual", lasts("60d"), book(`"care":"usual"`), nil, 35.0 / 24 * 30 / (3 * 60)},
		{"easy", lasts("60d"), book(`"care":"easy"`), nil, 35.0 / 24 * 2 * 30 / (3 * 60)},
		{"the opening is another component's", lasts("60d"), lid, nil, 35.0 / 24 * 60 / (3 * 60)},
		{"two spares of 8 at 0.3 a minute", lasts("600d"), "", withSpare(2), 35.0 / 24 * (30 + 16/0.3) / (3 * 600)},
		{"two spares of 8 at 2 a minute", lasts("600d"), book(`"minute_value":2`), withSpare(2), 35.0 / 24 * (30 + 8) / (3 * 600)},
		{"no less than 0.005", lasts("36500d"), "", nil, 0.005},
		{"at least a minute", lasts("60d"), "{\"kind\":\"component\",\"id\":\"part\",\"name\":\"Part\",\"place\":\"cellar\",\"reach\":1,\"access_minutes\":0,\"in_service\":\"2025-01-01\"}",
			func(c *model.Chore) { c.Minutes = 0 }, 35.0 / 24 / (3 * 60)},
		{"600 L at 10 L a day", lastsUsed("declared", 600), "", nil, 35.0 / 24 * 30 / (3 * 60)},
		{"no rate known", lastsUsed("water", 600), "", nil, 0.20},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := newDiary(t)
			d.chore(clocks(c.clock), func(chore *model.Chore) {
				if c.change != nil {
					c.change(chore)
				}
			}).lines(c.lines)
			equalNumber(t, "chance", d.job("2025-01-02").Clocks[0].Plan.Quantile, c.want)
		})
	}
	t.Run("by the rate as known at the start, whatever is used later", func(t *testing.T) {
		d := newDiary(t).chore(clocks(lastsUsed("water", 600)))
		for i := range 8 {
			d.did(date(t, "2025-01-01").AddDays(7*i).String(), model.Usage{Counter: "water", Amount: number(70)})
		}
		d.tick("2025-02-19", "").use("2025-02-26", "water", 300)
		equalNumber(t, "chance", d.job("2025-02-27").Clocks[0].Plan.Quantile, 35.0/24*30/(3*60))
	})
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
		// The amount of 1 March opens the record; then 30 in each 10 days, 3 a day; (150 - 100)/3 = 16.7, so 17 days on from
		// the last entry, whatever the day it is asked on.
		for _, on := range []string{"2025-03-21", "2025-03-30"} {
			s := use(newDiary(t).chore(clocks(everyUsed("water", 150)))).job(on)
			equalNumber(t, "rate", s.Clocks[0].Rate, 3)
			equalDate(t, "planned", s.Planned, "2025-04-07")
		}
		s := use(newDiary(t).chore(clocks(everyUsed("water", 150)))).job("2025-03-30")
		equalNumber(t, "used", s.Clocks[0].Used, 100)
		equalNumber(t, "age", s.Clocks[0].Age, 127)
	})
	t.Run("feed ratio multiplies what was used and the rate", func(t *testing.T) {
		clock := everyUsed("water", 450)
		clock.FeedRatio = 2
		s := use(newDiary(t).chore(clocks(clock))).job("2025-03-21")
		equalNumber(t, "used", s.Clocks[0].Used, 300)
		equalNumber(t, "rate", s.Clocks[0].Rate, 9)
		equalDate(t, "planned", s.Planned, "2025-04-07")
	})
	t.Run("a declared rate with no entry", func(t *testing.T) {
		s := newDiary(t).chore(clocks(everyUsed("declared", 45))).tick("2025-03-01", "").job("2025-03-02")
		equalNumber(t, "rate", s.Clocks[0].Rate, 10)
		equalDate(t, "planned", s.Planned, "2025-03-06")
		if !s.Clocks[0].Unlogged {
			t.Error("not said to be reckoned without any entry")
		}
	})
	t.Run("no entry and none declared", func(t *testing.T) {
		s := newDiary(t).chore(clocks(everyUsed("water", 45))).job("2025-03-02")
		if s.State != StateIdle || s.Governs != -1 || s.HasDue || s.Risk != 0 || s.Clocks[0].Reason != ReasonNoRate {
			t.Errorf("got %v, governs %d, risk %v, reason %q", s.State, s.Governs, s.Risk, s.Clocks[0].Reason)
		}
	})
	t.Run("a record that opened today gives no rate, but what is reached is reached", func(t *testing.T) {
		d := newDiary(t).chore(clocks(everyUsed("water", 245))).use("2025-03-02", "water", 100)
		if s := d.job("2025-03-02"); s.State != StateIdle || s.Clocks[0].HasRate || s.Clocks[0].Reason != ReasonNoRate {
			t.Errorf("got %v with a rate of %v, %q", s.State, s.Clocks[0].Rate, s.Clocks[0].Reason)
		}
		equalDate(t, "planned", d.use("2025-03-02", "water", 145).job("2025-03-02").Planned, "2025-03-02")
	})
	t.Run("beyond a hundred years is no date", func(t *testing.T) {
		s := newDiary(t).chore(clocks(everyUsed("declared", 365_001))).job("2025-03-02")
		if s.State != StateIdle || s.Clocks[0].Reason != ReasonFar {
			t.Errorf("got %v, %q", s.State, s.Clocks[0].Reason)
		}
		s = newDiary(t).chore(clocks(everyUsed("declared", 364_990))).job("2025-03-02")
		equalDate(t, "planned", s.Planned, "2124-12-07")
	})
	t.Run("a meter counts differences, and starts anew after a reset", func(t *testing.T) {
		d := newDiary(t).chore(clocks(everyUsed("hours", 1000))).tick("2025-02-01", "").meter("2025-02-01", 500).meter("2025-02-11", 620)
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
		d := newDiary(t).chore(clocks(everyLoad("water", 1, "prod"))).tick("2025-01-20", "")
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
		equalNumber(t, "rate", d.job("2025-03-06").Clocks[0].Rate, 2*10*(5-2)/1000.0) // of the start, without an entry
		d.use("2025-02-06", "declared", 0)
		equalNumber(t, "rate", d.job("2025-02-06").Clocks[0].Rate, 2*10*(5-2)/1000.0)  // the later reading does not exist yet
		equalNumber(t, "rate", d.job("2025-03-06").Clocks[0].Rate, 2*10*(10-2)/1000.0) // half way between the two
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
	t.Run("a crossing that has passed stays where it is", func(t *testing.T) {
		s := readings(2, 6, 10, 14, 18).job("2025-04-20")
		equalDate(t, "planned", s.Planned, "2025-03-24")
		equalDate(t, "limit", s.Limit, "2025-03-24")
	})
	t.Run("a line that crossed before the latest reading crosses on its date", func(t *testing.T) {
		// The median slope is 0.94375 a day through (10, 18): 20 on day 12.1, and the latest reading is of day 20.
		s := readings(2, 10, 18, 19.9, 19.95).job("2025-04-20")
		equalDate(t, "limit", s.Limit, "2025-03-21")
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
		// y = 2 + t/5; the latest reading is of t = 20.
		for days, want := range map[int]bool{730: true, 731: false} {
			c := clock
			c.Limit = 2 + float64(20+days)/5
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

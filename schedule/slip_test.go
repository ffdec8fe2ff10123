package schedule

import (
	"strconv"
	"testing"

	"brine/wrasse/model"
)

// component redefines "part" with a reach grade.
func (d *diary) regrade(reach int) *diary {
	d.Helper()
	return d.lines(`{"kind":"component","id":"part","name":"Part","place":"cellar","reach":` + strconv.Itoa(reach) +
		`,"access_minutes":10,"in_service":"2025-01-01","stage":"membrane"}`)
}

// TestSlipOfTicks has ticks of a grade-2 component; the prior of grade 2 is 4 ticks of 0.02. Grades above have their
// priors, which no tested slip pools with unless it is said.
func TestSlipOfTicks(t *testing.T) {
	for _, c := range []struct {
		name  string
		write func(*diary)
		fit   float64
		ticks int
	}{
		{"no ticks", func(*diary) {}, 0.02, 0},
		{"5 days late of 100", func(d *diary) { d.stamped("2025-04-16", "2025-04-11") }, (4*0.02 + 0.05) / 5, 1},
		{"early is no slip", func(d *diary) { d.stamped("2025-04-01", "2025-04-11") }, 4 * 0.02 / 5, 1},
		{"without a planned date", func(d *diary) { d.tick("2025-04-16", "") }, 0.02, 0},
		{"a guessed date", func(d *diary) {
			d.did("2025-04-16", model.Tick{Chore: "job", About: true, Planned: date(d, "2025-04-11")})
		}, 0.02, 0},
		{"after a guessed date", func(d *diary) { d.guess("2025-03-01").stamped("2025-04-16", "2025-04-11") }, 0.02, 0},
		{"planned at the start", func(d *diary) { d.stamped("2025-04-16", "2025-01-01") }, 0.02, 0},
		{"planned before the start", func(d *diary) { d.stamped("2025-04-16", "2024-12-01") }, 0.02, 0},
		{"days away do not count", func(d *diary) {
			// Planned on the 11th, done on the 21st; away from the 9th to the 15th and, overlapping, the 14th to the 16th:
			// of the 12th to the 21st, the 12th to the 16th are away.
			d.did("2025-04-09", model.Away{Until: date(d, "2025-04-16")}).did("2025-04-14", model.Away{Until: date(d, "2025-04-17")})
			d.stamped("2025-04-21", "2025-04-11")
		}, (4*0.02 + 0.05) / 5, 1},
		{"the day of return counts", func(d *diary) {
			d.did("2025-04-12", model.Away{Until: date(d, "2025-04-16")}).stamped("2025-04-16", "2025-04-11")
		}, (4*0.02 + 0.01) / 5, 1},
		{"away on the planned day only", func(d *diary) {
			d.did("2025-04-11", model.Away{Until: date(d, "2025-04-12")}).stamped("2025-04-16", "2025-04-11")
		}, (4*0.02 + 0.05) / 5, 1},
		{"clipped at a half, and pooled with the grade above", func(d *diary) { d.stamped("2025-12-01", "2025-04-11") },
			// (0.08 + 0.5)/5 = 0.116, of weight 5, is above grade 3's 0.05, of weight 4.
			(0.58 + 0.2) / 9, 1},
		{"the grade of the time, by seq", func(d *diary) {
			d.stamped("2025-04-16", "2025-04-11").regrade(5).regrade(2)
			d.stamped("2025-07-30", "2025-07-25") // 5 of 100 days again
		}, (4*0.02 + 0.10) / 6, 2},
		{"a tick in another grade teaches that grade", func(d *diary) {
			d.regrade(5).stamped("2025-04-16", "2025-04-11").regrade(2)
		}, 0.02, 0},
		{"a tick of a retired chore", func(d *diary) {
			d.lines(`{"kind":"chore","id":"old","component":"part","name":"Old","work":"clean","minutes":1,"consequence":1,"clocks":[{"calendar":"1y","rule":"every"}],"spares":[],"steps":[],"hazards":[],"cautions":[],"retired":"2025-05-01"}`)
			d.did("2025-04-16", model.Tick{Chore: "old", Planned: date(d, "2025-04-11")})
		}, (4*0.02 + 0.05) / 5, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := newDiary(t).chore(clocks(every("100d"))).regrade(2)
			c.write(d)
			s := d.job("2026-01-01")
			equalNumber(t, "slip", s.Lead.Slip, c.fit)
			if s.Lead.Ticks != c.ticks {
				t.Errorf("%d ticks, want %d", s.Lead.Ticks, c.ticks)
			}
		})
	}
}

func TestLead(t *testing.T) {
	t.Run("calendar: the slip of the interval", func(t *testing.T) {
		s := newDiary(t).chore(clocks(every("100d"))).regrade(5).tick("2025-03-01", "").job("2025-03-02")
		equalDate(t, "due", s.Due, "2025-05-25") // 9 June less 15 days
		if s.LeadDays != 15 || s.Clocks[0].LeadDays != 15 || s.Lead.Grade != 5 {
			t.Errorf("got %d days, %+v", s.LeadDays, s.Lead)
		}
	})
	t.Run("calendar: at most 28 days", func(t *testing.T) {
		s := newDiary(t).chore(clocks(every("1000d"))).regrade(5).job("2025-03-02")
		if s.LeadDays != 28 {
			t.Errorf("got %d days", s.LeadDays)
		}
	})
	late := func(d *diary) *diary { // grade 5 to (0.6 + 4*0.5)/8 = 0.325
		for i := range 4 {
			on := date(d, "2025-01-01").AddDays(5 * (i + 1))
			d.did(on.String(), model.Tick{Chore: "job", Planned: on.AddDays(-3)})
		}
		return d
	}
	t.Run("calendar: at most a quarter, rounded down", func(t *testing.T) {
		s := late(newDiary(t).chore(clocks(every("10d"))).regrade(5)).job("2025-01-22")
		equalNumber(t, "slip", s.Lead.Slip, 0.325)
		if s.LeadDays != 2 {
			t.Errorf("got %d days", s.LeadDays)
		}
	})
	t.Run("never due before the day after the start", func(t *testing.T) {
		clock := every("1d")
		s := newDiary(t).chore(clocks(clock)).tick("2025-03-01", "").job("2025-03-01")
		equalDate(t, "due", s.Due, "2025-03-02")
		// A life of 1 day plans 0.73 days, which rounds to 1; one that the log has shortened plans none.
		d := newDiary(t).chore(clocks(lasts("1d")), func(c *model.Chore) { c.Cost = &model.Cost{Planned: 1, Failure: 1000} })
		s = d.tick("2025-03-01", "").job("2025-03-01")
		equalDate(t, "planned", s.Planned, "2025-03-01")
		equalDate(t, "due", s.Due, "2025-03-02")
		if s.LeadDays != 0 || s.DaysLate != -1 {
			t.Errorf("lead %d, late %d", s.LeadDays, s.DaysLate)
		}
	})
	t.Run("usage: off the date, in days", func(t *testing.T) {
		// 1,000 L at 10 L a day: 100 days, of which grade 5 takes 15.
		s := newDiary(t).chore(clocks(everyUsed("declared", 1000))).regrade(5).tick("2025-03-01", "").job("2025-03-01")
		equalDate(t, "planned", s.Planned, "2025-06-09")
		equalDate(t, "due", s.Due, "2025-05-25")
	})
	t.Run("usage: an amount reached on the day of the start is due the day after", func(t *testing.T) {
		d := newDiary(t).chore(clocks(everyUsed("water", 100))).regrade(5).tick("2025-03-01", "").use("2025-03-01", "water", 186)
		s := d.job("2025-03-05")
		equalDate(t, "planned", s.Planned, "2025-03-01")
		equalDate(t, "due", s.Due, "2025-03-02")
		if s.LeadDays != 0 {
			t.Errorf("lead %d", s.LeadDays)
		}
	})
	t.Run("taken off every clock before the earliest is looked for", func(t *testing.T) {
		// The calendar plans 100 days, less 15; the usage 90 days, less 14: planned, due and governing are all of the usage.
		d := newDiary(t).chore(clocks(every("100d"), everyUsed("declared", 900))).regrade(5).tick("2025-03-01", "")
		s := d.job("2025-03-02")
		equalDate(t, "due of the calendar", s.Clocks[0].Due, "2025-05-25")
		equalDate(t, "due of the usage", s.Clocks[1].Due, "2025-05-16")
		equalDate(t, "due", s.Due, "2025-05-16")
		if s.Governs != 1 || s.LeadDays != 14 {
			t.Errorf("governs %d, lead %d", s.Governs, s.LeadDays)
		}
	})
	t.Run("a crossing has none, and the earlier due date of another clock stands beside it", func(t *testing.T) {
		d := newDiary(t).chore(clocks(every("100d"), above1("prod"))).regrade(5).tick("2025-03-01", "")
		d.read("2025-05-30", "prod", 2).read("2025-05-31", "prod", 2)
		s := d.job("2025-06-01")
		equalDate(t, "due of the crossing", s.Clocks[1].Due, "2025-05-30")
		equalDate(t, "due", s.Due, "2025-05-25") // of the calendar: 9 June less 15
		if s.Governs != 1 || s.LeadDays != 5 {
			t.Errorf("governs %d, lead %d", s.Governs, s.LeadDays)
		}
	})
	t.Run("a forecast has a lead in days", func(t *testing.T) {
		clock := model.Clock{Kind: model.ClockReading, Gauge: "prod", Limit: 20, Bad: model.SideAbove}
		d := newDiary(t).chore(clocks(clock)).regrade(5)
		for i := range 5 {
			d.did(date(t, "2025-03-01").AddDays(5*i).String(), model.Reading{Gauge: "prod", Value: 2 + float64(i)})
		}
		s := d.job("2025-03-22") // planned on 30 May, 149 days after the start: 22.35 days
		if s.LeadDays != 22 {
			t.Errorf("%d days", s.LeadDays)
		}
	})
}

// TestLeadDays holds the lead to its two limits, and to saying which of them it met.
func TestLeadDays(t *testing.T) {
	for _, c := range []struct {
		interval int
		slip     float64
		days     int
		held     LeadHeld
	}{
		{100, 0, 0, HeldNot},
		{183, 0.08, 15, HeldNot},
		{100, 0.25, 25, HeldNot},
		{100, 0.3, 25, HeldQuarter},
		{7, 0.5, 1, HeldQuarter},
		{1, 0.5, 0, HeldQuarter},
		{112, 0.5, 28, HeldDays},
		{365, 0.08, 28, HeldDays},
		{280, 0.1, 28, HeldNot},
	} {
		if days, held := leadDays(c.interval, c.slip); days != c.days || held != c.held {
			t.Errorf("%d days, slip %v: %d, %q; want %d, %q", c.interval, c.slip, days, held, c.days, c.held)
		}
	}
}

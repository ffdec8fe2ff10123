package schedule

import (
	"slices"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule/life"
)

// TestWhatCyclesTeach checks which cycles of a log become which observations. Each case writes a log for a chore with
// the clocks given and says what its learning clock is taught.
func TestWhatCyclesTeach(t *testing.T) {
	day := func(n int) string { return date(t, "2025-01-01").AddDays(n).String() }
	calendar := clocks(lasts("100d"))
	// By 100 g days nothing is taken to have failed.
	const before = 82.786555495
	for _, c := range []struct {
		name   string
		clocks []model.Clock
		change func(*model.Chore)
		write  func(*diary)
		want   []life.Observation
	}{
		{name: "clean and light are still good", clocks: calendar,
			write: func(d *diary) { d.tick(day(50), "clean").tick(day(90), "light") },
			want:  []life.Observation{life.Survived(50), life.Survived(40)}},
		{name: "heavy, before and after the planned age", clocks: calendar,
			write: func(d *diary) { d.tick(day(50), "heavy").tick(day(250), "heavy") },
			want:  []life.Observation{life.Worn(50, before), life.Worn(200, before)}},
		{name: "failed", clocks: calendar,
			write: func(d *diary) { d.tick(day(50), "failed") },
			want:  []life.Observation{life.FailedBy(50)}},
		{name: "nothing recorded", clocks: calendar,
			write: func(d *diary) { d.tick(day(50), "").tick(day(90), "clean") },
			want:  []life.Observation{life.Survived(40)}},
		{name: "no age", clocks: calendar,
			write: func(d *diary) { d.tick(day(50), "clean").tick(day(50), "failed") },
			want:  []life.Observation{life.Survived(50)}},
		{name: "a guess ends one cycle and begins another", clocks: calendar,
			write: func(d *diary) {
				d.did(day(50), model.Tick{Chore: "job", Found: "clean", About: true}).tick(day(90), "clean").tick(day(100), "light")
			},
			want: []life.Observation{life.Survived(10)}},
		{name: "cut by a new part", clocks: calendar,
			write: func(d *diary) {
				d.lines(`{"kind":"component","id":"part","name":"Part","place":"cellar","reach":1,"access_minutes":10,"in_service":"` + day(30) + `"}`)
				d.tick(day(50), "clean")
			},
			want: []life.Observation{life.Survived(20)}},
		{name: "a new part on the day of a tick changes nothing", clocks: calendar,
			write: func(d *diary) {
				d.lines(`{"kind":"component","id":"part","name":"Part","place":"cellar","reach":1,"access_minutes":10,"in_service":"` + day(50) + `"}`)
				d.tick(day(50), "clean").tick(day(60), "light")
			},
			want: []life.Observation{life.Survived(50), life.Survived(10)}},
		{name: "a redefinition with an earlier date starts nothing", clocks: calendar,
			write: func(d *diary) {
				d.lines(`{"kind":"component","id":"part","name":"Part","place":"cellar","reach":1,"access_minutes":10,"in_service":"2024-12-01"}`)
				d.tick(day(50), "clean")
			},
			want: []life.Observation{life.Survived(50)}},
		{name: "a tick before the first service takes its place", clocks: calendar,
			write: func(d *diary) { d.tick("2024-12-22", "").tick(day(50), "clean") },
			want:  []life.Observation{life.Survived(60)}},
		{name: "a struck tick never was, and an amended one reads as amended", clocks: calendar,
			write: func(d *diary) {
				d.tick(day(20), "failed")
				d.did(day(21), model.Amend{Entry: model.Seq(len(d.entries)), Strike: true})
				d.tick(day(50), "failed")
				with, err := model.With(map[string]any{"found": "clean", "on": day(60)})
				if err != nil {
					d.Fatal(err)
				}
				d.did(day(61), model.Amend{Entry: model.Seq(len(d.entries)), With: with})
			},
			want: []life.Observation{life.Survived(60)}},
		{name: "a backdated tick splits a cycle", clocks: calendar,
			write: func(d *diary) { d.tick(day(50), "clean").tick(day(20), "light") },
			want:  []life.Observation{life.Survived(20), life.Survived(30)}},
		{name: "the first usage clock learns", clocks: clocks(lasts("100d"), lastsUsed("water", 100), lastsUsed("hours", 50)),
			write: func(d *diary) {
				d.use(day(5), "water", 30).use(day(50), "water", 40).tick(day(50), "clean").use(day(50), "water", 9).tick(day(80), "light")
			},
			want: []life.Observation{life.Survived(70), life.Survived(9)}},
		{name: "nothing used is no age", clocks: clocks(lasts("100d"), lastsUsed("water", 100)),
			write: func(d *diary) { d.tick(day(50), "clean") }},
		{name: "a load clock learns in grams, with its feed ratio",
			clocks: clocks(lasts("100d"), func() model.Clock { c := everyLoad("water", 1, ""); c.FeedRatio = 3; return c }()),
			write: func(d *diary) {
				d.read(day(1), "mem", 5).use(day(0), "water", 10).use(day(8), "water", 40).use(day(16), "water", 50).tick(day(40), "clean")
			},
			want: []life.Observation{life.Survived(100 * 5 / 1000.0 * 4)}},
		{name: "a load clock without readings: none learns", clocks: clocks(lasts("100d"), everyLoad("water", 1, "")),
			write: func(d *diary) { d.use(day(5), "water", 100).tick(day(50), "clean") }},
		{name: "a confirmed crossing is a failure at a known age, whatever was found", clocks: clocks(lasts("100d"), above1("prod")),
			write: func(d *diary) {
				d.read(day(10), "prod", 0).read(day(20), "prod", 2).read(day(30), "prod", 3).tick(day(50), "clean")
				d.read(day(60), "prod", 2).read(day(61), "prod", 2).tick(day(62), "")
			},
			want: []life.Observation{life.FailedAt(20), life.FailedAt(10)}},
		{name: "one reading beyond is none, and a run that ended is none", clocks: clocks(lasts("100d"), above1("prod")),
			write: func(d *diary) {
				d.read(day(20), "prod", 2).tick(day(50), "clean")
				d.read(day(60), "prod", 2).read(day(61), "prod", 2).read(day(62), "prod", 1).tick(day(63), "light")
			},
			want: []life.Observation{life.Survived(50), life.Survived(13)}},
		{name: "of several gauges the earliest crossing", clocks: clocks(lasts("100d"), above1("prod"), above1("mem")),
			write: func(d *diary) {
				d.read(day(20), "mem", 2).read(day(21), "mem", 2).read(day(15), "prod", 2).read(day(22), "prod", 2).tick(day(50), "clean")
			},
			want: []life.Observation{life.FailedAt(15)}},
		{name: "a crossing at no age teaches nothing", clocks: clocks(lasts("100d"), above1("prod")),
			write: func(d *diary) {
				d.tick(day(10), "clean").read(day(10), "prod", 2).read(day(11), "prod", 2).tick(day(50), "clean")
			},
			want: []life.Observation{life.Survived(10)}},
		{name: "a crossing counts the amounts of its whole day within the cycle", clocks: clocks(lastsUsed("water", 100), above1("prod")),
			write: func(d *diary) {
				d.use("2024-12-20", "water", 5).use(day(5), "water", 10).read(day(8), "prod", 2).use(day(8), "water", 20).read(day(9), "prod", 2).use(day(9), "water", 40)
				d.tick(day(20), "failed")
				d.use(day(21), "water", 7).read(day(30), "prod", 3).read(day(30), "prod", 3).tick(day(30), "failed").use(day(30), "water", 500)
			},
			want: []life.Observation{life.FailedAt(30), life.FailedAt(7)}},
		{name: "nothing of a counter that was never used", clocks: clocks(lastsUsed("declared", 100)),
			write: func(d *diary) { d.tick(day(5), "clean").use(day(6), "declared", 50) }},
		{name: "nothing of a cycle that is half a guess", clocks: clocks(lastsUsed("declared", 100)),
			write: func(d *diary) { d.use(day(5), "declared", 60).use(day(9), "declared", 39).tick(day(9), "clean") }}, // 50 before the record are 60
		{name: "a cycle half of which was logged", clocks: clocks(lastsUsed("declared", 100)),
			write: func(d *diary) { d.use(day(5), "declared", 60).use(day(9), "declared", 40).tick(day(9), "clean") },
			want:  []life.Observation{life.Survived(100)}},
		{name: "a word against a good reading of the week before", clocks: clocks(lasts("100d"), above1("prod")),
			write: func(d *diary) {
				d.read(day(43), "prod", 0).tick(day(50), "failed")                             // 7 days before
				d.read(day(92), "prod", 0).tick(day(100), "heavy")                             // 8 days
				d.read(day(149), "prod", 0).read(day(150), "prod", 2).tick(day(150), "failed") // one beyond, last
				d.read(day(200), "prod", 1).tick(day(200), "")
			},
			want: []life.Observation{life.Survived(50), life.Worn(50, before), life.FailedBy(50)}},
		{name: "a word against good readings needs all gauges to agree", clocks: clocks(lasts("100d"), above1("prod"), above1("mem")),
			write: func(d *diary) {
				d.read(day(48), "prod", 0).read(day(20), "mem", 2).tick(day(50), "failed")
				d.read(day(98), "prod", 0).tick(day(100), "failed")
			},
			want: []life.Observation{life.FailedBy(50), life.Survived(50)}},
		{name: "what outlives three medians says no more", clocks: clocks(lasts("10d")),
			write: func(d *diary) { d.tick(day(50), "clean") },
			want:  []life.Observation{life.Survived(30)}},
		{name: "tests do not learn", clocks: calendar, change: func(c *model.Chore) { c.Work = model.WorkTest },
			write: func(d *diary) { d.tick(day(50), "failed") }},
		{name: "readings do not learn", clocks: calendar, change: func(c *model.Chore) { c.Work = model.WorkRead },
			write: func(d *diary) { d.tick(day(50), "") }},
		{name: "fixed chores do not learn", clocks: calendar, change: func(c *model.Chore) { c.Fixed = true },
			write: func(d *diary) { d.tick(day(50), "failed") }},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := newDiary(t)
			d.chore(c.clocks, func(chore *model.Chore) {
				if c.change != nil {
					c.change(chore)
				}
			})
			c.write(d)
			got := observationsOf(d.book(), date(t, "2025-12-01"), "job")
			if !slices.EqualFunc(got, c.want, sameObservation) {
				t.Errorf("taught %v, want %v", got, c.want)
			}
		})
	}
}

// observationsOf is what a life is fitted to: what the cycles of a chore taught.
func observationsOf(b *ledger.Book, on model.Date, chore model.ID) []life.Observation {
	c, _ := b.Chore(chore)
	if !c.Learns() {
		return nil
	}
	v := look(b, on, b.Chores())
	h, opened := v.opened(&c)
	lessons, _ := v.lessons(&c, opened, h)
	believed := planner{chore: &c}.believe(opened[c.Learner()].(ager))
	var out []life.Observation
	for _, l := range lessons {
		out = append(out, believed.observed(l))
	}
	return out
}

// sameObservation compares by what a likelihood makes of them, to rounding.
func sameObservation(a, b life.Observation) bool {
	around := life.Around(100)
	x, y := life.Mode(around, []life.Observation{a}), life.Mode(around, []life.Observation{b})
	return closeTo(x.Shape, y.Shape) && closeTo(x.Median, y.Median)
}

func closeTo(a, b float64) bool { return a-b < 1e-6*a && b-a < 1e-6*a }

func TestRuleOnlyShortens(t *testing.T) {
	good := func(d *diary) *diary {
		for i := 1; i <= 8; i++ {
			d.tick(date(t, "2025-01-01").AddDays(40*i).String(), "clean")
		}
		return d
	}
	s := good(newDiary(t).chore(clocks(every("20d")))).job("2025-12-01")
	if p := s.Clocks[0].Plan; p.By != PlanRule || p.Age != 20 || p.Log <= 20 {
		t.Errorf("a rule with a good history plans %+v, want 20 days by the rule, and the log's longer offer", p)
	}
	if s := good(newDiary(t).chore(clocks(lasts("20d")))).job("2025-12-01"); s.Clocks[0].Plan.Age <= 20 {
		t.Errorf("a life with a good history plans %+v, want longer", s.Clocks[0].Plan)
	}
	d := newDiary(t).chore(clocks(every("100d"))).tick("2025-02-10", "failed").tick("2025-03-22", "failed").tick("2025-05-01", "failed")
	if p := d.job("2025-05-02").Clocks[0].Plan; p.By != PlanLife || p.Age >= 40 {
		t.Errorf("a rule with failures at 40 days plans %+v, want shorter by the life", p)
	}
	d = newDiary(t).chore(clocks(lasts("100d"))).tick("2025-01-21", "failed")
	if p := d.job("2025-05-02").Clocks[0].Plan; p.By != PlanGuard || p.Age != 20 {
		t.Errorf("a life that failed within 20 days plans %+v, want those and no more", p)
	}
}

func TestCostsPlanTheCheapestAge(t *testing.T) {
	costs := func(planned, failure float64) func(*model.Chore) {
		return func(c *model.Chore) { c.Cost = &model.Cost{Planned: planned, Failure: failure} }
	}
	t.Run("on every clock, learning or not", func(t *testing.T) {
		// Shape 6 and a failure 1000 times as dear: the optimum is near median * ((1/999)/(ln 2 * 5))^(1/6) = 0.257 median.
		s := newDiary(t).chore(clocks(lasts("1000d"), lastsUsed("declared", 1000)), costs(1, 1000)).job("2025-01-02")
		for _, c := range s.Clocks {
			if c.Plan.By != PlanCost {
				t.Errorf("%s plans %+v", c.Kind, c.Plan)
			}
			near(t, string(c.Kind)+" plan", "257.2", c.Plan.Age, 1e-2)
		}
	})
	t.Run("never beyond the median", func(t *testing.T) {
		s := newDiary(t).chore(clocks(lasts("1000d")), costs(10, 10.1)).job("2025-01-02")
		if p := s.Clocks[0].Plan; p.By != PlanMedian || p.Age != 1000 {
			t.Errorf("plans %+v", p)
		}
	})
	t.Run("never beyond a rule", func(t *testing.T) {
		s := newDiary(t).chore(clocks(every("1000d")), costs(10, 14)).job("2025-01-02")
		if p := s.Clocks[0].Plan; p.By != PlanRule || p.Age != 1000 {
			t.Errorf("plans %+v", p)
		}
	})
	t.Run("fixed chores too", func(t *testing.T) {
		s := newDiary(t).chore(clocks(every("1000d")), costs(1, 1000), func(c *model.Chore) { c.Fixed = true }).job("2025-01-02")
		if p := s.Clocks[0].Plan; p.By != PlanCost {
			t.Errorf("plans %+v", p)
		}
	})
	t.Run("a heavy finding is judged without costs", func(t *testing.T) {
		d := newDiary(t).chore(clocks(every("100d")), costs(1, 1000)).tick("2025-03-02", "heavy")
		if got := observationsOf(d.book(), date(t, "2025-04-01"), "job"); !slices.EqualFunc(got, []life.Observation{life.Worn(60, 100)}, sameObservation) {
			t.Errorf("taught %v", got)
		}
	})
}

func TestEvidenceIsCounted(t *testing.T) {
	d := newDiary(t).chore(clocks(lasts("100d"), above1("prod")))
	d.tick("2025-02-01", "clean").tick("2025-03-01", "heavy").tick("2025-04-01", "failed").tick("2025-05-01", "").guess("2025-06-01")
	d.read("2025-06-20", "prod", 2).read("2025-06-21", "prod", 2).tick("2025-06-22", "light").tick("2025-07-22", "light")
	e := d.job("2025-08-01").Clocks[0].Evidence
	if e.Cycles != 7 || e.Good != 2 || e.Heavy != 1 || e.Failed != 1 || e.FailedAt != 0 || e.Untaught != 3 || len(e.FailAges) != 1 {
		t.Errorf("got %+v", e)
	}
	if a := e.FailAges[0]; a.Value != 31 || a.On.String() != "2025-04-01" || a.Exact {
		t.Errorf("failed at %+v", a)
	}
}

package schedule

import (
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/schedule/life"
)

func TestStates(t *testing.T) {
	d := newDiary(t).chore(clocks(every("30d"))).tick("2025-03-01", "") // due on the 31st
	for on, want := range map[string]State{
		"2025-03-05": StateAhead, "2025-03-23": StateAhead, "2025-03-24": StateSoon, "2025-03-30": StateSoon,
		"2025-03-31": StateDue, "2025-04-01": StateLate,
	} {
		s := d.job(on)
		if s.State != want || s.DaysLate != date(t, on).Sub(date(t, "2025-03-31")) {
			t.Errorf("on %s: %v, %d days late", on, s.State, s.DaysLate)
		}
	}
	// 30 days' rule has its median at 36 days.
	for on, want := range map[string]bool{"2025-04-06": false, "2025-04-07": true} {
		if s := d.job(on); s.PastLimit != want {
			t.Errorf("on %s: past the limit %v", on, s.PastLimit)
		}
	}
}

func TestPuttingOff(t *testing.T) {
	put := func(d *diary, on, until string) *diary {
		return d.did(on, model.PutOff{Chore: "job", Until: date(d, until)})
	}
	start := func() *diary { return newDiary(t).chore(clocks(every("30d"))).tick("2025-03-01", "") }
	for _, c := range []struct {
		name  string
		write func(*diary)
		on    string
		want  State
	}{
		{"until a later date", func(d *diary) { put(d, "2025-04-02", "2025-04-10") }, "2025-04-09", StateDeferred},
		{"over on the date itself", func(d *diary) { put(d, "2025-04-02", "2025-04-10") }, "2025-04-10", StateLate},
		{"not put off yet", func(d *diary) { put(d, "2025-04-02", "2025-04-10") }, "2025-04-01", StateLate},
		{"whatever its dates", func(d *diary) { put(d, "2025-03-02", "2025-04-10") }, "2025-03-05", StateDeferred},
		{"the latest counts, also when it is shorter", func(d *diary) {
			put(d, "2025-04-02", "2025-05-10")
			put(d, "2025-04-03", "2025-04-05")
		}, "2025-04-06", StateLate},
		{"of one date the later written counts", func(d *diary) {
			put(d, "2025-04-02", "2025-04-05")
			put(d, "2025-04-02", "2025-05-10")
		}, "2025-04-06", StateDeferred},
		{"a backdated one does not overrule", func(d *diary) {
			put(d, "2025-04-03", "2025-04-05")
			put(d, "2025-04-02", "2025-05-10")
		}, "2025-04-06", StateLate},
		{"done since", func(d *diary) { put(d, "2025-02-20", "2025-06-10") }, "2025-04-06", StateLate},
		{"on the day of the tick, before it", func(d *diary) {
			put(d, "2025-04-02", "2025-06-10")
			d.tick("2025-04-02", "")
		}, "2025-05-03", StateLate},
		{"on the day of the tick, after it", func(d *diary) {
			d.tick("2025-04-02", "")
			put(d, "2025-04-02", "2025-06-10")
		}, "2025-05-03", StateDeferred},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := start()
			c.write(d)
			if s := d.job(c.on); s.State != c.want || (s.Deferred != nil) != (c.want == StateDeferred) {
				t.Errorf("got %v (%v), want %v", s.State, s.Deferred, c.want)
			}
		})
	}
	t.Run("idle stays idle", func(t *testing.T) {
		d := newDiary(t).chore(clocks(everyUsed("water", 10)))
		if s := put(d, "2025-03-02", "2025-06-10").job("2025-04-01"); s.State != StateIdle {
			t.Errorf("got %v", s.State)
		}
	})
}

func TestWhoIsInTheRound(t *testing.T) {
	for _, c := range []struct {
		name  string
		write func(*diary)
		on    string
		want  bool
	}{
		{"in service", func(*diary) {}, "2025-01-01", true},
		{"not yet in service, never ticked", func(*diary) {}, "2024-12-31", false},
		{"not yet in service, but ticked", func(d *diary) { d.tick("2024-12-01", "") }, "2024-12-31", true},
		{"ticked only later", func(d *diary) { d.tick("2024-12-01", "") }, "2024-11-30", false},
		{"the chore retired today", func(d *diary) {
			d.chore(clocks(every("30d")), func(c *model.Chore) { c.Retired = date(d, "2025-03-01") })
		}, "2025-03-01", false},
		{"the chore retires tomorrow", func(d *diary) {
			d.chore(clocks(every("30d")), func(c *model.Chore) { c.Retired = date(d, "2025-03-01") })
		}, "2025-02-28", true},
		{"the component retired", func(d *diary) {
			d.lines(`{"kind":"component","id":"part","name":"Part","place":"cellar","reach":1,"access_minutes":10,"in_service":"2025-01-01","retired":"2025-03-01"}`)
		}, "2025-03-02", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := newDiary(t).chore(clocks(every("30d")))
			c.write(d)
			if got := len(d.round(c.on).Standings) == 1; got != c.want {
				t.Errorf("in the round %v, want %v", got, c.want)
			}
		})
	}
}

func TestRisk(t *testing.T) {
	rule := life.Around(life.RuleMedian(30, 0.20))
	w := life.Weibull{Shape: rule.Shape, Median: rule.Median}
	run := func(change func(*model.Chore), clock model.Clock) float64 {
		return newDiary(t).chore(clocks(clock), change).tick("2025-03-01", "").job("2025-03-21").Risk
	}
	same := func(*model.Chore) {}
	equalNumber(t, "calendar", run(same, every("30d")), 3*(1-(1-w.FailedBy(27))/(1-w.FailedBy(20))))
	equalNumber(t, "hidden", run(func(c *model.Chore) { c.Hidden = true }, every("30d")), 3*w.FailedBy(27))
	equalNumber(t, "test", run(func(c *model.Chore) { c.Work = model.WorkTest }, every("30d")), 3*w.FailedBy(27))
	litres := life.Weibull{Shape: 6, Median: life.RuleMedian(200, 0.20)}
	equalNumber(t, "usage, 10 L a day and none logged", run(same, everyUsed("declared", 200)), 3*litres.FailsWithin(200, 70))
	for consequence, weight := range map[int]float64{1: 1, 2: 3, 3: 10} {
		s := newDiary(t).chore(clocks(every("30d")), func(c *model.Chore) { c.Consequence = consequence }).tick("2025-03-01", "").job("2025-03-21")
		equalNumber(t, "weight", s.Risk/s.Chance, weight)
	}
}

func TestOrder(t *testing.T) {
	r := &Round{}
	add := func(id string, state State, risk float64, due string) {
		s := Standing{State: state, Risk: risk}
		s.Chore.ID = model.ID(id)
		if due != "" {
			s.Due = date(t, due)
		}
		r.Standings = append(r.Standings, s)
	}
	add("n", StateIdle, 0, "")
	add("m", StateAhead, 0.5, "2025-06-01")
	add("l", StateDeferred, 5, "2025-01-01")
	add("k", StateSoon, 0.1, "2025-03-05")
	add("j", StateDue, 0.1, "2025-03-01")
	add("i", StateLate, 0.2, "2025-02-01")
	add("h", StateLate, 0.2, "2025-02-01")
	add("g", StateLate, 0.2000000004, "2025-01-01") // the same risk to 9 decimals, and due earlier
	add("f", StateLate, 0.2000000006, "2025-02-09") // 0.200000001
	add("e", StateLate, 9, "2025-02-20")
	r.Standings = inOrder(r.Standings)
	got := ""
	for _, s := range r.Standings {
		got += string(s.Chore.ID)
	}
	if got != "efghijklmn" {
		t.Errorf("order %s", got)
	}
}

func TestFaults(t *testing.T) {
	fault := func(d *diary, on string) *diary { return d.did(on, model.Fault{Component: "part", Note: "drips"}) }
	for _, c := range []struct {
		name  string
		write func(*diary)
		want  int
	}{
		{"open", func(d *diary) { fault(d, "2025-03-05") }, 1},
		{"reported later", func(d *diary) { fault(d, "2025-03-11") }, 0},
		{"ticked since", func(d *diary) { fault(d, "2025-03-05").tick("2025-03-06", "") }, 0},
		{"ticked before", func(d *diary) { fault(d.tick("2025-03-04", ""), "2025-03-05") }, 1},
		{"ticked that day, after", func(d *diary) { fault(d, "2025-03-05").tick("2025-03-05", "") }, 0},
		{"ticked that day, before", func(d *diary) { fault(d.tick("2025-03-05", ""), "2025-03-05") }, 1},
		{"ticked only after the date", func(d *diary) { fault(d, "2025-03-05").tick("2025-03-11", "") }, 1},
		{"struck", func(d *diary) {
			fault(d, "2025-03-05").did("2025-03-06", model.Amend{Entry: model.Seq(len(d.entries)), Strike: true})
		}, 0},
		{"repaired", func(d *diary) {
			fault(d, "2025-03-05").did("2025-03-06", model.Repair{Fault: model.Seq(len(d.entries))})
		}, 0},
		{"repaired only after the date", func(d *diary) {
			fault(d, "2025-03-05").did("2025-03-11", model.Repair{Fault: model.Seq(len(d.entries))})
		}, 1},
		{"one of two repaired", func(d *diary) {
			fault(fault(d, "2025-03-05"), "2025-03-02").did("2025-03-06", model.Repair{Fault: model.Seq(len(d.entries))})
		}, 1},
		{"the repair struck", func(d *diary) {
			fault(d, "2025-03-05").did("2025-03-06", model.Repair{Fault: model.Seq(len(d.entries))}).
				did("2025-03-07", model.Amend{Entry: model.Seq(len(d.entries)), Strike: true})
		}, 1},
		{"two", func(d *diary) { fault(fault(d, "2025-03-05"), "2025-03-02") }, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := newDiary(t).chore(clocks(every("30d")))
			c.write(d)
			faults := d.round("2025-03-10").Faults
			if len(faults) != c.want {
				t.Fatalf("%d faults, want %d", len(faults), c.want)
			}
			if c.want == 2 && faults[0].Since >= faults[1].Since {
				t.Error("the oldest doesn't stand first")
			}
		})
	}
}

func TestPlannedAt(t *testing.T) {
	d := newDiary(t).chore(clocks(every("30d"))).tick("2025-03-01", "")
	stamp := func(on string) string {
		planned, ok := PlannedAt(d.book(), "job", date(t, on))
		if ok == planned.IsZero() {
			t.Errorf("ok %v with %v", ok, planned)
		}
		return planned.String()
	}
	for on, want := range map[string]string{
		"2025-04-15": "2025-03-31",
		"2025-03-01": "2025-03-31", // the same day, after the tick that is there
		"2025-02-28": "",           // before it: it closes an older cycle
	} {
		if got := stamp(on); got != want {
			t.Errorf("a tick on %s is stamped %q, want %q", on, got, want)
		}
	}
	d.lines(`{"kind":"component","id":"part","name":"Part","place":"cellar","reach":1,"access_minutes":10,"in_service":"2025-04-10"}`)
	for on, want := range map[string]string{"2025-04-05": "", "2025-04-15": "2025-05-10"} {
		if got := stamp(on); got != want {
			t.Errorf("with a new part on 10 April, a tick on %s is stamped %q, want %q", on, got, want)
		}
	}
	d = newDiary(t).chore(clocks(everyUsed("water", 10)))
	if got := stamp("2025-03-01"); got != "" {
		t.Errorf("an idle chore's tick is stamped %q", got)
	}
	// What was logged after the tick's date did not count on that date.
	d = newDiary(t).chore(clocks(everyUsed("declared", 100))).use("2025-01-01", "declared", 20).use("2025-01-06", "declared", 50).use("2025-01-20", "declared", 900)
	if got, want := stamp("2025-01-06"), d.job("2025-01-06").Planned.String(); got != want || got <= "2025-01-06" {
		t.Errorf("stamped %q, want %q", got, want)
	}
}

func TestCounts(t *testing.T) {
	d := newDiary(t).chore(clocks(every("30d"))).tick("2025-03-01", "")
	if c := d.round("2025-04-20").Counts; c != (Counts{Late: 1, PastLimit: 1, PastLimitHarm: 1}) {
		t.Errorf("got %+v", c)
	}
	d.did("2025-04-10", model.PutOff{Chore: "job", Until: date(t, "2025-06-01")})
	if c := d.round("2025-04-20").Counts; c != (Counts{Deferred: 1, PastLimitHarm: 1}) {
		t.Errorf("put off: got %+v", c)
	}
}

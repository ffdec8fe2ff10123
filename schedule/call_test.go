package schedule

import (
	"testing"

	"brine/wrasse/model"
)

// opened is a book in which renewing "job" calls for "feel" within a day and for "smell" within two weeks; cleaning
// "lid" calls for "feel" within three days.
func opened(t testing.TB) *diary {
	d := newDiary(t)
	chore := func(id model.ID, work model.Work, clock model.Clock, then ...model.Call) {
		d.add(model.NewEntry(0, model.Chore{ID: id, Component: "part", Name: string(id), Work: work, Minutes: 5, Consequence: 2, Clocks: clocks(clock), Then: then}))
	}
	chore("feel", model.WorkTest, every("1mo"))
	chore("smell", model.WorkRead, above1("prod"))
	chore("lid", model.WorkClean, every("1y"), model.Call{Chore: "feel", After: mustSpan("3d")})
	chore("job", model.WorkRenew, every("6mo"), model.Call{Chore: "feel", After: mustSpan("1d")}, model.Call{Chore: "smell", After: mustSpan("2w")})
	return d
}

func ticked(id model.ID) model.Tick { return model.Tick{Chore: id} }

func TestCallsHoldUntilTicked(t *testing.T) {
	for _, c := range []struct {
		name                string
		log                 func(d *diary)
		chore               model.ID
		on                  string
		planned, limit, due string
		state               State
		called              bool
	}{
		// feel goes by its month, from the day it went into service: 1 Jan and 1 Feb, limit at 31 / 0.828.
		{"nothing was opened", func(d *diary) {}, "feel", "2025-01-10", "2025-02-01", "2025-02-07", "2025-02-01", StateAhead, false},
		{"the day after", func(d *diary) { d.did("2025-01-10", ticked("job")) }, "feel", "2025-01-10", "2025-01-11", "2025-01-11", "2025-01-11", StateSoon, true},
		{"then it is due", func(d *diary) { d.did("2025-01-10", ticked("job")) }, "feel", "2025-01-11", "2025-01-11", "2025-01-11", "2025-01-11", StateDue, true},
		{"a day later it is late, and past its limit", func(d *diary) { d.did("2025-01-10", ticked("job")) }, "feel", "2025-01-12", "2025-01-11", "2025-01-11", "2025-01-11", StateLate, true},
		{"not before the tick", func(d *diary) { d.did("2025-01-10", ticked("job")) }, "feel", "2025-01-09", "2025-02-01", "2025-02-07", "2025-02-01", StateAhead, false},
		{"ticked, it goes by its month", func(d *diary) { d.did("2025-01-10", ticked("job")).did("2025-01-11", ticked("feel")) },
			"feel", "2025-01-12", "2025-02-11", "2025-02-17", "2025-02-11", StateAhead, false},
		{"ticked just before, it is called all the same", func(d *diary) { d.did("2025-01-10", ticked("feel")).did("2025-01-10", ticked("job")) },
			"feel", "2025-01-10", "2025-01-11", "2025-01-11", "2025-01-11", StateSoon, true},
		{"ticked on the day, behind", func(d *diary) { d.did("2025-01-10", ticked("job")).did("2025-01-10", ticked("feel")) },
			"feel", "2025-01-10", "2025-02-10", "2025-02-16", "2025-02-10", StateAhead, false},
		{"a guess calls nothing", func(d *diary) { d.guess("2025-01-10") }, "feel", "2025-01-10", "2025-02-01", "2025-02-07", "2025-02-01", StateAhead, false},
		{"the earliest of several", func(d *diary) {
			d.did("2025-01-10", ticked("lid")).did("2025-01-11", ticked("job")).did("2025-01-20", ticked("job"))
		},
			"feel", "2025-01-20", "2025-01-12", "2025-01-12", "2025-01-12", StateLate, true},
		{"its own date comes first", func(d *diary) { d.did("2025-01-30", ticked("lid")) }, "feel", "2025-01-30", "2025-02-01", "2025-02-02", "2025-02-01", StateSoon, true},
		{"one that no clock dates", func(d *diary) { d.did("2025-01-20", ticked("job")) }, "smell", "2025-01-20", "2025-02-03", "2025-02-03", "2025-02-03", StateAhead, true},
		{"by the calendar", func(d *diary) {
			d.add(model.NewEntry(0, model.Chore{ID: "job", Component: "part", Name: "Job", Work: model.WorkRenew, Minutes: 20, Consequence: 2, Clocks: clocks(every("6mo")),
				Then: []model.Call{{Chore: "feel", After: mustSpan("1mo")}}})).did("2025-01-31", ticked("feel")).did("2025-01-31", ticked("job"))
		}, "feel", "2025-02-01", "2025-02-28", "2025-02-28", "2025-02-28", StateAhead, true},
		{"put off since, it waits", func(d *diary) {
			d.did("2025-01-10", ticked("job")).did("2025-01-10", model.PutOff{Chore: "feel", Until: date(d, "2025-01-15")})
		}, "feel", "2025-01-12", "2025-01-11", "2025-01-11", "2025-01-11", StateDeferred, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := opened(t)
			c.log(d)
			s := find(t, d.round(c.on), c.chore)
			equalDate(t, "planned", s.Planned, c.planned)
			equalDate(t, "limit", s.Limit, c.limit)
			equalDate(t, "due", s.Due, c.due)
			if s.State != c.state || s.PastLimit != (date(t, c.on) > date(t, c.limit)) {
				t.Errorf("state %s, past limit %v, want %s", s.State, s.PastLimit, c.state)
			}
			last := s.Clocks[len(s.Clocks)-1]
			if (last.Call != nil) != c.called || len(s.Clocks) > len(s.Chore.Clocks)+1 {
				t.Errorf("%d clocks, called %v", len(s.Clocks), last.Call)
			}
		})
	}
}

// A call that governs is as a crossing that is not confirmed: a chance of one half, times 3 for money or water; no lead
// is taken off, however hard the part is to reach.
func TestCallsWeighAsOneCrossing(t *testing.T) {
	d := opened(t)
	d.lines(`{"kind":"component","id":"part","name":"Part","place":"cellar","reach":5,"access_minutes":10,"in_service":"2025-01-01","stage":"membrane"}`)
	s := find(t, d.did("2025-01-10", ticked("job")).round("2025-01-10"), "feel")
	g := s.Governing()
	if g == nil || g.Call == nil || g.Call.By.ID != "job" || g.Kind != model.ClockReading {
		t.Fatalf("governs %+v", g)
	}
	equalDate(t, "called on", g.Call.On, "2025-01-10")
	equalNumber(t, "chance", s.Chance, 0.5)
	equalNumber(t, "risk", s.Risk, 1.5)
	equalNumber(t, "lead", float64(s.LeadDays), 0)
}

// What is called is stamped with the date it was called for.
func TestStampOfWhatWasCalled(t *testing.T) {
	b := opened(t).did("2025-01-10", ticked("job")).book()
	planned, ok := PlannedAt(b, "feel", date(t, "2025-01-13"))
	if !ok {
		t.Fatal("no planned date")
	}
	equalDate(t, "planned", planned, "2025-01-11")
}

// A later visit than that which was called for goes on by the chore's own step.
func TestCalledOnceInTheYearAhead(t *testing.T) {
	r := opened(t).did("2025-01-10", ticked("job")).round("2025-01-10")
	var on []string
	for _, v := range r.Visits() {
		if v.Standing.Chore.ID == "feel" {
			on = append(on, v.On.String())
		}
	}
	if len(on) < 3 || on[0] != "2025-01-11" || on[1] != "2025-02-11" {
		t.Errorf("visits on %v", on)
	}
}

package phrase

import (
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/schedule"
)

var today = model.NewDate(2026, time.November, 25)

// demo is the round of the demo as it stands today.
func demo(t *testing.T) (*ledger.Book, *schedule.Round) {
	t.Helper()
	entries := starter.Demo(today)
	for i := range entries {
		entries[i].Seq = model.Seq(i + 1)
	}
	b, err := ledger.Fold(entries)
	if err != nil {
		t.Fatal(err)
	}
	return b, schedule.Make(b, today)
}

func standing(t *testing.T, r *schedule.Round, chore model.ID) *schedule.Standing {
	t.Helper()
	for i := range r.Standings {
		if r.Standings[i].Chore.ID == chore {
			return &r.Standings[i]
		}
	}
	t.Fatalf("no chore %s", chore)
	return nil
}

func TestDays(t *testing.T) {
	cases := []struct {
		d                        model.Date
		day, weekday, in, column string
	}{
		{today, "25 Nov", "Wed 25 Nov", "today", "25 Nov"},
		{today.AddDays(1), "26 Nov", "Thu 26 Nov", "tomorrow", "26 Nov"},
		{today.AddDays(-1), "24 Nov", "Tue 24 Nov", "yesterday", "24 Nov"},
		{today.AddDays(12), "7 Dec", "Mon 7 Dec", "in 12 d", " 7 Dec"},
		{today.AddDays(-12), "13 Nov", "Fri 13 Nov", "12 d ago", "13 Nov"},
		{today.AddDays(60), "24 Jan", "Sun 24 Jan", "in 60 d", "24 Jan"},
		{today.AddDays(400), "30 Dec 2027", "Thu 30 Dec 2027", "in 400 d", "30 Dec 2027"},
		{today.AddDays(-400), "21 Oct 2025", "Tue 21 Oct 2025", "400 d ago", "21 Oct 2025"},
	}
	for _, c := range cases {
		if got := [4]string{Day(c.d, today), Weekday(c.d, today), InDays(c.d, today), aligned(c.d, today)}; got != [4]string{c.day, c.weekday, c.in, c.column} {
			t.Errorf("%s: %q", c.d, got)
		}
	}
}

func TestWhen(t *testing.T) {
	due := func(state schedule.State, days int) schedule.Standing {
		return schedule.Standing{State: state, HasDue: true, Due: today.AddDays(days), DaysLate: -days, Limit: today.AddDays(days + 30)}
	}
	past := due(schedule.StateLate, -40)
	past.PastLimit, past.Limit = true, today.AddDays(-3)
	put := due(schedule.StateDeferred, -40)
	put.Deferred = &ledger.Logged[model.PutOff]{What: model.PutOff{Until: today.AddDays(10)}}
	cases := []struct {
		s           schedule.Standing
		long, short string
	}{
		{past, "limit +3 d", "lim+3d"},
		{due(schedule.StateLate, -9), "due +9 d", "due+9d"},
		{due(schedule.StateDue, 0), "today", "today"},
		{due(schedule.StateSoon, 1), "tomorrow", "tomorrow"},
		{due(schedule.StateSoon, 3), "in 3 d", "in 3 d"},
		{put, "till 5 Dec", "> 5 Dec"},
		{due(schedule.StateAhead, 12), "7 Dec", "7 Dec"},
		{due(schedule.StateAhead, 400), "Dec 2027", "Dec 2027"},
		{schedule.Standing{State: schedule.StateIdle}, "no date", "no date"},
	}
	for _, c := range cases {
		if got := When(&c.s, today); got != c.long {
			t.Errorf("%s: %q, want %q", c.s.State, got, c.long)
		}
		if got := WhenShort(&c.s, today); got != c.short || len(got) > 8 {
			t.Errorf("%s: %q, want %q", c.s.State, got, c.short)
		}
	}
}

func TestClocksOfTheDemo(t *testing.T) {
	b, r := demo(t)
	cases := []struct {
		chore model.ID
		want  []Line
	}{
		{"renew-resin", []Line{
			{Head: "reading", Text: "after resin 0 0 1 2 3 ppm: over 1 since 22 Nov, read twice", Decides: true},
			{Head: "load", Text: "139 of about 199 meq taken up, 2.4 meq a day", Dates: "by 19 Dec  lim 26 Dec"},
			{Head: "calendar", Text: "56 of 365 d", Why: "every year, by rule", Dates: "by 30 Sep 2027  lim 15 Dec 2027"},
		}},
		{"clean-impeller", []Line{
			{Head: "usage", Text: "19 of 19 batches, 4.2 a month", Dates: "by 21 Nov  lim 27 Dec", Decides: true},
			{Head: "calendar", Text: "134 of 184 d", Why: "every 6 months, by rule", Dates: "by 14 Jan  lim 21 Feb"},
		}},
	}
	for _, c := range cases {
		got := Clocks(b, standing(t, r, c.chore), today)
		if len(got) != len(c.want) {
			t.Fatalf("%s: %d lines", c.chore, len(got))
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s: %+v\nwant %+v", c.chore, got[i], c.want[i])
			}
		}
	}
}

func TestLeadAndWhatWasLearnt(t *testing.T) {
	b, r := demo(t)
	s := standing(t, r, "clean-impeller")
	for _, c := range []struct{ got, want string }{
		{Lead(s, today), "due 20 days before 21 Nov, because parts this hard to reach get done late"},
		{LeadFigures(s), "jobs at reach 4 come 15 % late here (11 ticks)"},
		{Learnt(b, s), "half of yours lasted 24 batches; 19 is planned: a good word never counts for less than a bad one (you began with 30)"},
		{LearntFrom(b, s, today), "4 so far: 3 heavy, 1 still good"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
	for i := range r.Standings {
		s := &r.Standings[i]
		if g := s.Governing(); g != nil && g.LeadDays > 0 && (Lead(s, today) == "" || LeadFigures(s) == "") {
			t.Errorf("%s is brought forward from %s to %s and nothing says why", s.Chore.ID, s.Planned, s.Due)
		}
		for _, c := range s.Clocks {
			if c.Learns && c.Observations > 0 && (Learnt(b, s) == "" || LearntFrom(b, s, today) == "") {
				t.Errorf("%s has learnt and nothing says what", s.Chore.ID)
			}
		}
	}
}

// TestLeadSaysWhatHeldIt: the slip named and the days taken off must not contradict each other.
func TestLeadSaysWhatHeldIt(t *testing.T) {
	for _, c := range []struct {
		days, ticks int
		held        schedule.LeadHeld
		why, rests  string
	}{
		{1, 0, schedule.HeldNot, "due 1 day before 25 Nov", "jobs at reach 4 are taken to come 30 % late"},
		{30, 5, schedule.HeldNot, "due 30 days before 25 Nov", "jobs at reach 4 come 30 % late here (5 ticks)"},
		{9, 5, schedule.HeldQuarter, "due 9 days before 25 Nov", "jobs at reach 4 come 30 % late here (5 ticks); a quarter at most is taken off"},
		{28, 1, schedule.HeldDays, "due 28 days before 25 Nov", "jobs at reach 4 come 30 % late here (1 tick); four weeks at most are taken off"},
	} {
		s := &schedule.Standing{
			Clocks: []schedule.ClockStanding{{Planned: today, Due: today.AddDays(-c.days), LeadDays: c.days, LeadHeld: c.held}},
			Lead:   schedule.Lead{Grade: 4, Slip: 0.3, Ticks: c.ticks},
		}
		if got, want := Lead(s, today), c.why+", because parts this hard to reach get done late"; got != want {
			t.Errorf("%q, want %q", got, want)
		}
		if got := LeadFigures(s); got != c.rests {
			t.Errorf("%q, want %q", got, c.rests)
		}
	}
}

// TestWhatDecidedALearntPlan has a sentence for each way in which an age may come to be planned.
func TestWhatDecidedALearntPlan(t *testing.T) {
	b, _ := demo(t)
	price := schedule.Price{Hands: 49, Minutes: 99, Weight: 10, Care: 1}
	for _, c := range []struct {
		by           schedule.PlanBy
		rule         model.Rule
		life, learnt string
	}{
		{schedule.PlanLife, model.RuleLasts, "usually lasts 30 batches; 1 in 25 is foul by then, weighed against 49 min of work and spares worth 50 min",
			"half of yours lasted 24 batches, so 20 is planned (you began with 30)"},
		{schedule.PlanRule, model.RuleEvery, "every 30 batches, by rule", "half of yours lasted 24 batches; the rule stands, every 30 batches"},
		{schedule.PlanGuess, model.RuleLasts, "usually lasts 30 batches; on that word alone nothing is done before 20 batches", ""},
		{schedule.PlanCost, model.RuleLasts, "half of them last 24 batches, cheapest renewed at 20 batches",
			"half of yours lasted 24 batches, and at 20 batches it costs least in the long run (you began with 30)"},
		{schedule.PlanMedian, model.RuleLasts, "half of them last 24 batches, where cost alone would go longer",
			"half of yours lasted 24 batches, and no more is planned: cost alone would go on (you began with 30)"},
		{schedule.PlanGuard, model.RuleLasts, "", "the last one was found stopped at 20 batches, so none is left longer (you began with 30)"},
		{schedule.PlanWorse, model.RuleLasts, "", "half of yours lasted 24 batches; 20 is planned: a good word never counts for less than a bad one (you began with 30)"},
		{schedule.PlanBefore, model.RuleLasts, "", "good ones never shorten it: 20 batches, as before (you began with 30)"},
	} {
		k := schedule.ClockStanding{
			Kind: model.ClockUsage, Clock: model.Clock{Kind: model.ClockUsage, Counter: "batches", Amount: 30, Rule: c.rule}, Unit: "batch",
			Life: 30, Median: 24, Plan: schedule.Plan{Age: 20, Quantile: 0.04, By: c.by}, Price: price, Learns: true, Observations: 1,
		}
		s := &schedule.Standing{Chore: model.Chore{Work: model.WorkClean}, Clocks: []schedule.ClockStanding{k}}
		if got := life(b, s, &k); c.life != "" && got != c.life {
			t.Errorf("%s: %q, want %q", c.by, got, c.life)
		}
		if got := Learnt(b, s); c.learnt != "" && got != c.learnt {
			t.Errorf("%s: %q, want %q", c.by, got, c.learnt)
		}
	}
}

// TestReckoned says what of an age nobody logged.
func TestReckoned(t *testing.T) {
	b, _ := demo(t)
	since, until := model.NewDate(2026, time.April, 1), model.NewDate(2026, time.May, 20)
	record := model.NewDate(2026, time.January, 3)
	for _, c := range []struct {
		k    schedule.ClockStanding
		want string
	}{
		{schedule.ClockStanding{}, ""},
		{schedule.ClockStanding{Before: schedule.Before{Record: record}}, "not counted before 3 Jan 2026"},
		{schedule.ClockStanding{Before: schedule.Before{Record: record, Known: true}}, ""},
		{schedule.ClockStanding{Before: schedule.Before{Record: record, Known: true, Stated: true, Amount: 1046, PerDay: 120.0 / 7}},
			"began before the record: 1046 L reckoned at your 120 L a week"},
		{schedule.ClockStanding{Before: schedule.Before{Record: record, Known: true, Amount: 700, PerDay: 10}},
			"began before the record: 700 L reckoned at 70 L a week"},
		{schedule.ClockStanding{Silences: []schedule.Silence{{Since: since, PerDay: 50, Amount: 900}}, Clock: model.Clock{FeedRatio: 4}},
			"nothing logged since 1 Apr: counted on at 70 L a week"},
		{schedule.ClockStanding{Silences: []schedule.Silence{{Since: since, Until: until, PerDay: 10, Amount: 420}}},
			"420 L counted on for a time when nothing was logged"},
		{schedule.ClockStanding{Silences: []schedule.Silence{
			{Since: since, Until: until, PerDay: 10, Amount: 420}, {Since: until, Until: until + 60, PerDay: 10, Amount: 500}, {Since: until + 80, PerDay: 10}}},
			"nothing logged since 8 Aug: counted on at 70 L a week; 920 L counted on for 2 times when nothing was logged"},
	} {
		c.k.Kind, c.k.Unit, c.k.Clock.Counter = model.ClockUsage, "L", "water-made"
		if got := reckoned(b, &c.k, today); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestFixedSaysWhatStillMovesTheDate(t *testing.T) {
	b, _ := demo(t)
	kinds := func(lead int, kinds ...model.ClockKind) *schedule.Standing {
		s := &schedule.Standing{Chore: model.Chore{Fixed: true}, LeadDays: lead}
		for _, k := range kinds {
			s.Clocks = append(s.Clocks, schedule.ClockStanding{Kind: k})
		}
		return s
	}
	for _, c := range []struct {
		s    *schedule.Standing
		want string
	}{
		{kinds(0, model.ClockCalendar), "fixed: what is found doesn't move it"},
		{kinds(9, model.ClockCalendar), "fixed: what is found doesn't move it; reach does"},
		{kinds(0, model.ClockCalendar, model.ClockLoad), "fixed: what is found doesn't move it; use does"},
		{kinds(9, model.ClockUsage, model.ClockLoad, model.ClockReading),
			"fixed: what is found doesn't move it; use, readings and reach do"},
	} {
		if got := Change(b, c.s); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestReasonsForNoDate(t *testing.T) {
	b, _ := demo(t)
	cases := []struct {
		c    schedule.ClockStanding
		want string
	}{
		{schedule.ClockStanding{Kind: model.ClockUsage, Clock: model.Clock{Kind: model.ClockUsage, Counter: "water-made"}, Unlogged: true, Reason: schedule.ReasonNoRate, Unit: "L", Plan: schedule.Plan{Age: 1000}},
			"not counted yet; no date until there are two entries of water made"},
		{schedule.ClockStanding{Kind: model.ClockUsage, Clock: model.Clock{Kind: model.ClockUsage, Counter: "water-made"}, Reason: schedule.ReasonStill, Unit: "L", Used: 12, Plan: schedule.Plan{Age: 1000}},
			"12 of 1000 L; no date: water made stands still"},
		{schedule.ClockStanding{Kind: model.ClockLoad, Clock: model.Clock{Kind: model.ClockLoad, Inlet: "tds-membrane"}, Reason: schedule.ReasonNoInlet, Unit: "g", Plan: schedule.Plan{Age: 7}},
			"not counted yet; no date until TDS after the membrane has been read"},
	}
	for _, c := range cases {
		if got := progress(b, &c.c); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	limit := model.Clock{Kind: model.ClockReading, Gauge: "tds-product", Limit: 1, Bad: model.SideAbove}
	readings := []struct {
		reason schedule.Reason
		want   string
	}{
		{schedule.ReasonNoReadings, "after resin; change over 1 ppm; not read yet in this cycle"},
		{schedule.ReasonTooFew, "after resin; change over 1 ppm; too few readings for a forecast (5 dates over 2 weeks)"},
		{schedule.ReasonNoTrend, "after resin; change over 1 ppm; no trend, so no date"},
		{schedule.ReasonAway, "after resin; change over 1 ppm; moving away from it, so no date"},
		{schedule.ReasonFar, "after resin; change over 1 ppm; the trend gets there in two years or more"},
	}
	for _, c := range readings {
		if got := reading(b, &schedule.ClockStanding{Kind: model.ClockReading, Clock: limit, Unit: "ppm", Reason: c.reason}, today); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	once := schedule.ClockStanding{Kind: model.ClockReading, Clock: limit, Unit: "ppm", Crossed: true, Since: today, Recent: []schedule.Point{{On: today, Value: 2}}}
	if got, want := reading(b, &once, today), "after resin 2 ppm: over 1 on 25 Nov, one reading beyond: read again before you act"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestAmountsHaveNoMoreDigitsThanTheyDeserve(t *testing.T) {
	b, _ := demo(t)
	cases := []struct {
		v           float64
		unit        string
		rough, plan string
	}{
		{0, "L", "0 L", "0 L"},
		{0.0678, "g", "0.068 g", "0.0678 g"},
		{4.716, "g", "4.7 g", "4.72 g"},
		{20.16, "batch", "20 batches", "20.2 batches"},
		{1, "batch", "1 batch", "1 batch"},
		{1234.5, "L", "1235 L", "1235 L"},
		{99.6, "d", "100 d", "99.6 d"},
	}
	for _, c := range cases {
		if got := rough(b, c.v, c.unit); got != c.rough {
			t.Errorf("rough %v: %q, want %q", c.v, got, c.rough)
		}
		if got := Amount(b, c.v, c.unit); got != c.plan {
			t.Errorf("%v: %q, want %q", c.v, got, c.plan)
		}
	}
}

func TestCounts(t *testing.T) {
	_, r := demo(t)
	if got, want := Counts(r, false), "1 broken · 1 past limit · 2 late · 1 today"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := Counts(r, true), "1 broken · 1 limit · 2 late · 1 today"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := Now(r), "5 now"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := Counts(new(schedule.Round), false), "nothing due"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestSilentCounters(t *testing.T) {
	log := func(last int) *ledger.Book {
		use := func(day int) model.Entry {
			v := 20.0
			return model.NewEntry(today.AddDays(day), model.Usage{Counter: "water", Amount: &v})
		}
		entries := []model.Entry{
			model.NewEntry(today.AddDays(-300), model.BookDef{Name: "B", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}}),
			model.NewEntry(today.AddDays(-300), model.Place{ID: "p", Name: "P"}),
			model.NewEntry(today.AddDays(-300), model.Component{ID: "c", Name: "C", Place: "p", Reach: 1}),
			model.NewEntry(today.AddDays(-300), model.Counter{ID: "water", Name: "Water made", Unit: "L", Style: model.StyleAmount}),
			model.NewEntry(today.AddDays(-300), model.Chore{ID: "k", Component: "c", Name: "k", Work: model.WorkRenew, Minutes: 5, Consequence: 1,
				Clocks: []model.Clock{{Kind: model.ClockUsage, Counter: "water", Amount: 1000, Rule: model.RuleLasts}}}),
		}
		for day := last - 35; day <= last; day += 7 {
			entries = append(entries, use(day))
		}
		for i := range entries {
			entries[i].Seq = model.Seq(i + 1)
		}
		b, err := ledger.Fold(entries)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	silent := func(b *ledger.Book) []string { return Silent(b, schedule.Make(b, today)) }
	if got := silent(log(-28)); len(got) != 0 {
		t.Errorf("four times the gap is not yet silence: %q", got)
	}
	if got := silent(log(-29)); len(got) != 1 || got[0] != "Water made: nothing logged since 27 Oct, usually every 7 d; counted on at 20 L a week" {
		t.Errorf("%q", got)
	}
}

func TestOrders(t *testing.T) {
	b := new(ledger.Book)
	var entries []model.Entry
	for _, name := range []string{"carbon", "ring", "salt", "uncounted"} {
		entries = append(entries, model.NewEntry(today, model.Spare{ID: model.ID(name), Name: name, Unit: "pc", LeadDays: 7}))
	}
	for _, name := range []string{"carbon", "ring", "salt"} {
		entries = append(entries, model.NewEntry(today, model.Stock{Spare: model.ID(name), Change: 1}))
	}
	for i := range entries {
		entries[i].Seq = model.Seq(i + 1)
	}
	b, err := b.Extend(entries)
	if err != nil {
		t.Fatal(err)
	}
	forecast := func(id model.ID, name string, onHand float64, in int) schedule.SpareForecast {
		return schedule.SpareForecast{Spare: model.Spare{ID: id, Name: name, Unit: "pc"}, OnHand: onHand, OrderBy: today.AddDays(in)}
	}
	cases := []struct {
		shelf []schedule.SpareForecast
		want  string
	}{
		{nil, ""},
		{[]schedule.SpareForecast{forecast("carbon", "Carbon block", 1, 8)}, ""},
		{[]schedule.SpareForecast{forecast("carbon", "Carbon block", 1, 7)}, "order carbon block by 2 Dec (1 pc left)"},
		{[]schedule.SpareForecast{forecast("ring", "O-ring", 0, -3), forecast("carbon", "Carbon block", 1, 2), forecast("salt", "Salt", 1, 30)}, "order O-ring now (0 pc left), and 1 more"},
		{[]schedule.SpareForecast{{Spare: model.Spare{ID: "uncounted", Name: "Resin", Unit: "pc"}}}, ""},
		{[]schedule.SpareForecast{{Spare: model.Spare{ID: "salt", Name: "Salt", Unit: "kg"}, OnHand: 9}}, ""},
	}
	for _, c := range cases {
		if got := Order(b, c.shelf, today); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestRisk(t *testing.T) {
	at := func(p float64, consequence int, work model.Work) *schedule.Standing {
		return &schedule.Standing{Chance: p, Chore: model.Chore{Consequence: consequence, Work: work}, Clocks: make([]schedule.ClockStanding, 1)}
	}
	hidden := at(0.9999, 3, model.WorkRenew)
	hidden.Chore.Hidden = true
	_, r := demo(t)
	cases := []struct {
		s    *schedule.Standing
		want string
	}{
		{at(0.344, 2, model.WorkClean), "a chance of 34 % to foul up within a week, which costs money or water"},
		{at(0.97, 1, model.WorkClean), "almost sure to foul up within a week, which looks bad"},
		{at(0.0001, 1, model.WorkRenew), "a chance of under 1 % to be spent within a week, which looks bad"},
		{at(0.9999, 3, model.WorkTest), "left unchecked it endangers animals or people"},
		{at(0.9999, 3, model.WorkRead), "left unchecked it endangers animals or people"},
		{hidden, "almost surely worn out by now, which endangers animals or people"},
		{standing(t, r, "renew-resin"), "over its threshold now, which costs money or water"},
	}
	for _, c := range cases {
		if got := Risk(c.s); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestMoreThanAVesselHolds(t *testing.T) {
	b, _ := demo(t)
	tuesday := today.AddDays(6)
	for _, c := range []struct {
		o    schedule.OnHand
		want string
	}{
		{schedule.OnHand{Level: 15, Mixes: []schedule.Mix{{By: tuesday, Litres: 65}}}, ""},
		{schedule.OnHand{Level: 15, Mixes: []schedule.Mix{{By: tuesday, Litres: 70}}}, "it holds 65 L more; the rest after the first draw"},
		{schedule.OnHand{Level: 15, Mixes: []schedule.Mix{{By: tuesday, Litres: 70}}, Out: []schedule.Outflow{{On: today, Litres: 10}}}, ""},
		{schedule.OnHand{Level: 10, Missing: 100, Over: 30}, "it holds 70 L more; the rest after the first draw"},
	} {
		c.o.Vessel.Capacity = 80
		if got := Over(b, &c.o); got != c.want {
			t.Errorf("%+v: %q, want %q", c.o, got, c.want)
		}
	}
}

package schedule

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
)

func withSpare(quantity float64) func(*model.Chore) {
	return func(c *model.Chore) { c.Spares = []model.SpareUse{{Spare: "filter", Quantity: quantity}} }
}

func TestVisits(t *testing.T) {
	for _, c := range []struct {
		name   string
		clocks []model.Clock
		write  func(*diary)
		on     string
		first  string
		second string // none: one visit only
		count  int
	}{
		{"from the due date, every step", clocks(every("100d")), nil, "2025-03-01", "2025-04-11", "2025-07-20", 4},
		{"from today when it is late", clocks(every("100d")), nil, "2025-06-01", "2025-06-01", "2025-09-09", 4},
		{"the shortest step of the aged clocks", clocks(every("100d"), everyUsed("declared", 95)), nil, "2025-03-01", "2025-03-01", "2025-03-11", 37},
		{"a step is at least a day", clocks(everyUsed("declared", 1)), nil, "2025-03-01", "2025-03-01", "2025-03-02", 365},
		{"readings only: its one date", clocks(above1("prod")), func(d *diary) { d.read("2025-02-01", "prod", 2) }, "2025-03-01", "2025-03-01", "", 1},
		{"idle: none", clocks(above1("prod")), nil, "2025-03-01", "", "", 0},
		{"due after the year: none", clocks(every("3y")), nil, "2025-03-01", "", "", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := newDiary(t).chore(c.clocks)
			if c.write != nil {
				c.write(d)
			}
			visits := d.round(c.on).Visits()
			if len(visits) != c.count {
				t.Fatalf("%d visits, want %d", len(visits), c.count)
			}
			if c.count > 0 {
				equalDate(t, "first", visits[0].On, c.first)
			}
			if c.second != "" {
				equalDate(t, "second", visits[1].On, c.second)
			}
		})
	}
}

func TestShelf(t *testing.T) {
	shelf := func(stock float64, quantity float64, on string) SpareForecast {
		d := newDiary(t).chore(clocks(every("100d")), withSpare(quantity)).did("2025-01-01", model.Stock{Spare: "filter", Change: stock})
		return d.round(on).Shelf()[0]
	}
	t.Run("out when the third would be taken of two", func(t *testing.T) {
		// Due on 11 April, 20 July, 28 October: out on the last, less 14 days' lead and a week.
		f := shelf(2, 1, "2025-03-01")
		equalDate(t, "out", f.OutOn, "2025-10-28")
		equalDate(t, "order by", f.OrderBy, "2025-10-07")
		equalDate(t, "next use", f.NextUse, "2025-04-11")
		equalNumber(t, "used", f.Used, 4)
		equalNumber(t, "cost", f.YearCost, 32)
	})
	t.Run("out when it is past its date", func(t *testing.T) {
		// Four would do for the year; the second use, on 20 July, comes after the last day on the label.
		d := newDiary(t).chore(clocks(every("100d")), withSpare(1)).did("2025-01-01", model.Stock{Spare: "filter", Change: 4})
		filter, _ := d.book().Spare("filter")
		filter.Expires = date(t, "2025-07-19")
		d.did("2025-01-01", filter)
		f := d.round("2025-03-01").Shelf()[0]
		equalDate(t, "out", f.OutOn, "2025-07-20")
		equalDate(t, "order by", f.OrderBy, "2025-06-29")
		if f.Expired || d.job("2025-07-19").Spares[0].Expired {
			t.Error("it may be used on its last day")
		}
		if f := d.round("2025-07-20").Shelf()[0]; !f.Expired || !d.job("2025-07-20").Spares[0].Expired {
			t.Errorf("the day after: %+v", f)
		}
	})
	t.Run("enough", func(t *testing.T) {
		if f := shelf(4, 1, "2025-03-01"); !f.OutOn.IsZero() || !f.OrderBy.IsZero() {
			t.Errorf("out on %v", f.OutOn)
		}
	})
	t.Run("used up exactly is enough", func(t *testing.T) {
		if f := shelf(0.4, 0.1, "2025-03-01"); !f.OutOn.IsZero() {
			t.Errorf("out on %v", f.OutOn)
		}
	})
	t.Run("a negative stock is out already", func(t *testing.T) {
		d := newDiary(t).chore(clocks(every("100d")), withSpare(1)).did("2025-01-01", model.Stock{Spare: "filter"})
		f := d.did("2025-01-02", model.Stock{Spare: "filter", Change: -1}).round("2025-03-01").Shelf()[0]
		equalDate(t, "out", f.OutOn, "2025-03-01")
	})
	t.Run("nothing is told of what nobody has counted", func(t *testing.T) {
		d := newDiary(t).chore(clocks(every("100d")), withSpare(1)).tick("2025-01-01", "").did("2025-01-02", model.Stock{Spare: "filter", Change: -3})
		f := d.round("2025-03-01").Shelf()[0]
		if f.Counted || f.OnHand != 0 || !f.OutOn.IsZero() || !f.OrderBy.IsZero() || f.NextUse.IsZero() || f.Used == 0 {
			t.Errorf("%+v", f)
		}
		if s := d.job("2025-03-01"); s.Spares[0].Counted || s.Spares[0].OnHand != 0 {
			t.Errorf("the chore says %+v", s.Spares)
		}
		// What was used before the first count is no stock, a tick of its day neither.
		f = d.tick("2025-02-01", "").did("2025-02-01", model.Stock{Spare: "filter", Change: 5}).tick("2025-02-02", "").round("2025-03-01").Shelf()[0]
		if !f.Counted {
			t.Error("counted, and not said so")
		}
		equalNumber(t, "on hand", f.OnHand, 4)
		if f := d.round("2025-01-31").Shelf()[0]; f.Counted {
			t.Errorf("the day before: %+v", f)
		}
	})
	t.Run("ticks use what the chore used when they were written", func(t *testing.T) {
		d := newDiary(t).chore(clocks(every("100d")), withSpare(2)).did("2025-01-01", model.Stock{Spare: "filter", Change: 10})
		d.tick("2025-02-01", "").chore(clocks(every("100d")), withSpare(1)).tick("2025-02-02", "").tick("2025-12-01", "")
		f := d.round("2025-03-01").Shelf()[0]
		equalNumber(t, "on hand", f.OnHand, 7)
		if s := d.job("2025-03-01"); len(s.Spares) != 1 || s.Spares[0].OnHand != 7 || s.Spares[0].Quantity != 1 {
			t.Errorf("the chore says %+v", s.Spares)
		}
	})
}

func TestYear(t *testing.T) {
	d := newDiary(t).chore(clocks(every("100d")), withSpare(2))
	// Opens with the part, in the same place, on the same dates: access and place are paid once.
	d.lines(`{"kind":"component","id":"lid","name":"Lid","place":"cellar","reach":1,"access_minutes":30,"opens_with":"part","in_service":"2025-01-01"}
{"kind":"chore","id":"wipe","component":"lid","name":"Wipe","work":"clean","minutes":3,"consequence":1,"clocks":[{"calendar":"100d","rule":"every"}],"spares":[],"steps":[{"text":"wait","timer_minutes":9}],"hazards":[],"cautions":[]}`)
	weeks := d.round("2025-03-01").Year(time.Monday) // a Saturday
	equalDate(t, "the first week", weeks[0].Start, "2025-02-24")
	if n := len(weeks); n != 53 {
		t.Fatalf("%d weeks, want 53: Monday 24 February 2025 to that of 23 February 2026", n)
	}
	visited := 0
	for _, w := range weeks {
		if len(w.Visits) == 0 {
			continue
		}
		visited++
		if w.Hands != 23 || w.Access != 16 || w.Waiting != 9 || w.Spares != 16 || len(w.Visits) != 2 {
			t.Errorf("week of %v: %+v", w.Start, w)
		}
	}
	if visited != 4 {
		t.Errorf("%d weeks with work, want 4", visited)
	}
	if w := d.round("2025-03-01").Year(time.Saturday); w[0].Start.String() != "2025-03-01" || len(w) != 53 {
		t.Errorf("from Saturdays: %v, %d weeks", w[0].Start, len(w))
	}
}

func TestWhileThere(t *testing.T) {
	// On 1 April "job" is late. "wipe" opens with it and is due on 2 May, 31 days ahead of a cycle of 121 days.
	build := func(wipeMinutes string, change func(*diary)) *Round {
		d := newDiary(t).chore(clocks(every("30d")))
		d.lines(`{"kind":"component","id":"lid","name":"Lid","place":"cellar","reach":1,"access_minutes":30,"opens_with":"part","in_service":"2025-01-01"}
{"kind":"chore","id":"wipe","component":"lid","name":"Wipe","work":"clean","minutes":` + wipeMinutes + `,"consequence":1,"clocks":[{"calendar":"121d","rule":"every"}],"spares":[{"spare":"filter","quantity":2}],"steps":[],"hazards":[],"cautions":[]}`)
		if change != nil {
			change(d)
		}
		return d.round("2025-04-01")
	}
	t.Run("saves the opening and the place", func(t *testing.T) {
		got := build("20", nil)
		s := got.WhileThere(got.Today())
		if len(s) != 1 || s[0].Standing.Chore.ID != "wipe" || s[0].Saved != 16 || !s[0].SameAccess || !s[0].SamePlace {
			t.Fatalf("got %+v", s)
		}
		equalNumber(t, "wasted", s[0].Wasted, 31.0/121*20)
	})
	t.Run("not when it wastes more", func(t *testing.T) {
		r := build("100", nil) // 25.6 minutes' worth
		if s := r.WhileThere(r.Today()); len(s) != 0 {
			t.Errorf("got %+v", s)
		}
	})
	t.Run("spares are worth minutes", func(t *testing.T) {
		// 20 minutes and 16 of money at 0.25 a minute, 64 minutes: 31/121 of 84 are 21.5, more than 16.
		r := build("20", func(d *diary) {
			d.lines(`{"kind":"book","name":"Test","units":{"volume":"L","temperature":"C","pressure":"bar"},"minute_value":0.25}`)
		})
		if s := r.WhileThere(r.Today()); len(s) != 0 {
			t.Errorf("got %+v", s)
		}
	})
	t.Run("not what was put off", func(t *testing.T) {
		r := build("20", func(d *diary) { d.did("2025-03-20", model.PutOff{Chore: "wipe", Until: date(d, "2025-06-01")}) })
		if s := r.WhileThere(r.Today()); len(s) != 0 {
			t.Errorf("got %+v", s)
		}
	})
	t.Run("nothing on the list, nothing saved", func(t *testing.T) {
		r := build("20", nil)
		if s := r.WhileThere(nil); len(s) != 0 {
			t.Errorf("got %+v", s)
		}
	})
}

func TestRethink(t *testing.T) {
	d := newDiary(t).chore(clocks(every("30d"))).regrade(4)
	d.lines(`{"kind":"component","id":"lid","name":"Lid","place":"cellar","reach":1,"access_minutes":30,"opens_with":"part","in_service":"2025-01-01"}
{"kind":"component","id":"alone","name":"Alone","place":"cellar","reach":2,"access_minutes":2,"in_service":"2025-01-01"}
{"kind":"chore","id":"wipe","component":"lid","name":"Wipe","work":"clean","minutes":3,"consequence":1,"clocks":[{"calendar":"100d","rule":"every"}],"spares":[],"steps":[],"hazards":[],"cautions":[]}
{"kind":"chore","id":"look","component":"alone","name":"Look","work":"clean","minutes":3,"consequence":1,"clocks":[{"calendar":"73d","rule":"every"}],"spares":[],"steps":[],"hazards":[],"cautions":[]}`)
	d.stamped("2025-02-05", "2025-01-31") // 5 of 30 days late
	d.did("2025-02-05", model.Tick{Chore: "wipe", Found: "heavy"}).did("2025-03-01", model.Tick{Chore: "wipe", Found: "clean"})
	minutes := 1
	d.did("2025-03-10", model.Flag{Component: "part", State: model.FlagFlagged, Cause: "too-tight"})
	d.did("2025-03-20", model.Flag{Component: "part", State: model.FlagRebuilt, Reach: 1, AccessMinutes: &minutes})
	d.tick("2025-04-01", "failed")

	got := map[model.ID]Awkward{}
	ranking := d.round("2025-04-02").Rethink()
	for _, a := range ranking {
		got[a.Component.ID] = a
	}
	part := got["part"]
	// Dates on which the opening was made: 5 February, 1 March, 1 April.
	if part.Visits != 3 || part.AccessMinutes != 1 || part.MinutesAYear != 3 || part.Projected || part.Ticks != 2 || part.Spent != 0.5 {
		t.Errorf("part: %+v", part.Placing)
	}
	equalNumber(t, "slip", part.Slip, 5.0/30)
	equalNumber(t, "score of what takes a minute", part.Score, 0)
	if part.Flag == nil || part.Flag.What.State != model.FlagRebuilt || part.Before == nil || part.After == nil {
		t.Fatalf("part: %+v", part)
	}
	if b := part.Before; b.Component.Reach != 4 || b.AccessMinutes != 10 || b.Visits != 2 || b.MinutesAYear != 20 || b.Ticks != 1 || b.SlipTicks != 1 {
		t.Errorf("before: %+v", b)
	}
	if a := part.After; a.Component.Reach != 1 || a.AccessMinutes != 1 || a.Ticks != 1 || a.Spent != 1 || a.SlipTicks != 0 || a.Slip != 0 {
		t.Errorf("after: %+v", a)
	}
	if lid := got["lid"]; lid.AccessMinutes != 1 || lid.Visits != 3 || lid.Ticks != 2 || lid.Spent != 0.5 || lid.Before != nil {
		t.Errorf("lid: %+v", lid.Placing)
	}
	// Never ticked: 365/73 = 5 visits a year are foreseen, 10 minutes.
	if alone := got["alone"]; !alone.Projected || alone.Visits != 5 || alone.MinutesAYear != 10 {
		t.Errorf("alone: %+v", alone.Placing)
	}
	if a := got["lid"].Alone; a == nil || a.AccessMinutes != 30 || a.Visits != 2 || a.MinutesAYear != 60 || got["part"].Alone != nil {
		t.Errorf("lid, were it opened by itself: %+v", a)
	}
	if ranking[0].Component.ID != "alone" || got["alone"].Score != 5*(2-1) {
		t.Errorf("ranked %+v", ranking)
	}
}

// TestRethinkRanksWhatAMoveCouldSave: a part that is opened often but within a minute comes behind one that takes ten, an
// opening that two share counts once, and jobs behind it that come late weigh more.
func TestRethinkRanksWhatAMoveCouldSave(t *testing.T) {
	d := newDiary(t)
	for _, c := range []struct {
		id, with, every string
		minutes         int
	}{{"deep", "", "73d", 11}, {"behind", "deep", "36500d", 11}, {"often", "", "1d", 1}, {"late", "", "73d", 11}} {
		id := model.ID(c.id)
		d.did("2025-01-01", model.Component{ID: id, Name: c.id, Place: "cellar", Reach: 3, AccessMinutes: c.minutes, OpensWith: model.ID(c.with), InService: date(t, "2025-01-01")})
		d.add(model.NewEntry(0, model.Chore{ID: id, Component: id, Name: c.id, Work: model.WorkClean, Minutes: 5, Consequence: 1, Clocks: clocks(every(c.every))}))
	}
	// "late" five times in the year, each 7.3 of 73 days late.
	for i := range 5 {
		on := date(t, "2025-01-01").AddDays(80 * (i + 1))
		d.did(on.String(), model.Tick{Chore: "late", Planned: on.AddDays(-8)})
	}
	var ids []model.ID
	ranking := d.round("2026-02-05").Rethink()
	for _, a := range ranking[:4] {
		ids = append(ids, a.Component.ID)
	}
	if !slices.Equal(ids, []model.ID{"late", "deep", "often", "behind"}) {
		t.Errorf("ranked %v", ids)
	}
	equalNumber(t, "late", ranking[0].Score, 10*5*(1+ranking[0].Slip))
	equalNumber(t, "deep", ranking[1].Score, 10*(5+365.0/36500))
	if ranking[3].Score != 0 || ranking[2].Score != 0 {
		t.Errorf("got %+v", ranking)
	}
}

// A part that opens with another until it is rebuilt was opened as often as that other, for as long.
func TestRethinkTakenApart(t *testing.T) {
	d := newDiary(t).chore(clocks(every("30d")))
	lid := `{"kind":"component","id":"lid","name":"Lid","place":"cellar","reach":1,"access_minutes":3,%s"in_service":"2025-01-01"}
`
	d.lines(fmt.Sprintf(lid, `"opens_with":"part",`) +
		`{"kind":"component","id":"cap","name":"Cap","place":"cellar","reach":1,"access_minutes":9,"opens_with":"part","in_service":"2025-01-01"}
{"kind":"chore","id":"wipe","component":"lid","name":"Wipe","work":"clean","minutes":3,"consequence":1,"clocks":[{"calendar":"100d","rule":"every"}],"spares":[],"steps":[],"hazards":[],"cautions":[]}
{"kind":"chore","id":"turn","component":"cap","name":"Turn","work":"clean","minutes":3,"consequence":1,"clocks":[{"calendar":"100d","rule":"every"}],"spares":[],"steps":[],"hazards":[],"cautions":[]}`)
	d.tick("2025-02-01", "clean").did("2025-02-10", model.Tick{Chore: "wipe"}).did("2025-02-20", model.Tick{Chore: "turn"})
	two := 2
	d.did("2025-03-01", model.Flag{Component: "lid", State: model.FlagRebuilt, Reach: 1, AccessMinutes: &two})
	d.lines(strings.ReplaceAll(fmt.Sprintf(lid, ""), `minutes":3`, `minutes":2`))
	d.did("2025-03-05", model.Tick{Chore: "wipe"})

	for _, a := range d.round("2025-03-10").Rethink() {
		if a.Component.ID != "lid" {
			continue
		}
		if a.AccessMinutes != 2 || a.Visits != 2 || a.MinutesAYear != 4 {
			t.Errorf("now: %+v", a.Placing)
		}
		if b := a.Before; b == nil || b.AccessMinutes != 10 || b.Visits != 3 || b.MinutesAYear != 30 {
			t.Errorf("before: %+v", b)
		}
		if l := a.Left; l == nil || l.Component.ID != "part" || l.Visits != 2 || l.MinutesAYear != 20 {
			t.Errorf("what it was taken from: %+v", l)
		}
	}
}

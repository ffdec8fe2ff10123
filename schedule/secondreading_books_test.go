package schedule_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
)

const secondBase = `
{"kind":"place","id":"cellar","name":"Cellar","minutes":6}
{"kind":"counter","id":"hours","name":"Hours","unit":"h","style":"meter"}
{"kind":"counter","id":"pump","name":"Pump","unit":"h","style":"meter","declared_rate":6}
{"kind":"counter","id":"water","name":"Water","unit":"L","style":"amount"}
{"kind":"counter","id":"stated","name":"Stated","unit":"L","style":"amount","declared_rate":10}
{"kind":"gauge","id":"tap","name":"Tap","unit":"ppm","role":"tds-tap"}
{"kind":"gauge","id":"mem","name":"Membrane","unit":"ppm","role":"tds-membrane"}
{"kind":"gauge","id":"prod","name":"Product","unit":"ppm","role":"tds-product"}
{"kind":"gauge","id":"temp","name":"Water temperature","unit":"C","role":"temperature-water"}
{"kind":"gauge","id":"wear","name":"Wear","unit":"1"}
{"kind":"spare","id":"filter","name":"Filter","unit":"pc","lead_days":14,"price":8}
{"kind":"spare","id":"free","name":"Free","unit":"pc","lead_days":14}
`

func pick[V any](t *rapid.T, from ...V) V { return rapid.SampledFrom(from).Draw(t, "pick") }

// one in n
func oneIn(t *rapid.T, n int) bool { return rapid.IntRange(1, n).Draw(t, "one in") == n }

// household draws the log of a household: a station, two more parts and some chores, kept for some months by somebody who
// writes down what is used for a while and then doesn't.
func household(t *rapid.T, log []model.Entry) (entries []model.Entry, last model.Date) {
	put := func(on model.Date, body model.Body) {
		e := model.NewEntry(on, body)
		e.Seq = model.Seq(len(log) + 1)
		log = append(log, e)
	}
	begun := model.NewDate(2025, 1, 1)
	put(0, model.BookDef{Name: "Test", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"},
		MinuteValue: pick(t, 0, 0, 0.5), Care: pick(t, "", model.CareCareful, model.CareUsual, model.CareEasy)})
	part := func(id model.ID, inService model.Date) model.Component {
		c := model.Component{ID: id, Name: "Part", Place: "cellar", Reach: rapid.IntRange(1, 5).Draw(t, "reach"),
			AccessMinutes: pick(t, 0, 4, 25), InService: inService}
		if id == "unit" {
			c.Stage = model.StageMembrane
		} else if oneIn(t, 3) {
			c.OpensWith = "unit"
		}
		return c
	}
	parts := []model.ID{"unit", "resin", "pump"}
	for _, id := range parts {
		put(0, part(id, begun.AddDays(pick(t, 0, 0, -200, 60))))
	}
	chores := []model.ID{"a", "b", "c", "d"}[:rapid.IntRange(1, 4).Draw(t, "chores")]
	words := map[model.ID][]model.Found{}
	for _, id := range chores {
		c := model.Chore{ID: id, Component: pick(t, parts...), Name: "Job", Minutes: pick(t, 0, 3, 20, 90), Hidden: oneIn(t, 4), Fixed: oneIn(t, 8),
			Work:        pick(t, model.WorkClean, model.WorkRenew, model.WorkRenew, model.WorkRenew, model.WorkTest),
			Consequence: rapid.IntRange(1, 3).Draw(t, "consequence")}
		words[id] = append(ledger.FoundWords(c.Work), "")
		if oneIn(t, 8) {
			c.Cost = &model.Cost{Planned: 1, Failure: pick(t, 1.5, 5, 100)}
		}
		if oneIn(t, 4) {
			c.Spares = []model.SpareUse{{Spare: pick[model.ID](t, "filter", "free"), Quantity: pick(t, 1.0, 2.5)}}
		}
		for range rapid.IntRange(1, 3).Draw(t, "clocks") {
			clock := model.Clock{Rule: pick(t, model.RuleEvery, model.RuleLasts)}
			counter := pick[model.ID](t, "water", "stated", "hours", "pump")
			switch rapid.IntRange(0, 6).Draw(t, "kind") {
			case 0:
				clock.Kind = model.ClockCalendar
				clock.Every, _ = model.ParseSpan(pick(t, "5d", "3w", "1mo", "3mo", "6mo", "1y"))
			case 1, 2:
				clock.Kind, clock.Counter, clock.Amount = model.ClockUsage, counter, pick(t, 40.0, 300, 900, 3000)
				clock.FeedRatio = pick(t, 0, 0, 4.0)
			case 3:
				clock.Kind, clock.Counter, clock.Amount = model.ClockLoad, counter, pick(t, 0.5, 3.0, 20)
				clock.Inlet, clock.Outlet, clock.FeedRatio = pick[model.ID](t, "mem", "tap"), pick[model.ID](t, "", "prod", "wear"), pick(t, 0, 0, 2.5)
			case 4:
				clock = model.Clock{Kind: model.ClockReading, Gauge: "wear", Limit: 1, Bad: model.SideAbove}
			case 5:
				clock = model.Clock{Kind: model.ClockReading, Gauge: "prod", Limit: pick(t, 0.0, 1, 2), Bad: model.SideAbove}
			default:
				clock = pick(t, model.Clock{Gauge: model.Rejection, Limit: 95, Bad: model.SideBelow}, model.Clock{Gauge: model.Rejection, Limit: 97, Bad: model.SideAbove})
				clock.Kind = model.ClockReading
			}
			c.Clocks = append(c.Clocks, clock)
		}
		put(0, c)
	}
	on, hours, pump, wear := begun, 0.0, 0.0, 0.0
	every := 7
	for range rapid.IntRange(0, 70).Draw(t, "events") {
		on = on.AddDays(pick(t, 0, 0, 1, 2, every, every, every))
		day := on
		if oneIn(t, 12) { // a silence, and what was remembered late
			on = on.AddDays(pick(t, 20, 45, 90, 150))
			every = pick(t, 3, 7, 14)
		} else if oneIn(t, 12) {
			day = day.AddDays(-pick(t, 1, 5, 30))
		}
		last = max(last, on)
		switch rapid.IntRange(0, 17).Draw(t, "event") {
		case 0, 1, 2, 3:
			q := pick(t, 0, 5.0, 20, 40, 55.5, 70, 300)
			put(day, model.Usage{Counter: "water", Amount: &q})
		case 4, 5:
			q := pick(t, 0, 30.0, 70, 120)
			put(day, model.Usage{Counter: "stated", Amount: &q})
		case 6:
			hours += pick(t, 0, 24.0, 100)
			v := hours
			put(on, model.Usage{Counter: "hours", Meter: &v})
		case 7:
			if oneIn(t, 8) {
				pump = 0
				put(on, model.MeterReset{Counter: "pump"})
			}
			pump += pick(t, 6.0, 40)
			v := pump
			put(on, model.Usage{Counter: "pump", Meter: &v})
		case 8, 9, 10, 11:
			id := pick(t, chores...)
			tick := model.Tick{Chore: id, Found: pick(t, words[id]...), About: oneIn(t, 8)}
			if oneIn(t, 2) {
				tick.Planned = day.AddDays(-pick(t, -9, 0, 2, 8, 25))
			}
			put(day, tick)
			if tick.Found != "" {
				wear = 0
			}
		case 12, 13:
			read := func(gauge model.ID, v float64) {
				r := model.Reading{Gauge: gauge, Value: v}
				if oneIn(t, 15) {
					r.MinutesRunning = new(float64)
				}
				put(day, r)
			}
			read("tap", pick(t, 180.0, 250, 251, 255.5))
			read("mem", pick(t, 5.0, 8, 8.4, 12, 14))
			read("prod", pick(t, 0.0, 0, 1, 2))
			if oneIn(t, 2) {
				read("temp", pick(t, 8.0, 15, 24, 27))
			}
		case 14, 15:
			for range rapid.IntRange(1, 7).Draw(t, "run") {
				wear += pick(t, 0, 0.05, 0.12, 0.3)
				put(on, model.Reading{Gauge: "wear", Value: wear})
				on = on.AddDays(pick(t, 0, 3, 7))
				last = max(last, on)
			}
		case 16:
			switch rapid.IntRange(0, 3).Draw(t, "other") {
			case 0:
				put(day, model.Away{Until: day.AddDays(pick(t, 5, 20, 60))})
			case 1:
				put(day, model.PutOff{Chore: pick(t, chores...), Until: day.AddDays(pick(t, 3, 30, 200))})
			case 2:
				target := log[rapid.IntRange(len(log)*2/3, len(log)-1).Draw(t, "target")]
				if target.Kind == model.KindTick || target.Kind == model.KindReading {
					put(day, model.Amend{Entry: target.Seq, Strike: true})
				}
			default:
				minutes := 3
				put(day, model.Flag{Component: pick(t, parts...), State: model.FlagRebuilt, Reach: pick(t, 1, 2), AccessMinutes: &minutes})
			}
		default:
			id := pick(t, parts...)
			put(on, part(id, pick(t, 0, 0, on)))
		}
	}
	return log, max(last, begun)
}

// TestSecondReadingOfRandomBooks tries 100 books, more with -rapid.checks 1000.
func TestSecondReadingOfRandomBooks(t *testing.T) {
	base := schedule.DecodeLines(t, secondBase)
	rapid.Check(t, func(t *rapid.T) {
		log, last := household(t, slices.Clone(base))
		b, err := ledger.Fold(log)
		if err != nil {
			t.Skip(err) // a strike took what a later entry needs
		}
		on := last.AddDays(pick(t, -100, -20, -1, 0, 1, 10, 100))
		if d := differs(b, on); d != "" {
			for _, e := range log {
				line, _ := model.EncodeEntry(e)
				t.Logf("%s", line)
			}
			t.Errorf("on %v: %s", on, d)
		}
	})
}

func TestSecondReadingOfTheBooks(t *testing.T) {
	for name, on := range map[string]model.Date{
		"book-1": model.NewDate(2025, 12, 11), "book-2": model.NewDate(2025, 8, 7), "book-3": model.NewDate(2025, 11, 19),
		"book-4": model.NewDate(2023, 5, 20), "book-5": model.NewDate(2023, 9, 1), "book-6": model.NewDate(2023, 5, 24),
	} {
		if diff := differs(schedule.ReadBook(t, name+".jsonl"), on); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

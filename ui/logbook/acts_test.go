package logbook

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/uitest"

	"pgregory.net/rapid"
)

// start is a small book for acts to be drawn on.
func start() []model.Entry {
	bodies := []model.Body{
		model.BookDef{Name: "Vat", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}},
		model.Place{ID: "cellar", Name: "Cellar", Minutes: 3},
		model.Component{ID: "pump", Name: "Pump", Place: "cellar", Reach: 2, AccessMinutes: 4},
		model.Counter{ID: "litres", Name: "Litres", Unit: "L", Style: model.StyleAmount},
		model.Counter{ID: "hours", Name: "Hours", Unit: "h", Style: model.StyleMeter},
		model.Gauge{ID: "tds", Name: "TDS", Unit: "ppm", Component: "pump"},
		model.Chore{ID: "clean", Component: "pump", Name: "clean", Work: model.WorkClean, Minutes: 5, Consequence: 2,
			Clocks: []model.Clock{{Kind: model.ClockUsage, Counter: "litres", Amount: 100, Rule: model.RuleLasts}}},
	}
	var out []model.Entry
	for i, b := range bodies {
		e := model.NewEntry(0, b) // some of no date at all, which stand under that of the one before them
		if i == 2 {
			e.On = uitest.Today.AddDays(-40)
		}
		out = append(out, e)
	}
	return out
}

// drawn draws an act: any kind of event or definition, backdated more or less, and amends
// of any earlier entry. Many of them no log can accept.
func drawn(t *rapid.T, b *ledger.Book) []model.Entry {
	if rapid.IntRange(0, 4).Draw(t, "take back") == 0 {
		return must(b.Strike(model.Seq(rapid.IntRange(1, int(b.Last())).Draw(t, "act of")), uitest.Today))
	}
	var out []model.Entry
	for range rapid.IntRange(1, 3).Draw(t, "entries") {
		on := uitest.Today.AddDays(-rapid.IntRange(0, 30).Draw(t, "days ago"))
		e := model.NewEntry(on, body(t, b))
		e.By = rapid.SampledFrom([]string{"", "Ada"}).Draw(t, "by")
		out = append(out, e)
	}
	return out
}

func body(t *rapid.T, b *ledger.Book) model.Body {
	n := float64(rapid.IntRange(0, 9).Draw(t, "n"))
	switch rapid.IntRange(0, 11).Draw(t, "kind") {
	case 0:
		c, _ := b.Chore("clean")
		c.Name = fmt.Sprint("clean ", n)
		return c
	case 1:
		c, _ := b.Counter("hours")
		c.Name = fmt.Sprint("Hours ", n)
		return c
	case 2:
		return model.Tick{Chore: "clean", Found: model.FoundHeavy, Note: fmt.Sprint("lime ", n)}
	case 3:
		return model.Usage{Counter: "litres", Amount: &n}
	case 4:
		return model.MeterReset{Counter: "hours"}
	case 5, 6:
		return model.Usage{Counter: "hours", Meter: &n}
	case 7:
		return model.Reading{Gauge: "tds", Value: n}
	case 8:
		return model.Note{Text: fmt.Sprint("note ", n)}
	}
	return amend(t, b, n)
}

func amend(t *rapid.T, b *ledger.Book, n float64) model.Amend {
	target := model.Seq(rapid.IntRange(1, int(b.Last())).Draw(t, "target"))
	if rapid.Bool().Draw(t, "late") {
		target = max(b.Last()-model.Seq(n), 1)
	}
	fields := rapid.SampledFrom([]map[string]any{
		nil,
		{"on": uitest.Today.AddDays(-int(n) * 3)},
		{"on": nil},
		{"by": "Bo"},
		{"text": "amended"},
		{"meter": n},
		{"strike": nil, "with": map[string]any{"by": "Cy"}},
		{"entry": target/2 + 1},
	}).Draw(t, "with")
	if fields == nil {
		return model.Amend{Entry: target, Strike: true}
	}
	with, err := model.With(fields)
	if err != nil {
		t.Fatal(err)
	}
	return model.Amend{Entry: target, With: with}
}

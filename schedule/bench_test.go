package schedule

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// mixedBook has n chores of every kind of clock on n/2 components, with 20 closed cycles each, and n/40 counters and
// gauges of each sort read every week. The same n gives the same book.
func mixedBook(t testing.TB, n int) *ledger.Book {
	rng := rand.New(rand.NewPCG(uint64(n), 20))
	entries := DecodeLines(t, `{"kind":"book","name":"Mixed","units":{"volume":"L","temperature":"C","pressure":"bar"}}`)
	add := func(e model.Entry) {
		e.Seq = model.Seq(len(entries) + 1)
		entries = append(entries, e)
	}
	start := date(t, "2020-01-01")
	things := max(1, n/40)
	for i := range things {
		add(model.NewEntry(start, model.Place{ID: name("place", i), Name: "P", Minutes: 2 + i%7}))
		add(model.NewEntry(start, model.Counter{ID: name("litres", i), Name: "L", Unit: "L", Style: model.StyleAmount}))
		add(model.NewEntry(start, model.Gauge{ID: name("gauge", i), Name: "G", Unit: "ppm"}))
		add(model.NewEntry(start, model.Spare{ID: name("spare", i), Name: "S", Unit: "piece", LeadDays: i % 20}))
	}
	for i := range n {
		of := i % things
		if i%2 == 0 {
			add(model.NewEntry(start, model.Component{ID: name("part", i), Name: "C", Place: name("place", of), Reach: 1 + i/2%5, AccessMinutes: i % 9}))
		}
		c := model.Chore{ID: name("job", i), Component: name("part", i-i%2), Name: "J", Work: model.WorkClean, Minutes: 3 + i%20, Consequence: 1 + i%3,
			Spares: []model.SpareUse{{Spare: name("spare", of), Quantity: 1}}}
		switch i % 4 {
		case 0:
			c.Clocks = clocks(lasts("60d"))
		case 1:
			c.Clocks = clocks(lastsUsed(name("litres", of), 900), every("90d"))
		case 2:
			c.Clocks = clocks(model.Clock{Kind: model.ClockLoad, Counter: name("litres", of), Inlet: name("gauge", of), Amount: 50, Rule: model.RuleLasts})
		case 3:
			if i%8 == 3 {
				c.Work = model.WorkRenew
			}
			c.Clocks = clocks(lasts("80d"), model.Clock{Kind: model.ClockReading, Gauge: name("gauge", of), Limit: 90, Bad: model.SideAbove})
		}
		add(model.NewEntry(start, c))
	}
	const cycles, days = 20, 60
	findings := []model.Found{model.FoundClean, model.FoundLight, model.FoundHeavy, model.FoundLight, model.FoundFailed}
	for day := range cycles*days + 1 {
		on := start.AddDays(day)
		if day%7 == 0 {
			for i := range things {
				add(model.NewEntry(on, model.Usage{Counter: name("litres", i), Amount: number(60 + rng.Float64()*60)}))
				add(model.NewEntry(on, model.Reading{Gauge: name("gauge", i), Value: float64(int(300+200*rng.Float64()+float64(day%420))) / 10}))
			}
		}
		for i := range n {
			if day > 0 && (day+i*7)%days == 0 {
				add(model.NewEntry(on, model.Tick{Chore: name("job", i), Found: findings[rng.IntN(len(findings))], Planned: on.AddDays(-rng.IntN(9))}))
			}
		}
	}
	return Fold(t, entries)
}

func name(kind string, i int) model.ID { return model.ID(fmt.Sprint(kind, i)) }

func number(v float64) *float64 { return &v }

func benchmarkMake(b *testing.B, n int) {
	book := mixedBook(b, n)
	on := date(b, "2023-05-01")
	b.ReportAllocs()
	for b.Loop() {
		Make(book, on)
	}
}

func BenchmarkMake40(b *testing.B) { benchmarkMake(b, 40) }

func BenchmarkMake2000(b *testing.B) { benchmarkMake(b, 2000) }

// BenchmarkAnswers2000 asks a round of 2,000 chores what the screens ask it.
func BenchmarkAnswers2000(b *testing.B) {
	book := mixedBook(b, 2000)
	r := Make(book, date(b, "2023-05-01"))
	today := r.Today()
	for _, ask := range []struct {
		name string
		of   func()
	}{
		{"Of", func() {
			for i := range r.Standings {
				r.Of(r.Standings[i].Chore.ID)
			}
		}},
		{"Visits", func() { r.Visits() }},
		{"Shelf", func() { r.Shelf() }},
		{"Year", func() { r.Year(time.Monday) }},
		{"TimeBox", func() { r.TimeBox(60) }},
		{"TimeBoxDay", func() { r.TimeBox(480) }},
		{"WhileThere", func() { r.WhileThere(today) }},
		{"Rethink", func() { r.Rethink() }},
	} {
		b.Run(ask.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				ask.of()
			}
		})
	}
}

package schedule

import (
	"fmt"
	"sync"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// bigBook has n chores, a calendar clock each, with 20 closed cycles of every finding.
func bigBook(t testing.TB, n int) *ledger.Book {
	entries := decodeLines(t, `{"kind":"book","name":"Big","units":{"volume":"L","temperature":"C","pressure":"bar"}}
{"kind":"place","id":"p","name":"P","minutes":1}`)
	add := func(e model.Entry) {
		e.Seq = model.Seq(len(entries) + 1)
		entries = append(entries, e)
	}
	start := date(t, "2020-01-01")
	findings := []model.Found{model.FoundClean, model.FoundLight, model.FoundHeavy, model.FoundLight, model.FoundFailed}
	for i := range n {
		id := model.ID(fmt.Sprint("c", i))
		add(model.NewEntry(start, model.Component{ID: id, Name: "C", Place: "p", Reach: 1 + i%5, AccessMinutes: 3}))
		add(model.NewEntry(start, model.Chore{ID: id, Component: id, Name: "J", Work: model.WorkClean, Minutes: 5, Consequence: 1 + i%3,
			Clocks: clocks(lasts("30d"))}))
	}
	for cycle := range 20 {
		for i := range n {
			on := start.AddDays(30*(cycle+1) + (i*7+cycle*3)%11 - 5)
			add(model.NewEntry(on, model.Tick{Chore: model.ID(fmt.Sprint("c", i)), Found: findings[(i+cycle)%len(findings)], Planned: on.AddDays(-1)}))
		}
	}
	b, err := ledger.Fold(entries)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestOneRoundServesSeveralAtOnce(t *testing.T) {
	b := bigBook(t, 20)
	on := date(t, "2022-01-01")
	rounds := make([]*Round, 8)
	var all sync.WaitGroup
	for i := range rounds {
		all.Go(func() {
			rounds[i] = Make(b, on.AddDays(i%2))
			rounds[i].TimeBox(60)
			rounds[i].Rethink()
		})
	}
	all.Wait()
	for i, r := range rounds {
		sameRound(t, r, Make(b, on.AddDays(i%2)))
	}
}

func BenchmarkRoundOf1000Chores(b *testing.B) {
	book := bigBook(b, 1000)
	on := date(b, "2022-01-01")
	for b.Loop() {
		Make(book, on)
	}
}

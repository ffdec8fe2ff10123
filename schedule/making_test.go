package schedule

import (
	"fmt"
	"math"
	"sync"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/schedule/life"
)

// bigBook has n chores, a calendar clock each, with 20 closed cycles of every finding.
func bigBook(t testing.TB, n int) *model.Book {
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
	b, err := model.Fold(entries)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestCostOfARound holds a full round of 1,000 chores with 20 cycles each to what 60 evaluations of the likelihood of
// 20 observations cost per chore, both measured here; and the next act to one fit.
func TestCostOfARound(t *testing.T) {
	const most = 60
	b := bigBook(t, 1000)
	on := date(t, "2022-01-01")
	var round, evaluation time.Duration
	per := math.Inf(1)
	for range 12 { // the quietest of a dozen at most, on a machine that others use too
		began := time.Now()
		m, lessons := listener()
		m.Make(b, on)
		if took := time.Since(began); round == 0 || took < round {
			round = took
		}
		heard := lessons()
		if len(heard) != 1000 {
			t.Fatalf("%d fits, want 1000", len(heard))
		}
		if one := timeEvaluation(heard[7]); evaluation == 0 || one < evaluation {
			evaluation = one
		}
		if per = float64(round) / 1000 / float64(evaluation); per <= most {
			break
		}
	}
	t.Logf("a round in %v, %.1f evaluations of %v a chore", round, per, evaluation)
	if per > most {
		t.Errorf("a round costs %.1f evaluations a chore, want at most %d", per, most)
	}
}

// timeEvaluation is what one evaluation of the likelihood takes, from fits of the same observations over and over.
func timeEvaluation(l lesson) time.Duration {
	began := time.Now()
	evaluations := 0
	for range 300 {
		evaluations += life.Mode(l.prior, l.taken).Evaluations
	}
	return time.Since(began) / time.Duration(evaluations)
}

// listener is a Maker and what it has fitted lives to so far.
func listener() (*Maker, func() []lesson) {
	var mu sync.Mutex
	var heard []lesson
	m := NewMaker()
	m.memo.tell = func(l lesson) {
		mu.Lock()
		defer mu.Unlock()
		heard = append(heard, l)
	}
	return m, func() []lesson { return heard }
}

func TestAnActRefitsWhatItTouched(t *testing.T) {
	b := bigBook(t, 50)
	m, lessons := listener()
	on := date(t, "2022-01-01")
	m.Make(b, on)
	if made := len(lessons()); made != 50 {
		t.Fatalf("%d fits, want 50", made)
	}
	m.Make(b, on+1) // another day changes nothing that was observed
	e := model.NewEntry(on, model.Tick{Chore: "c9", Found: model.FoundLight})
	e.Seq = b.Last() + 1
	next, err := b.Extend([]model.Entry{e})
	if err != nil {
		t.Fatal(err)
	}
	got := m.Make(next, on+1)
	if made := len(lessons()); made != 51 {
		t.Errorf("%d fits after one more tick, want 51", made)
	}
	sameRound(t, got, Make(next, on+1))
}

func TestMakerServesSeveralAtOnce(t *testing.T) {
	b := bigBook(t, 20)
	m := NewMaker()
	on := date(t, "2022-01-01")
	rounds := make([]*Round, 8)
	var all sync.WaitGroup
	for i := range rounds {
		all.Go(func() {
			rounds[i] = m.Make(b, on.AddDays(i%2))
			rounds[i].TimeBox(60)
			rounds[i].Rethink(b)
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
	b.Run("anew", func(b *testing.B) {
		for b.Loop() {
			Make(book, on)
		}
	})
	b.Run("again", func(b *testing.B) {
		m := NewMaker()
		for b.Loop() {
			m.Make(book, on)
		}
	})
}

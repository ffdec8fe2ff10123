package schedule

import (
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"

	"brine/wrasse/model"
)

func TestEachIsDoneOnce(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	for _, n := range []int{0, 1, handful, 2*handful - 1, 2 * handful, 3*handful + 1, 1000} {
		done := make([]int, n)
		abreast(n, func(i int) { done[i]++ })
		if slices.ContainsFunc(done, func(times int) bool { return times != 1 }) {
			t.Errorf("of %d: done %v times", n, done)
		}
	}
}

// TestProcessorsChangeNothing makes the same rounds on one processor and on several.
func TestProcessorsChangeNothing(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	b := mixedBook(t, 120)
	for _, on := range []string{"2020-02-01", "2021-08-08", "2023-05-01"} {
		runtime.GOMAXPROCS(1)
		one := Make(b, date(t, on))
		runtime.GOMAXPROCS(5)
		sameRound(t, Make(b, date(t, on)), one)
	}
}

func TestOfFindsEveryStanding(t *testing.T) {
	r := Make(mixedBook(t, 60), date(t, "2023-05-01"))
	for i := range r.Standings {
		if got := r.Of(r.Standings[i].Chore.ID); got != &r.Standings[i] {
			t.Errorf("%s: got %v", r.Standings[i].Chore.ID, got)
		}
	}
	if got := r.Of("no-such-chore"); got != nil {
		t.Errorf("of no chore: %+v", got)
	}
	if got := new(Round).Of("job0"); got != nil {
		t.Errorf("of no round: %+v", got)
	}
}

// TestVisitsComeByDateAndRank holds the order of visits to the rule, and a week's to the visits.
func TestVisitsComeByDateAndRank(t *testing.T) {
	r := Make(mixedBook(t, 60), date(t, "2023-05-01"))
	visits := r.Visits()
	for i, v := range visits {
		if v.On < r.On || v.On >= r.On+yearDays {
			t.Errorf("visit %d is on %v", i, v.On)
		}
		if i == 0 {
			continue
		}
		was := visits[i-1]
		if v.On < was.On || v.On == was.On && r.at[v.Standing.Chore.ID] <= r.at[was.Standing.Chore.ID] {
			t.Errorf("visit %d: %s on %v after %s on %v", i, v.Standing.Chore.ID, v.On, was.Standing.Chore.ID, was.On)
		}
	}
	times := map[model.ID]int{}
	for _, v := range visits {
		times[v.Standing.Chore.ID]++
	}
	for i := range r.Standings {
		s := &r.Standings[i]
		want := 0
		if first := max(s.Due, r.On); s.HasDue && first < r.On+yearDays {
			want = 1
			if s.step > 0 {
				want += (yearDays - 1 - first.Sub(r.On)) / s.step
			}
		}
		if got := times[s.Chore.ID]; got != want {
			t.Errorf("%s is visited %d times, want %d", s.Chore.ID, got, want)
		}
	}
	var all []Visit
	for _, w := range r.Year(time.Monday) {
		for _, v := range w.Visits {
			if v.On < w.Start || v.On >= w.Start+7 {
				t.Errorf("the week of %v has a visit on %v", w.Start, v.On)
			}
		}
		all = append(all, w.Visits...)
	}
	if !slices.Equal(all, visits) {
		t.Errorf("the weeks have %d visits, the year %d", len(all), len(visits))
	}
}

func TestOneRoundServesSeveralAtOnce(t *testing.T) {
	b := mixedBook(t, 20)
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

package schedule

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"brine/wrasse/model"
)

// randomRound is a round of up to 14 chores in up to 4 places and 6 access groups, with ties in risk and minutes.
func randomRound(rng *rand.Rand) *Round {
	r := &Round{On: 20000, sight: &sight{leaders: map[model.ID]model.Component{}}}
	places := make([]model.Place, 1+rng.IntN(4))
	for i := range places {
		places[i] = model.Place{ID: model.ID(fmt.Sprint("place", i)), Minutes: rng.IntN(4) * 5}
	}
	leaders := make([]model.Component, 1+rng.IntN(6))
	for i := range leaders {
		leaders[i] = model.Component{ID: model.ID(fmt.Sprint("lead", i)), Place: places[rng.IntN(len(places))].ID, AccessMinutes: rng.IntN(4) * 4}
		r.sight.leaders[leaders[i].ID] = leaders[i]
	}
	states := []State{StateLate, StateDue, StateSoon, StateAhead, StateDeferred, StateIdle}
	for i := range rng.IntN(15) {
		leader := leaders[rng.IntN(len(leaders))]
		s := Standing{State: states[rng.IntN(len(states))], Risk: float64(rng.IntN(5)) / 4, Due: r.On + model.Date(rng.IntN(20))}
		if rng.IntN(3) == 0 {
			s.Risk = rng.Float64() * 10
		}
		s.PastLimit = s.State == StateLate && rng.IntN(3) == 0
		s.Chore = model.Chore{ID: model.ID(fmt.Sprint("chore", i)), Minutes: rng.IntN(6) * 3}
		s.Component = leader
		if rng.IntN(3) == 0 { // a component that opens with it, whose own access doesn't count
			s.Component = model.Component{ID: model.ID(fmt.Sprint("other", i)), Place: leader.Place, OpensWith: leader.ID, AccessMinutes: 99}
			r.sight.leaders[s.Component.ID] = leader
		}
		s.Place = places[slices.IndexFunc(places, func(p model.Place) bool { return p.ID == leader.Place })]
		r.Standings = append(r.Standings, s)
	}
	r.Standings = inOrder(r.Standings)
	return r
}

// value is what a choice removes and costs, worked out from the rules and nothing else.
type value struct {
	past            float64 // risk of what is past its limit
	over            int     // and how many that are
	risk            float64
	urgent, minutes int
}

func valueOf(r *Round, chosen []*Standing) value {
	var v value
	groups, places := map[model.ID]bool{}, map[model.ID]bool{}
	for _, s := range chosen {
		v.risk += s.Risk
		if s.PastLimit {
			v.past += s.Risk
			v.over++
		}
		if s.State == StateLate || s.State == StateDue {
			v.urgent++
		}
		v.minutes += s.Chore.Minutes
		leader := r.sight.leaders[s.Component.ID]
		if !groups[leader.ID] {
			groups[leader.ID] = true
			v.minutes += leader.AccessMinutes
		}
		if !places[s.Place.ID] {
			places[s.Place.ID] = true
			v.minutes += s.Place.Minutes
		}
	}
	return v
}

// better tells whether v is a better choice than w.
func (v value) better(w value) bool {
	if math.Abs(v.past-w.past) > 1e-9 {
		return v.past > w.past
	}
	if v.over != w.over {
		return v.over > w.over
	}
	if math.Abs(v.risk-w.risk) > 1e-9 {
		return v.risk > w.risk
	}
	if v.urgent != w.urgent {
		return v.urgent > w.urgent
	}
	return v.minutes < w.minutes
}

func TestTimeBoxEqualsBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	filled, most := 0, 0
	for n := range 200 {
		r := randomRound(rng)
		minutes := rng.IntN(90)
		var candidates []*Standing
		for i := range r.Standings {
			s := &r.Standings[i]
			if s.State == StateLate || s.State == StateDue || s.State == StateSoon || s.State == StateAhead && s.Due <= r.On+14 {
				candidates = append(candidates, s)
			}
		}
		var best value
		for mask := range 1 << len(candidates) {
			var chosen []*Standing
			for i, s := range candidates {
				if mask>>i&1 == 1 {
					chosen = append(chosen, s)
				}
			}
			if v := valueOf(r, chosen); v.minutes <= minutes && v.better(best) {
				best = v
			}
		}
		box := r.TimeBox(minutes)
		got := valueOf(r, box.Chores())
		if got.better(best) || best.better(got) || got.minutes > minutes {
			t.Errorf("round %d, %d minutes: got %+v, want %+v", n, minutes, got, best)
		}
		if box.Used != got.minutes || math.Abs(box.RiskRemoved-got.risk) > 1e-12 {
			t.Errorf("round %d: says %d minutes and %v, is %+v", n, box.Used, box.RiskRemoved, got)
		}
		checkVisitingOrder(t, r, box)
		if again := r.TimeBox(minutes); !slices.Equal(again.Chores(), box.Chores()) {
			t.Errorf("round %d: two answers", n)
		}
		most = max(most, len(r.Standings))
		if len(box.Chores()) > 1 {
			filled++
		}
	}
	if filled < 100 || most < 14 {
		t.Errorf("only %d boxes held more than one chore, and the largest round had %d", filled, most)
	}
}

// checkVisitingOrder holds a box to place by place, group by group, each by its best chore's rank.
func checkVisitingOrder(t *testing.T, r *Round, box TimeBox) {
	t.Helper()
	rank := func(s *Standing) int {
		return slices.IndexFunc(r.Standings, func(o Standing) bool { return o.Chore.ID == s.Chore.ID })
	}
	lastPlace := -1
	for _, stop := range box.Stops {
		lastGroup := -1
		for _, o := range stop.Openings {
			lastChore := -1
			for _, s := range o.Chores {
				if s.Place.ID != stop.Place.ID || r.sight.leaders[s.Component.ID].ID != o.Component.ID || rank(s) < lastChore {
					t.Errorf("%s is out of place", s.Chore.ID)
				}
				lastChore = rank(s)
			}
			if first := rank(o.Chores[0]); first < lastGroup {
				t.Errorf("opening %s is out of order", o.Component.ID)
			} else {
				lastGroup = first
			}
		}
		if first := rank(stop.Openings[0].Chores[0]); first < lastPlace {
			t.Errorf("place %s is out of order", stop.Place.ID)
		} else {
			lastPlace = first
		}
	}
}

// TestTimeBoxLeavesNothingPastItsLimit has a chore past its limit, and one that removes more risk in the same minutes.
func TestTimeBoxLeavesNothingPastItsLimit(t *testing.T) {
	r := &Round{sight: &sight{leaders: map[model.ID]model.Component{}}}
	add := func(id string, minutes, waiting int, risk float64, past bool) {
		r.Standings = append(r.Standings, Standing{
			Chore: model.Chore{ID: model.ID(id), Minutes: minutes, Steps: []model.Step{{Text: "Wait", TimerMinutes: waiting}}},
			State: StateLate, Risk: risk, PastLimit: past,
		})
	}
	add("worse", 20, 0, 2, false)
	add("past", 15, 25, 1, true)
	add("small", 5, 0, 0.1, false)
	for minutes, want := range map[int][]model.ID{14: {"small"}, 15: {"past"}, 26: {"past", "small"}, 40: {"worse", "past", "small"}} {
		box := r.TimeBox(minutes)
		var got []model.ID
		for _, s := range box.Chores() {
			got = append(got, s.Chore.ID)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%d minutes: %v, want %v", minutes, got, want)
		}
	}
	if box := r.TimeBox(26); box.Used != 20 || box.Elapsed() != 45 {
		t.Errorf("%d minutes of work end after %d, want 20 and 45", box.Used, box.Elapsed())
	}
}

func TestTimeBoxOfNothing(t *testing.T) {
	r := &Round{sight: &sight{}}
	for _, minutes := range []int{-5, 0, 60} {
		if box := r.TimeBox(minutes); box.Used != 0 || len(box.Chores()) != 0 {
			t.Errorf("%d minutes: %+v", minutes, box)
		}
	}
}

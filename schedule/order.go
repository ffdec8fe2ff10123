package schedule

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
)

var stateOrder = map[State]int{StateLate: 0, StateDue: 1, StateSoon: 2, StateDeferred: 3, StateAhead: 4, StateIdle: 5}

// place is where a standing comes in the order of the round: by state, by risk to 9 decimals with the highest first, by
// due date, by id.
type place struct {
	state int
	risk  int64
	due   model.Date
	id    model.ID
	at    int // index of the standing
}

// inOrder are standings in the order of the round. They are large, so that not they are sorted but their places.
func inOrder(standings []Standing) []Standing {
	places := make([]place, len(standings))
	for i := range standings {
		s := &standings[i]
		places[i] = place{stateOrder[s.State], ranked(s.Risk), s.Due, s.Chore.ID, i}
	}
	slices.SortFunc(places, func(a, b place) int {
		return cmp.Or(cmp.Compare(a.state, b.state), cmp.Compare(b.risk, a.risk), cmp.Compare(a.due, b.due), cmp.Compare(a.id, b.id))
	})
	out := make([]Standing, len(standings))
	for i, p := range places {
		out[i] = standings[p.at]
	}
	return out
}

// ranked is a risk as it is ranked: in billionths.
func ranked(risk float64) int64 { return int64(risk*1e9 + 0.5 + slack) }

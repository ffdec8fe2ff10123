package request

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
)

// Shift is a chore whose dates an act would move. Before is nil for a chore that
// would come into the round, After for one that would go out of it.
type Shift struct {
	Chore         model.Chore
	Before, After *schedule.Standing
}

// Effect is what entries would make of a book and of its round.
type Effect struct {
	Book   *ledger.Book
	Round  *schedule.Round
	Shifts []Shift           // in the order of the round as it is; what would be new stands last
	Broken []model.Component // that would count as broken and do not now
	Mended []model.Component // that count as broken and would not any more
}

// Foresee is the effect of entries, were they written as one act after the last of
// a book.
func Foresee(b *ledger.Book, now *schedule.Round, entries []model.Entry) (Effect, error) {
	next, err := extended(b, entries)
	if err != nil {
		return Effect{}, err
	}
	then := schedule.Make(next, now.On)
	return Effect{next, then, shifts(now, then), brokenOnly(then, now), brokenOnly(now, then)}, nil
}

// brokenOnly are the components that are broken in one round and not in another.
func brokenOnly(in, notIn *schedule.Round) []model.Component {
	var out []model.Component
	for _, f := range in.Faults {
		if !slices.ContainsFunc(notIn.Faults, func(g schedule.OpenFault) bool { return g.Component.ID == f.Component.ID }) {
			out = append(out, f.Component)
		}
	}
	return out
}

func shifts(now, then *schedule.Round) []Shift {
	after := make(map[model.ID]*schedule.Standing, len(then.Standings))
	for i := range then.Standings {
		after[then.Standings[i].Chore.ID] = &then.Standings[i]
	}
	var out []Shift
	for i := range now.Standings {
		s := &now.Standings[i]
		if t := after[s.Chore.ID]; t == nil || moved(s, t) {
			out = append(out, Shift{s.Chore, s, t})
		}
		delete(after, s.Chore.ID)
	}
	for i := range then.Standings {
		if t := after[then.Standings[i].Chore.ID]; t != nil {
			out = append(out, Shift{t.Chore, nil, t})
		}
	}
	return out
}

func moved(s, t *schedule.Standing) bool {
	return s.Due != t.Due || s.Limit != t.Limit || s.State != t.State
}

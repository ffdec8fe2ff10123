package round

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/phrase"
)

// facts are what the frames of a round have in common, worked out once for each.
type facts struct {
	while  []schedule.Suggestion // what could be done while one does what is due
	silent []string              // the counters that nobody has logged for long
	now    schedule.Cost         // of what is late or due
	texts  []string              // what the filter looks at; nil until there is one
	before map[model.ID]bool     // what is to be done before somebody goes
}

func factsOf(b *ledger.Book, r *schedule.Round) facts {
	today := r.Today()
	f := facts{while: r.WhileThere(today), silent: phrase.Silent(b, r), now: r.Cost(today...), before: map[model.ID]bool{}}
	if a := r.Leaving(); a != nil {
		for _, s := range r.BeforeYouGo(*a) {
			f.before[s.Chore.ID] = true
		}
	}
	return f
}

package round

import (
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/phrase"
)

// facts are what the frames of a round have in common, worked out once for each.
type facts struct {
	while    []schedule.Suggestion // what could be done while one does what is due
	silent   []string              // the counters that nobody has logged for long
	now      schedule.Cost         // of what is late or due
	texts    []string              // what the filter looks at; nil until there is one
	sections []phrase.Section
	far      []bool // by the place in the round: in a section that is folded
}

func factsOf(b *ledger.Book, r *schedule.Round) facts {
	today := r.Today()
	f := facts{
		while: r.WhileThere(today), silent: phrase.Silent(b, r), now: r.Cost(today...),
		sections: phrase.Sections(r), far: make([]bool, len(r.Standings)),
	}
	for _, sec := range f.sections {
		for _, i := range sec.Chores {
			f.far[i] = sec.Far
		}
	}
	return f
}

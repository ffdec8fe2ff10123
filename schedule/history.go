package schedule

import "brine/wrasse/model"

// history is the cycles of a chore up to a date, in order of time, as far as the book holds them.
type history struct {
	starts []model.Start // the last of them begins the present cycle
	ticks  []model.TickRecord
}

func newHistory(b *model.Book, chore model.ID, on model.Date) history {
	return history{b.Starts(chore, on), b.TicksUpTo(chore, on)}
}

// begun tells whether there is a present cycle: the component is in service, or the chore was ticked.
func (h history) begun() bool { return len(h.starts) > 0 }

// present is the start of the present cycle.
func (h history) present() model.Start { return h.starts[len(h.starts)-1] }

package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// history is the cycles of a chore up to a date, in order of time, as far as the book holds them.
type history struct {
	starts []ledger.Start // the last of them begins the present cycle
	ticks  []ledger.TickRecord
}

func newHistory(b *ledger.Book, chore model.ID, on model.Date) history {
	return history{b.Starts(chore, on), b.TicksUpTo(chore, on)}
}

// begun tells whether there is a present cycle: the component is in service, or the chore was ticked.
func (h history) begun() bool { return len(h.starts) > 0 }

// present is the start of the present cycle.
func (h history) present() ledger.Start { return h.starts[len(h.starts)-1] }

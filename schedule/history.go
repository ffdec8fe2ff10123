package schedule

import "brine/wrasse/model"

// history is the cycles of a chore up to a date, in order of time.
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

// cycle is a closed cycle: it ends where the next one starts.
type cycle struct{ start, end model.Start }

// closed are the cycles that have ended.
func (h history) closed() []cycle {
	var out []cycle
	for i := 1; i < len(h.starts); i++ {
		out = append(out, cycle{h.starts[i-1], h.starts[i]})
	}
	return out
}

// at is the moment at which the cycle ended.
func (c cycle) at() moment { return moment{c.end.On, c.end.Mark} }

// endOfDay is the end of a day of the cycle, or the cycle's own end when that comes first.
func (c cycle) endOfDay(d model.Date) moment {
	end := model.EndOf(d)
	if c.end.Mark.Before(end) {
		end = c.end.Mark
	}
	return moment{d, end}
}

// moment is a date and the place in the log up to which entries count.
type moment struct {
	date model.Date
	end  model.Mark
}

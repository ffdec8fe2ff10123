package schedule

import "brine/wrasse/model"

// Make is the round of a book on a date. Entries dated after it do not exist for it, save definitions, amends and
// rebuilt flags.
func Make(b *model.Book, on model.Date) *Round { return NewMaker().Make(b, on) }

// Maker makes rounds and remembers what it learnt of each chore, so that only chores whose entries have changed are
// learnt anew. It gives the very rounds that Make gives, and may be used from several goroutines.
type Maker struct{ memo *memo }

// NewMaker is a Maker that has learnt nothing yet.
func NewMaker() *Maker { return NewMakerWith(nil) }

// NewMakerWith is a Maker that begins with what others have learnt, as Learnt gave it, of any book and any date: what was
// learnt from other numbers than those at hand is not used, nor is what can't be read. The map and its values belong to
// the Maker from now on and are not written to.
func NewMakerWith(learnt map[string][]byte) *Maker { return &Maker{newMemo(learnt)} }

// Learnt is what the Maker has learnt since it was last asked, or made: fits as opaque bytes, some 40 to 80 of them, by a
// key of each life and each line. A later one replaces an earlier one under the same key. The bytes may not be written to.
func (m *Maker) Learnt() map[string][]byte { return m.memo.learnt() }

// Make is the round of a book on a date.
func (m *Maker) Make(b *model.Book, on model.Date) *Round {
	chores := b.Chores()
	v := look(b, on, chores, m.memo)
	v.survey(chores)
	r := &Round{On: on, Book: b.Def().Name, Faults: v.openFaults(chores), Standings: inOrder(v.standings(chores)), sight: v}
	r.at = make(map[model.ID]int, len(r.Standings))
	for i := range r.Standings {
		s := &r.Standings[i]
		r.Counts.add(s)
		r.at[s.Chore.ID] = i
	}
	return r
}

func (c *Counts) add(s *Standing) {
	switch s.State {
	case StateLate:
		c.Late++
	case StateDue:
		c.Due++
	case StateSoon:
		c.Soon++
	case StateDeferred:
		c.Deferred++
	case StateAhead:
		c.Ahead++
	case StateIdle:
		c.Idle++
	}
	if !s.PastLimit {
		return
	}
	if s.State != StateDeferred {
		c.PastLimit++
	}
	if s.Chore.Consequence >= 2 {
		c.PastLimitHarm++
	}
}

// PlannedAt is the planned date that a tick of a chore dated on is stamped with, on the book without that tick: what
// the book said on the day. There is none when the chore is idle then, or when the tick would not close its latest
// cycle, because it was ticked or its component put into service since.
func PlannedAt(b *model.Book, chore model.ID, on model.Date) (model.Date, bool) {
	c, ok := b.Chore(chore)
	if !ok {
		return 0, false
	}
	starts := b.Starts(chore, model.LastDate)
	if len(starts) == 0 || starts[len(starts)-1].On > on {
		return 0, false
	}
	v := look(b, on, []model.Chore{c}, newMemo(nil))
	var planned model.Date
	for _, s := range v.clocks(&c) {
		planned = earlier(planned, s.Planned)
	}
	return planned, !planned.IsZero()
}

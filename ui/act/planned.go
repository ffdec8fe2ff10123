package act

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
)

// stamper stamps ticks of one act with what the book had planned. It makes one
// round for each date and not for each tick: catching up may tick many at once.
type stamper struct {
	book   *model.Book
	rounds map[model.Date]*schedule.Round
}

func newStamper(b *model.Book) *stamper {
	return &stamper{b, map[model.Date]*schedule.Round{}}
}

// stamp is a tick with its planned date, as it stands after other entries of the
// same act.
func (s *stamper) stamp(before []model.Entry, d Done) (model.Tick, error) {
	t := d.What
	c, ok := s.book.Chore(t.Chore)
	if !ok {
		return t, unknown("chore", t.Chore)
	}
	if err := checkFound(c, t.Found); err != nil {
		return t, err
	}
	if ticksAgain(before, c.ID) {
		next, err := s.book.Extend(numbered(s.book, before))
		if err != nil {
			return t, plain(s.book, err)
		}
		return newStamper(next).stamp(nil, d)
	}
	t.Planned = 0
	if closesLatest(s.book, c, d.On) {
		t.Planned = s.planned(c.ID, d.On)
	}
	return t, nil
}

func ticksAgain(before []model.Entry, chore model.ID) bool {
	return slices.ContainsFunc(before, func(e model.Entry) bool {
		t, ok := e.Body.(model.Tick)
		return ok && t.Chore == chore
	})
}

// closesLatest tells whether a tick on a date, written now, ends the latest cycle
// of a chore: nothing starts a cycle after it.
func closesLatest(b *model.Book, c model.Chore, on model.Date) bool {
	if ticks := b.Ticks(c.ID); len(ticks) > 0 && ticks[len(ticks)-1].On > on {
		return false
	}
	return !slices.ContainsFunc(b.Versions(c.Component), func(v model.Version) bool { return v.InService > on })
}

// planned is the date by which the book, as of a date, wanted a chore done; no date
// when no clock gave one.
func (s *stamper) planned(chore model.ID, on model.Date) model.Date {
	r, ok := s.rounds[on]
	if !ok {
		r = schedule.Make(s.book, on)
		s.rounds[on] = r
	}
	for i := range r.Standings {
		if r.Standings[i].Chore.ID == chore {
			return r.Standings[i].Planned
		}
	}
	return 0
}

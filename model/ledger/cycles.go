package ledger

import (
	"slices"

	"brine/wrasse/model"
)

// Start is where a cycle of a chore begins.
type Start struct {
	model.Mark
	Tick  *TickRecord // nil when the component went into service then
	about bool        // so about then
}

// About tells whether the start is a guess.
func (s Start) About() bool { return s.about || s.Tick != nil && s.Tick.About }

// Starts are the starts of a chore's cycles dated not after on, in order of time: its ticks, and the dates on which
// its component was put into service again. That of a component's first service counts only when no tick is dated
// before it, and none that falls on the date of a tick counts. O(ticks).
func (b *Book) Starts(chore model.ID, on model.Date) []Start {
	c, _ := b.chores.get(chore)
	next := b.services(c.Component)
	ticks := b.TicksUpTo(chore, on)
	out := make([]Start, 0, len(ticks)+len(next))
	serve := func(s service) {
		if s.on <= on && (len(ticks) == 0 || ticks[0].On > s.on || s.anew) {
			out = append(out, Start{Mark: model.Mark{On: s.on}, about: s.about})
		}
	}
	for i := range ticks {
		t := &ticks[i]
		for ; len(next) > 0 && next[0].on <= t.On; next = next[1:] {
			if next[0].on < t.On {
				serve(next[0])
			}
		}
		out = append(out, Start{Mark: t.Mark(), Tick: t})
	}
	for _, s := range next {
		serve(s)
	}
	return out
}

// service is a date on which a component was put into service, for the first time or again.
type service struct {
	on          model.Date
	anew, about bool
}

// services are the dates on which a component was put into service, in order of time: first by its first definition,
// then again by each that gives a later date than the definition before it.
func (b *Book) services(component model.ID) []service {
	var out []service
	versions := b.Versions(component)
	for i, v := range versions {
		if i > 0 && v.InService <= versions[i-1].InService {
			continue
		}
		at, known := slices.BinarySearchFunc(out, v.InService, func(s service, on model.Date) int { return int(s.on - on) })
		if !known {
			out = slices.Insert(out, at, service{on: v.InService})
		}
		out[at].anew, out[at].about = i > 0, v.about
	}
	return out
}

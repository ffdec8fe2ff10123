package schedule

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// vesselLog is what was counted in a vessel up to a date, and what ran into it and out of it.
type vesselLog struct {
	vessel model.Vessel
	levels []ledger.Logged[model.Level]
	moves  []movement // in order of time
	needs  []ledger.Logged[model.Need]
}

// movement is litres that ran into a vessel, or out of it where they are below 0.
type movement struct {
	model.Mark
	litres float64
}

// newVesselLog gathers what happened to a vessel up to a date, in O(what was logged of what it is fed by, of batches, of
// draws, and of chores that take from it).
func newVesselLog(b *ledger.Book, v model.Vessel, on model.Date) vesselLog {
	l := vesselLog{vessel: v, levels: upToDate(b.Levels(v.ID), on), needs: upToDate(b.Needs(v.ID), on)}
	move := func(m model.Mark, litres float64) { l.moves = append(l.moves, movement{m, litres}) }
	if v.FedBy != "" {
		for _, a := range b.Tally(v.FedBy).UpTo(on) {
			move(model.Mark{On: a.On, Seq: a.Seq}, a.Qty)
		}
	}
	for _, batch := range upToDate(b.Batches(), on) {
		if batch.What.From == v.ID {
			move(batch.Mark(), -batch.What.VolumeL)
		}
		if batch.What.Into == v.ID {
			move(batch.Mark(), batch.What.VolumeL)
		}
	}
	for _, other := range b.Vessels() {
		for _, d := range upToDate(b.Draws(other.ID), on) {
			if other.ID == v.ID {
				move(d.Mark(), -d.What.Litres)
			}
			if d.What.Into == v.ID {
				move(d.Mark(), d.What.Litres)
			}
		}
	}
	for _, c := range b.Chores() {
		for i, take := range c.Takes {
			if take.Vessel != v.ID {
				continue
			}
			for _, t := range b.TicksUpTo(c.ID, on) {
				move(t.Mark(), -t.Took(i, take))
			}
		}
	}
	slices.SortStableFunc(l.moves, func(a, b movement) int { return a.Compare(b.Mark) })
	return l
}

// upToDate is the part of a list in order of time that is dated not after on.
func upToDate[B model.Body](list []ledger.Logged[B], on model.Date) []ledger.Logged[B] {
	n := len(list)
	for n > 0 && list[n-1].On > on {
		n--
	}
	return list[:n:n]
}

// counted is the latest count of the level, nil when there is none.
func (l *vesselLog) counted() *ledger.Logged[model.Level] {
	if n := len(l.levels); n > 0 {
		return &l.levels[n-1]
	}
	return nil
}

// levelOn is the litres at the end of a date by the latest count, which there is.
func (l *vesselLog) levelOn(on model.Date, use float64) float64 {
	return l.left(l.counted(), on, model.EndOf(on), use)
}

// left is what is left of a count on a date, of whose movements those before end are seen. On every day after it what nobody logs is taken off first, then the
// movements of the day follow in the order of the log. A vessel is never less than empty or more than full.
func (l *vesselLog) left(count *ledger.Logged[model.Level], on model.Date, end model.Mark, use float64) float64 {
	level := count.What.Litres
	step := func(litres float64) { level = max(0, min(l.vessel.Capacity, level+litres)) }
	day := count.On
	pass := func(until model.Date) {
		for ; day < until; day++ {
			step(-use)
		}
	}
	next := behind(l.moves, count.Mark())
	for ; next < len(l.moves) && l.moves[next].Before(end); next++ {
		pass(l.moves[next].On)
		step(l.moves[next].litres)
	}
	pass(on)
	return level
}

// behind is the index of the first movement behind a place.
func behind(moves []movement, at model.Mark) int {
	n, _ := slices.BinarySearchFunc(moves, at, func(m movement, at model.Mark) int {
		if at.Before(m.Mark) {
			return 1
		}
		return -1
	})
	return n
}

// open is the needs that are still to be met on a date: what was drawn since they were written counts against each.
func (l *vesselLog) open(on model.Date) []OpenNeed {
	var out []OpenNeed
	for _, n := range l.needs {
		if n.What.By < on {
			continue
		}
		left := n.What.Litres
		for _, m := range l.moves {
			if m.Seq > n.Seq && m.litres < 0 {
				left += m.litres
			}
		}
		if left > slack {
			out = append(out, OpenNeed{n, left})
		}
	}
	return out
}

// muchUnlogged is the part of a vessel's capacity that may be in it unlogged before that is asked about. Our own choice.
const muchUnlogged = 0.05

// unlogged is what is taken from a vessel of fresh water, and nobody logs, in L a day; more is what the latest count found
// in it beyond what was logged, if that is much.
//
// Between two counts it is what the logged movements alone would have left of the first, less the second. The rate is that
// of a running meter that shows these (method.md 2).
func (v *sight) unlogged(l *vesselLog) (perDay float64, known bool, more float64) {
	switch {
	case l.vessel.Auto:
		c, ok := v.book.Counter(l.vessel.FedBy)
		if !ok {
			return 0, false, 0
		}
		r := v.rate(c)
		return r.perDay, r.ok, 0
	case l.vessel.Holds == model.HoldsSalt:
		return 0, true, 0
	}
	var counts []*ledger.Logged[model.Level]
	for i := range l.levels {
		switch c, n := &l.levels[i], len(counts); {
		case c.What.About:
		case n > 0 && counts[n-1].On == c.On:
			counts[n-1] = c
		default:
			counts = append(counts, c)
		}
	}
	amounts := make([]ledger.Amount, len(counts))
	for i, c := range counts {
		amounts[i] = ledger.Amount{On: c.On, Seq: c.Seq}
		if i > 0 {
			residual := l.left(counts[i-1], c.On, c.Mark(), 0) - c.What.Litres
			more = 0
			if residual < -muchUnlogged*l.vessel.Capacity-slack {
				more = -residual
			}
			amounts[i].Qty = max(0, residual)
		}
	}
	var stated rate
	if l.vessel.DeclaredUse != nil {
		stated = rate{*l.vessel.DeclaredUse, true}
	}
	r := newRecord(true, stated, amounts, v.away, nil)
	use := r.seen(len(r.entries), v.on)
	return use.perDay, use.ok, more
}

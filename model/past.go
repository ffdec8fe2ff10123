package model

import (
	"errors"
	"math"
)

// A brief book holds of each thing only the latest events. What lies before them is kept as what it comes to: enough
// for every question about a date from its floor on. The rules that say how much is held are in settle.go.

// ErrPast is the error of what a brief book can't answer: it lies further back than the book holds. The same asked of
// a wide book succeeds.
var ErrPast = errors.New("needs what lies further back than the book holds")

// past is what lies before the events that a book holds. The zero past is that of a book that holds everything.
type past struct {
	dropped map[list]dropped
	chores  map[ID]*chorePast
	counted map[Counting]tallyPast
	stock   map[ID]stockPast
	known   map[ID]int // how many lessons of a chore the file holds
	floor   Date
	brief   bool
}

// list names one of the lists of events of a book: of a kind of entry and, save for kinds that belong to the book
// itself, of a thing.
type list struct {
	kind Kind
	id   ID
}

// dropped is how many events are not held of a list, and the place of the last of them.
type dropped struct {
	n    int
	last Mark
}

// chorePast is what the cycles of a chore that ended at or before a start come to.
type chorePast struct {
	from    Mark // the start of the first cycle that is held
	lessons Lessons
	slips   SlipSums
	used    map[ID]float64 // spares, by the ticks that are not held
}

// Counting is a sum over the amounts of a counter: as they are or, where an inlet is named, weighted by what the water
// carried.
type Counting struct{ Counter, Inlet, Outlet ID }

// Counting is what a usage or load clock counts.
func (c *Clock) Counting() Counting { return Counting{c.Counter, c.Inlet, c.Outlet} }

// from is the start of the first cycle of a chore that is held.
func (p *past) from(chore ID) Mark {
	if c := p.chores[chore]; c != nil {
		return c.from
	}
	return Mark{}
}

// used is what the ticks of a chore that are not held took of a spare.
func (p *past) used(chore, spare ID) float64 {
	if c := p.chores[chore]; c != nil {
		return c.used[spare]
	}
	return 0
}

// tallyPast is what the amounts of a counting that are not held come to.
type tallyPast struct {
	n     int
	first Date     // of the amount that opened the record
	faded float64  // the amounts after that one, each fading with its age, as seen on the date at
	at    Date     // of the last of them
	meter *float64 // of a running meter: the value after them, nil when it was reset since
}

// UsageHalfLife is the age in days at which an amount counts half for the present rate.
const UsageHalfLife = 60.0

func (p tallyPast) plus(on Date, qty float64) tallyPast {
	p.n++
	if p.n == 1 {
		p.first, p.at = on, on
		return p
	}
	p.faded = float64(p.faded*math.Exp2(-float64(on.Sub(p.at))/UsageHalfLife)) + qty
	p.at = on
	return p
}

// stockPast is what the stock changes that are not held come to.
type stockPast struct {
	sum    float64
	bought bool // one of them put something on the shelf
}

// Brief tells whether the book holds only the latest events.
func (b *Book) Brief() bool { return b.past.brief }

// Floor is the first date about which the book can answer; no date when it holds everything.
func (b *Book) Floor() Date { return b.past.floor }

// Bought tells whether a spare was ever put on the shelf.
func (b *Book) Bought(spare ID) bool {
	for _, s := range b.stocks.of(spare) {
		if s.What.Change > 0 {
			return true
		}
	}
	return b.past.stock[spare].bought
}

// errPast is an ErrPast that says what must be held whole for the answer.
type errPast struct{ whole things }

func (e *errPast) Error() string { return ErrPast.Error() }

func (e *errPast) Is(target error) bool { return target == ErrPast }

// further is the error of a settling that would have to go back: the thing, and what its past is made from, must be
// held whole.
func (s *settler) further(t thing) error { return &errPast{s.book.closure(t)} }

// closure is a thing with all that its past is made from.
func (b *Book) closure(t thing) things {
	out := things{t: true}
	if t.kind == KindChore {
		c := b.chores.byID[t.id]
		b.eachAsked(&c, func(of thing) { out[of] = true })
	}
	for _, of := range b.loads() {
		if out[thing{KindCounter, of.Counter}] {
			out[thing{KindGauge, of.Inlet}] = true
			if of.Outlet != "" {
				out[thing{KindGauge, of.Outlet}] = true
			}
		}
	}
	return out
}

// knows remembers how many lessons of a chore the file holds.
func (b *Book) knows(chore ID, lessons int) {
	if b.past.known == nil {
		b.past.known = map[ID]int{}
	}
	b.past.known[chore] = lessons
}

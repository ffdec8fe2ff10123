package columns

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// fresh is the items that the book has not got yet. An item is known by a value of the book of the same day that is its
// own as far as it was written; each value of the book is so for one item. The one whose number an item names comes
// first, then the nearest, to the items that say it with more digits before those with fewer.
func fresh(b *ledger.Book, items []Item) []Item {
	book := map[subject][]had{}
	looked := map[model.ID]bool{}
	for _, item := range items {
		if s := item.subject(); !looked[s.id] {
			looked[s.id] = true
			gather(b, s.id, book)
		}
	}
	left := make([]int, len(items)) // of items
	for i := range left {
		left[i] = i
	}
	left = slices.DeleteFunc(left, func(i int) bool {
		return takes(book, items[i], func(h had) float64 {
			if h.seq != items[i].seq {
				return math.Inf(1)
			}
			return 0
		})
	})
	slices.SortStableFunc(left, func(i, j int) int { return cmp.Compare(items[i].within, items[j].within) })
	left = slices.DeleteFunc(left, func(i int) bool {
		return takes(book, items[i], func(h had) float64 { return math.Abs(h.value - items[i].value()) })
	})
	slices.Sort(left)
	out := make([]Item, len(left))
	for n, i := range left {
		out[n] = items[i]
	}
	return out
}

// subject is what a value or a tick is about.
type subject struct {
	kind model.Kind
	id   model.ID
	on   model.Date
}

// had is a value or a tick of the book.
type had struct {
	seq   model.Seq
	value float64
	found model.Found
}

func (i Item) subject() subject {
	s := subject{kind: i.What.Kind(), on: i.On}
	switch w := i.What.(type) {
	case model.Tick:
		s.id = w.Chore
	case model.Usage:
		s.id = w.Counter
	case model.Reading:
		s.id = w.Gauge
	}
	return s
}

// value is the value of an item, 0 of a tick.
func (i Item) value() float64 {
	switch w := i.What.(type) {
	case model.Usage:
		return w.Figure()
	case model.Reading:
		return w.Value
	}
	return 0
}

// gather notes what the book has of an id, of whichever kind.
func gather(b *ledger.Book, id model.ID, book map[subject][]had) {
	add := func(kind model.Kind, h *ledger.Happening, of had) {
		of.seq = h.Seq
		s := subject{kind, id, h.On}
		book[s] = append(book[s], of)
	}
	for _, t := range b.Ticks(id) {
		add(model.KindTick, &t.Happening, had{found: t.Found})
	}
	for _, u := range b.Usages(id) {
		add(model.KindUsage, &u.Happening, had{value: u.What.Figure()})
	}
	for _, r := range b.Readings(id) {
		add(model.KindReading, &r.Happening, had{value: r.What.Value})
	}
}

// takes takes out of the book the nearest value that an item is, and tells whether there was one that is not infinitely far.
func takes(book map[subject][]had, item Item, far func(had) float64) bool {
	of := item.subject()
	best, nearest := -1, math.Inf(1)
	for n, h := range book[of] {
		if d := far(h); item.is(h) && d < nearest {
			best, nearest = n, d
		}
	}
	if best >= 0 {
		book[of] = slices.Delete(book[of], best, best+1)
	}
	return best >= 0
}

// slack is what a conversion of units and back leaves behind, as a part of the value.
const slack = 1e-9

// is tells whether a value or tick of the same thing and day is what an item says, as far as it says it.
func (i Item) is(h had) bool {
	if t, ok := i.What.(model.Tick); ok {
		return t.Found == h.found
	}
	return math.Abs(h.value-i.value()) <= i.within+slack*math.Abs(h.value)
}

// digits is how many digits of a figure a table keeps: enough for any instrument, and
// too few for what a conversion of units and back leaves behind.
const digits = 10

// figure writes a number for a table, without an exponent.
func figure(v float64) string {
	short, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	return strconv.FormatFloat(short, 'f', -1, 64)
}

package table

import (
	"strconv"

	"brine/wrasse/model"
)

// fresh is the items that the book has not got yet, and how many it has. A value that
// the table has twice and the book once is new once.
func fresh(b *model.Book, items []Item) (out []Item, known int) {
	kept := map[string]int{}
	looked := map[model.ID]bool{}
	for _, item := range items {
		if id := subjectID(item.What); !looked[id] {
			looked[id] = true
			count(b, id, kept)
		}
		if key := sameness(item.On, item.What); kept[key] > 0 {
			kept[key]--
			known++
			continue
		}
		out = append(out, item)
	}
	return out, known
}

func subjectID(what model.Body) model.ID {
	switch w := what.(type) {
	case model.Tick:
		return w.Chore
	case model.Usage:
		return w.Counter
	case model.Reading:
		return w.Gauge
	}
	return ""
}

// count notes what the book has of an id, in whichever kind.
func count(b *model.Book, id model.ID, kept map[string]int) {
	for _, t := range b.Ticks(id) {
		kept[sameness(t.On, t.Tick)]++
	}
	for _, u := range b.Usages(id) {
		kept[sameness(u.On, u.What)]++
	}
	for _, r := range b.Readings(id) {
		kept[sameness(r.On, r.What)]++
	}
}

// sameness is equal for what a keeper would call the same: the thing, the day, and
// the value as far as it is shown.
func sameness(on model.Date, what model.Body) string {
	switch w := what.(type) {
	case model.Tick:
		return on.String() + " tick " + string(w.Chore) + " " + string(w.Found)
	case model.Usage:
		if w.Meter != nil {
			return on.String() + " meter " + string(w.Counter) + " " + figure(*w.Meter)
		}
		return on.String() + " amount " + string(w.Counter) + " " + figure(*w.Amount)
	case model.Reading:
		return on.String() + " reading " + string(w.Gauge) + " " + figure(w.Value)
	}
	return ""
}

// digits is how many digits of a figure a table keeps: enough for any instrument, and
// too few for what a conversion of units and back leaves behind.
const digits = 10

// figure writes a number for a table, without an exponent.
func figure(v float64) string {
	short, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	return strconv.FormatFloat(short, 'f', -1, 64)
}

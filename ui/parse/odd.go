package parse

import (
	"fmt"
	"math"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// How far off a value must be to be asked about.
const (
	oddAmountTimes  = 4
	oddReadingTimes = 5
	oddReadingUnits = 3
	usualFrom       = 3  // amounts needed before there is a usual one
	usualLatest     = 20 // of which the latest this many make it
	longAgo         = 10 // years
)

// OddAmount is the question to ask about an amount of a counter over 4 times its
// usual one (the median of its latest amounts), or "". v is what request.Use would
// take: of a running meter, its value.
func OddAmount(b *ledger.Book, c model.Counter, v float64, on model.Date) string {
	if c.Style == model.StyleMeter {
		last, ok := b.LastMeter(c.ID, on)
		if !ok || v < last {
			return ""
		}
		v -= last
	}
	var before []float64
	for _, a := range b.Amounts(c.ID) {
		if a.On <= on && a.Qty > 0 {
			before = append(before, a.Qty)
		}
	}
	if len(before) < usualFrom {
		return ""
	}
	before = slices.Clone(before[max(len(before)-usualLatest, 0):])
	slices.Sort(before)
	usual := before[len(before)/2]
	if v <= oddAmountTimes*usual {
		return ""
	}
	u := b.Def().Units
	return fmt.Sprintf("%s is over %d times the usual %s of %s", Quantity(v, c.Unit, u), oddAmountTimes, Quantity(usual, c.Unit, u), c.Name)
}

// OddReading is the question to ask about a reading that is both 5 times and 3
// units off the last of its gauge, or "". After the part was renewed anything may be
// read, and so may be before the unit has run for a while: such a reading counts nowhere.
func OddReading(b *ledger.Book, r model.Reading, on model.Date) string {
	g, _ := b.Gauge(r.Gauge)
	for _, last := range slices.Backward(b.Readings(r.Gauge)) {
		if last.On > on || !last.What.Counts() {
			continue
		}
		was := last.What.Value
		high, low := max(math.Abs(r.Value), math.Abs(was)), min(math.Abs(r.Value), math.Abs(was))
		if !r.Counts() || math.Abs(r.Value-was) < oddReadingUnits || high < oddReadingTimes*low || renewed(b, g.Component, last.Mark(), on) {
			return ""
		}
		u := b.Def().Units
		return fmt.Sprintf("%s: %s is far from the last, %s", g.Name, Quantity(r.Value, g.Unit, u), Quantity(was, g.Unit, u))
	}
	return ""
}

// renewed tells whether a part was renewed after a place and up to a date.
func renewed(b *ledger.Book, component model.ID, after model.Mark, on model.Date) bool {
	return slices.ContainsFunc(b.Chores(), func(c model.Chore) bool {
		return c.Component == component && c.Work == model.WorkRenew && len(b.TicksWithin(c.ID, after, model.EndOf(on))) > 0
	})
}

// OddOrder is the question to ask when water gets worse on its way: product above
// membrane, or membrane above tap, among readings taken together; "" otherwise.
func OddOrder(b *ledger.Book, readings []model.Reading) string {
	var before *model.Reading
	for _, role := range []string{model.RoleTDSTap, model.RoleTDSMembrane, model.RoleTDSProduct} {
		g, ok := b.GaugeByRole(role)
		i := slices.IndexFunc(readings, func(r model.Reading) bool { return ok && r.Gauge == g.ID })
		if i < 0 {
			continue
		}
		if before != nil && readings[i].Value > before.Value {
			first, _ := b.Gauge(before.Gauge)
			return fmt.Sprintf("%s %s is above %s %s; were they swapped", g.Name, Number(readings[i].Value), first.Name, Number(before.Value))
		}
		before = &readings[i]
	}
	return ""
}

// OddDate is the question to ask about a date after today or long before it, or "".
func OddDate(on, today model.Date) string {
	switch {
	case on > today:
		return fmt.Sprintf("%s is after today, %s", on, today)
	case on < today.AddMonths(-12*longAgo):
		return fmt.Sprintf("%s is over %d years back", on, longAgo)
	}
	return ""
}

// OddTick is the question to ask about a tick from before the part is known to have been there, by its definition or by
// an earlier tick, or "".
func OddTick(b *ledger.Book, c model.Chore, on model.Date) string {
	first := model.NotInUse
	for _, v := range b.Versions(c.Component) {
		first = min(first, v.InService)
	}
	if ticks := b.Ticks(c.ID); len(ticks) > 0 {
		first = min(first, ticks[0].On)
	}
	switch {
	case first == model.NotInUse:
		return "it is not in use yet by the book"
	case on >= first:
		return ""
	}
	return fmt.Sprintf("%s is before the part is known to be in use, %s", on, first)
}

// Again is the question to ask about a tick of a chore that is ticked on that date already, or "".
func Again(b *ledger.Book, c model.Chore, on, today model.Date) string {
	switch ticked := b.TicksWithin(c.ID, model.Mark{On: on}, model.EndOf(on)); {
	case len(ticked) == 0:
		return ""
	case on == today:
		return "ticked today already"
	}
	return fmt.Sprintf("ticked on %s already", on)
}

// OfChore is a question with the chore it is about, "" when there is none.
func OfChore(b *ledger.Book, c model.Chore, question string) string {
	if question == "" {
		return ""
	}
	return ChoreLabel(b, c) + ": " + question
}

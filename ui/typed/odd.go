package typed

import (
	"fmt"
	"math"
	"slices"

	"brine/wrasse/model"
)

// How far off a value must be to be asked about.
const (
	oddAmountTimes  = 4
	oddReadingTimes = 5
	oddReadingUnits = 3
	usualFrom       = 3  // amounts needed before there is a usual one
	usualLatest     = 20 // of which the latest this many make it
)

// OddAmount is the question to ask about an amount of a counter over 4 times its
// usual one (the median of its latest amounts), or "". v is what act.Use would
// take: of a running meter, its value.
func OddAmount(b *model.Book, c model.Counter, v float64, on model.Date) string {
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
// units off the last of its gauge, or "".
func OddReading(b *model.Book, r model.Reading, on model.Date) string {
	last, ok := lastReading(b, r.Gauge, on)
	if !ok || math.Abs(r.Value-last) < oddReadingUnits {
		return ""
	}
	high, low := max(math.Abs(r.Value), math.Abs(last)), min(math.Abs(r.Value), math.Abs(last))
	if high < oddReadingTimes*low {
		return ""
	}
	g, _ := b.Gauge(r.Gauge)
	u := b.Def().Units
	return fmt.Sprintf("%s: %s is far from the last, %s", g.Name, Quantity(r.Value, g.Unit, u), Quantity(last, g.Unit, u))
}

func lastReading(b *model.Book, gauge model.ID, on model.Date) (float64, bool) {
	all := b.Readings(gauge)
	for i := len(all) - 1; i >= 0; i-- {
		if all[i].On <= on {
			return all[i].What.Value, true
		}
	}
	return 0, false
}

// OddOrder is the question to ask when water gets worse on its way: product above
// membrane, or membrane above tap, among readings taken together; "" otherwise.
func OddOrder(b *model.Book, readings []model.Reading) string {
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

// OddDate is the question to ask about a date after today, or "".
func OddDate(on, today model.Date) string {
	if on <= today {
		return ""
	}
	return fmt.Sprintf("%s is after today, %s", on, today)
}

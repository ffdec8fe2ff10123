package starter

import (
	"math"
	"slices"

	"brine/wrasse/model"
)

const (
	changed    = 40.0  // L of the tank's water that a change takes out of the vat
	evaporated = 4.1   // L a day that go into the top-up can, and are not logged
	barrel     = 150.0 // L that the reservoir holds
	keeps      = 5.0   // L of it that its pump can't reach
	levelAtDay = 40.0  // L in it on the first day that it was counted
)

// counts are the days on which somebody counted the reservoir, first to last: once a week, as a month between two of them
// would hide what ran over.
var counts = every(7, -2)[len(every(7, -2))-7:]

// countWater logs what is in the vessels, and that a bigger change is wanted on the day the next one is due, the third from
// today whatever its weekday.
func (l *library) countWater() {
	level := levelAtDay
	for day := counts[0]; day <= counts[len(counts)-1]; day++ {
		if day > counts[0] {
			level = min(barrel, max(keeps, level-evaporated)+l.moved(day))
		}
		if slices.Contains(counts, day) {
			l.add(day, evening, model.Level{Vessel: "reservoir", Litres: math.Round(level)})
		}
	}
	l.add(counts[0], evening, model.Level{Vessel: "vat", Litres: 0})
	l.add(-1, buying, model.Need{Vessel: "vat", Litres: 60, By: l.date(3), Chore: "change-water", Note: "bigger change before the reading night"})
}

// moved is what ran into the reservoir on a day, less what was mixed of it, in L.
func (l *library) moved(day int) (litres float64) {
	for _, a := range l.acts {
		if a.day != day || a.mends != nil {
			continue
		}
		for _, b := range a.bodies {
			switch w := b.(type) {
			case model.Usage:
				if w.Counter == "water-made" {
					litres += *w.Amount
				}
			case model.Batch:
				litres -= w.VolumeL
			}
		}
	}
	return litres
}

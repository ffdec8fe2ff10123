package starter

import (
	"math/rand/v2"

	"brine/wrasse/model"
)

// firstDay is the day the demo's log begins, counted from today.
const firstDay = -735

// Demo is the whole log of an invented book, as it might stand on a day: a reef tank in
// the lobby of a small harbour town's library, kept by volunteers for two years. The
// RO/DI unit is in the cleaners' cupboard, the vat in the basement book store.
//
// Days are counted back from today, so that the round looks alike whichever day it is
// shown on; seasons follow the calendar. The log is the same for the same day. Today must
// lie between 1976 and 2198, so that all dates are dates a book accepts.
func Demo(today model.Date) []model.Entry {
	l := &library{diary: diary{today: today}, ticked: map[model.ID][]int{}, uses: map[model.ID][]use{}}
	l.furnish()
	l.makeWater()
	for _, p := range plans() {
		l.ticked[p.chore] = l.days(p)
	}
	for _, p := range plans() {
		l.tickAll(p)
	}
	l.mixBatches()
	l.countWater()
	l.remark()
	l.fillShelf()
	return l.entries()
}

// library is the demo while it is being made.
type library struct {
	diary
	chores     map[model.ID]model.Chore
	components map[model.ID]model.Component
	ticked     map[model.ID][]int // days on which each chore was ticked, first to last
	uses       map[model.ID][]use // what was taken off the shelf
}

// use is an amount of a spare used on a day.
type use struct {
	day    int
	amount float64
}

// dice are random numbers of their own for each topic, so that changing one chore
// changes no other.
func dice(topic string) *rand.Rand {
	var sum uint64 = 14695981039346656037 // FNV-1a, 64 bits
	for _, b := range []byte(topic) {
		sum = (sum ^ uint64(b)) * 1099511628211
	}
	return rand.New(rand.NewPCG(20190511, sum))
}

// away are the spans in which the library was shut: first day away and first day back.
var away = [][2]int{{-405, -391}, {-151, -145}}

// present moves a day on which nobody was there to the first day back.
func present(day int) int {
	for _, a := range away {
		if day >= a[0] && day < a[1] {
			return a[1]
		}
	}
	return day
}

// presentBefore is a day on which somebody was there, gap days before another or, where
// that falls on days away, beside them.
func presentBefore(day, gap int) int {
	before := day - max(1, gap)
	for _, a := range away {
		if before >= a[0] && before < a[1] && day <= a[1] {
			return a[0] - 1
		}
	}
	return present(before)
}

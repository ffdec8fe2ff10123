package starter

import (
	"sync"

	"brine/wrasse/model"
)

// plan places the last tick of a chore so that the round shows it where it should be.
// To move a chore in the round, change its line here.
type plan struct {
	chore model.ID

	due  int     // days from today to the date on which the round calls it due; negative is late
	life float64 // planned age that the log teaches, as a share of the one with no history; 0 is 1

	on []int // or the days of all its ticks, for chores that usage and readings govern

	found mix
}

// mix is how often a chore is found in each state, out of 100; what is left is light for
// clean and renew, passed for test. A chore without a mix is ticked with no word, save tests.
type mix struct{ clean, heavy, failed int }

var (
	easy   = mix{clean: 30, heavy: 10}
	usual  = mix{clean: 15, heavy: 25}
	late   = mix{clean: 5, heavy: 55, failed: 5}
	sound  = mix{}
	strict = mix{failed: 4}
)

// plans is the round of the demo, in the order in which the water flows: one past its
// limit, a few late, one or two today, one put off, several this week, the rest ahead.
var plans = sync.OnceValue(func() []plan {
	return []plan{
		{chore: "read-taps", due: 4},
		{chore: "measure-flows", due: 11},
		{chore: "read-chlorine", due: 16},
		{chore: "feel-for-leaks", due: 9, found: strict},
		{chore: "renew-sediment", due: 3, found: usual},
		{chore: "renew-carbon", due: -9, found: easy},
		{chore: "renew-membrane", on: []int{membraneDay}, found: mix{failed: 100}},
		{chore: "renew-restrictor", on: []int{membraneDay}, found: easy},
		{chore: "renew-resin", on: resinDays, found: mix{heavy: 40, failed: 60}}, // past its limit by a reading
		{chore: "renew-o-rings", due: 150, found: easy},
		{chore: "test-shut-off", due: 24, found: sound},
		{chore: "test-leak-alarm", due: 13, found: strict},
		{chore: "check-tds-meter", due: 58, found: strict},
		{chore: "wipe-reservoir", due: 20, life: 1.15, found: usual},
		{chore: "sanitise-reservoir", due: 110, found: easy},
		{chore: "sanitise-lines", due: 154, found: easy},
		{chore: "renew-tubing", due: 356, found: easy},
		{chore: "count-shelf", due: 18, found: sound},

		{chore: "clean-impeller", on: []int{-628, -465, -299, -134}, found: late}, // late by 11 days
		{chore: "renew-impeller", due: 230, found: usual},
		{chore: "descale-vat", on: every(52, -40), found: usual},
		{chore: "check-vat-heater", due: 12, found: sound},
		{chore: "look-over-vat-heater", due: 33, found: sound},
		{chore: "look-over-hoses", due: 47, found: strict},
		{chore: "test-mixing-rcd", due: 10, found: sound},
		{chore: "look-over-mixing-sockets", due: 15, found: strict},
		{chore: "check-salinity-meter", due: 12, found: strict},

		{chore: "wipe-cup", due: 1, life: 1.12, found: usual},
		{chore: "change-sock", due: 2, life: 1.12, found: usual},
		{chore: "scrape-glass", due: 0, life: 1.12, found: usual},
		{chore: "change-water", due: 3},
		{chore: "read-alkalinity", due: 2},
		{chore: "read-nutrients", due: 9},
		{chore: "compare-thermometers", due: 0, found: strict},
		{chore: "trip-top-up", due: 9, found: strict},
		{chore: "clear-overflow", due: 14, found: usual},
		{chore: "look-over-stand", due: 38, found: sound},
		{chore: "wipe-lights", due: 17, found: usual},
		{chore: "test-rcd-restart", due: 10, found: sound},
		{chore: "look-over-plugs", due: 19, found: strict},
		{chore: "clean-wave-pumps", due: 27, found: usual},
		{chore: "clean-return-pump", on: []int{-640, -505, pumpStopped + 1, -152}, found: usual}, // put off
		{chore: "strip-skimmer", due: 52, found: usual},
		{chore: "siphon-sump", due: -4, life: 1.24, found: late},
		{chore: "look-over-heater", due: 41, found: sound},
	}
})

// every is the days gap apart that end on last.
func every(gap, last int) []int {
	var days []int
	for day := last; day > firstDay; day -= gap {
		days = append([]int{day}, days...)
	}
	return days
}

const (
	membraneDay = -640 // the membrane was renewed
	pumpStopped = -311 // the return pump stopped after a power cut
)

// resinDays are the renewals of the resin. Its cycles grow shorter as the membrane ages;
// the last bed went over its threshold three days ago.
var resinDays = []int{-667, -577, -452, -340, -235, -140, -56}

// resinOver is how many days before the end of a bed its first reading over 1 ppm falls.
const resinOver = 3

// leadShare is the share of a planned age that the log teaches the round to take off, for
// each grade of reach.
var leadShare = [...]float64{1: 0.02, 2: 0.03, 3: 0.082, 4: 0.17, 5: 0.20}

// slipShare is by how much of the planned age volunteers are late on average, for each
// grade of reach.
var slipShare = [...]float64{1: 0.01, 2: 0.03, 3: 0.08, 4: 0.18, 5: 0.32}

// Package longlog invents logs of any length, for benchmarks and for tests that want
// more entries than one would write by hand: a household's reef station over twenty
// years (start at Household).
//
// The same seed gives the same log. What stands in it hangs together as far as a round
// can tell: meters run on, filters clog and beds wear out by the water made, chores
// come round in their own time. It is no part of the program, and no demo: that one,
// which is made to be looked at, is in model/starter.
package longlog

import (
	"iter"
	"math/rand/v2"

	"brine/wrasse/model"
)

// householdYears is how long a household's log is, whatever the number of its entries.
const householdYears = 20

// Household is a log of so many entries, in order of seq, about one reef tank and its
// water station with 40 chores. They are spread evenly over the twenty years that end on
// until; 100 000 of them, 13 or 14 a day, are about what a diligent keeper with a meter
// on every tap would write, and more are the same spread, only denser. A log shorter
// than its set-up of some 150 definitions is cut off within it.
func Household(seed uint64, entries int, until model.Date) iter.Seq[model.Entry] {
	return func(yield func(model.Entry) bool) {
		first := until.AddMonths(-12 * householdYears)
		h := &household{
			pen:     pen{yield: yield, left: entries},
			rng:     rand.New(rand.NewPCG(seed, 1)),
			entries: int64(entries), first: first, days: int64(until.Sub(first)) + 1,
			made:  map[model.ID]float64{},
			flags: map[model.ID]model.FlagState{},
			shelf: map[model.ID]float64{},
		}
		h.begin()
		for !h.done() {
			h.step()
		}
	}
}

// household is a household's log while it is being made.
type household struct {
	pen
	rng     *rand.Rand
	entries int64
	first   model.Date
	days    int64
	today   model.Date
	second  int        // of today
	on      model.Date // of the present act: today, or before it
	gear    gear
	rounds  rounds

	litres  float64              // of water made so far
	made    map[model.ID]float64 // litres made when a chore was last ticked
	metered float64              // hours at which the running meter began
	flags   map[model.ID]model.FlagState
	shelf   map[model.ID]float64
	recent  []amendable
	bygone  []amendable
}

// soonest is within how many days each chore is done for the first time.
const soonest = 365

// day is how far into the log it is, in days.
func (h *household) day() int { return h.today.Sub(h.first) }

// hours is how far into the log it is, in hours.
func (h *household) hours() float64 {
	return float64(h.day())*24 + float64(h.second)/3600
}

// begin writes the set-up, all in one act on the first day.
func (h *household) begin() {
	h.advance()
	h.gear = householdGear(h.first)
	for _, c := range h.gear.chores {
		every := everyDays(c.ID)
		h.rounds.add(c.ID, h.rng.Float64()*min(every, soonest), every)
	}
	h.write(h.gear.bodies()...)
}

// advance moves the clock to where the next entry stands, evenly between the first day and
// the last, and between six in the morning and ten at night.
func (h *household) advance() {
	const perDay = 24 * 60 * 60
	t := int64(h.seq) * h.days * perDay / h.entries
	h.today = h.first.AddDays(int(t / perDay))
	h.second = 6*60*60 + int(t%perDay)*16/24
	h.on = h.today
	h.pen.at = stamp(h.today, h.second)
}

// write gives out an act on the present date, and remembers what may be amended of it.
func (h *household) write(bodies ...model.Body) {
	h.by = ""
	if h.rng.IntN(10) < 3 {
		h.by = []string{"morning hand", "evening hand", "weekend hand"}[h.rng.IntN(3)]
	}
	for i, seq := 0, h.act(h.on, bodies...); i < len(bodies); i++ {
		h.remember(amendable{seq + model.Seq(i), h.on, bodies[i]})
	}
}

// acts are what a keeper does, by how often out of all acts.
var acts = []struct {
	often int
	late  bool // may be written down days after it happened
	do    func(*household)
}{
	{often: 3600, late: true, do: (*household).useWater},
	{often: 1120, do: (*household).readMeter},
	{often: 1080, late: true, do: (*household).read},
	{often: 1750, late: true, do: (*household).tick},
	{often: 585, do: (*household).mix},
	{often: 435, late: true, do: (*household).stock},
	{often: 290, late: true, do: (*household).note},
	{often: 72, do: (*household).putOff},
	{often: 58, do: (*household).fault},
	{often: 58, do: (*household).flag},
	{often: 40, do: (*household).leave},
	{often: 22, do: (*household).resetMeter},
	{often: 120, do: (*household).amend},
	{often: 50, do: (*household).redefine},
}

// latePerMille is how many of the acts that may be late are.
const latePerMille = 12

// step does one act.
func (h *household) step() {
	h.advance()
	all := 0
	for _, a := range acts {
		all += a.often
	}
	n := h.rng.IntN(all)
	for _, a := range acts {
		if n -= a.often; n >= 0 {
			continue
		}
		if a.late && h.rng.IntN(1000) < latePerMille {
			h.on = max(h.first, h.today.AddDays(-h.lateness()))
		}
		a.do(h)
		return
	}
}

// lateness is after how many days something is written down: mostly soon, now and then
// when a paper turns up months later.
func (h *household) lateness() int {
	if h.rng.IntN(20) == 0 {
		return 90 + h.rng.IntN(200)
	}
	return 1 + h.rng.IntN(20)
}

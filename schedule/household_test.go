package schedule

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/schedule/life"
)

// The invented households of the simulation. What a household's parts really last, what it really uses and how late it
// really is are hidden from whoever plans; the planner sees what a keeper would log.

// years is how long a household is watched, in days.
const years = 4 * 365

// firstDay is the first date of the simulation.
var firstDay = model.NewDate(2022, 1, 1)

// home is a household.
type home struct {
	seed     uint64
	chores   []duty
	use      map[model.ID][]float64 // true use, day by day
	dawdling float64                // factor on everybody's lateness
}

// duty is a chore with its hidden truth.
type duty struct {
	model.Chore
	reach    int
	nominal  float64 // days the manual says, at the use the manual assumes
	median   float64 // true, in the unit of its clock
	shape    float64 // true
	measured model.ID
	wear     float64 // sharpness of its gauge, 0 without one
}

// counters are what a household uses.
var counters = []model.ID{"water", "batches", "hours"}

// world is how well a book is kept.
type world struct {
	name      string
	unlogged  float64 // share of the logs of litres that are forgotten, and never made up for
	misspoken float64 // share of the ticks that say nothing of what was found, or something else
}

var (
	wellKept = world{name: "well kept"}
	halfKept = world{name: "half kept", unlogged: 0.5, misspoken: 1.0 / 3}
)

// logs tells whether the use of some days is logged.
func (w world) logs(h *home, counter model.ID, day int) bool {
	return counter != "water" || rand.New(rand.NewPCG(h.seed, uint64(day)<<8|7)).Float64() >= w.unlogged
}

// says is what a tick says of the n-th part of a chore.
func (w world) says(h *home, chore, n int, what model.Found) model.Found {
	rng := rand.New(rand.NewPCG(h.seed, uint64(chore)<<48|uint64(n)<<8|9))
	if rng.Float64() >= w.misspoken {
		return what
	}
	others := []model.Found{"", "", "", model.FoundClean, model.FoundLight, model.FoundHeavy, model.FoundFailed}
	others = slices.DeleteFunc(others, func(f model.Found) bool { return f == what })
	return others[rng.IntN(len(others))]
}

// accessMinutes are those before hands reach a part, by its reach grade.
var accessMinutes = [...]int{1: 1, 2: 2, 3: 5, 4: 12, 5: 25}

// nominalUse is the use a day that a manual assumes.
var nominalUse = map[model.ID]float64{"water": 12, "batches": 0.12, "hours": 10}

// meanSlip is how late jobs of a reach grade are done on average, as a share of their interval.
var meanSlip = [...]float64{0.01, 0.03, 0.06, 0.12, 0.18}

// parts are what every household looks after; the lives are what a manual or a friend says.
var parts = []struct {
	name        string
	clock       model.Clock
	consequence int
	reach       int
	minutes     int
	hidden      bool
	work        model.Work
	sharpness   float64 // of a gauge that shows the wear as (age/life)^sharpness; 0: no gauge
}{
	{"sediment", lastsUsed("water", 1500), 2, 2, 15, false, model.WorkRenew, 3},
	{"carbon", everyUsed("water", 2500), 3, 3, 15, true, model.WorkRenew, 0},
	{"membrane", lasts("2y"), 2, 4, 30, false, model.WorkRenew, 4},
	{"resin", lastsUsed("water", 900), 3, 3, 12, true, model.WorkRenew, 25},
	{"mixing-pump", everyUsed("batches", 12), 2, 4, 30, false, model.WorkClean, 0},
	{"vat", lastsUsed("batches", 6), 1, 2, 20, false, model.WorkClean, 0},
	{"return-pump", lastsUsed("hours", 1500), 3, 5, 40, false, model.WorkClean, 0},
	{"skimmer", lasts("21d"), 1, 1, 8, false, model.WorkClean, 0},
	{"top-up", every("6w"), 3, 3, 10, true, model.WorkClean, 0},
	{"vat-heater", every("3mo"), 2, 5, 15, true, model.WorkClean, 0},
}

// newHome invents a household. Lives are off from what is said by a factor of about e^0.4 either way, use from what a
// manual assumes by about e^0.8: a small tank and a big one.
func newHome(seed uint64) *home {
	rng := rand.New(rand.NewPCG(seed, 1))
	h := &home{seed: seed, use: map[model.ID][]float64{}, dawdling: math.Exp(0.3 * rng.NormFloat64())}
	for _, id := range counters {
		h.use[id] = invent(rng, nominalUse[id])
	}
	for _, p := range parts {
		c := model.Chore{
			ID: model.ID(p.name), Component: model.ID(p.name), Name: p.name, Work: p.work, Minutes: p.minutes,
			Consequence: p.consequence, Hidden: p.hidden, Clocks: clocks(p.clock),
		}
		if p.name == "carbon" { // as the ready-made sets have it: whichever comes first
			c.Clocks = append(c.Clocks, every("7mo"))
		}
		if p.sharpness > 0 {
			c.Clocks = append(c.Clocks, model.Clock{Kind: model.ClockReading, Gauge: gaugeOf(c.ID), Limit: 1, Bad: model.SideAbove})
		}
		d := duty{Chore: c, reach: p.reach, wear: p.sharpness, shape: 6 * math.Exp(0.4*rng.NormFloat64())}
		said := p.clock.Amount
		if p.clock.Kind == model.ClockCalendar {
			said = float64(p.clock.Every.Days(firstDay))
			d.nominal = said
		} else {
			d.measured = p.clock.Counter
			d.nominal = said / nominalUse[d.measured]
		}
		d.median = said * math.Exp(0.4*rng.NormFloat64())
		if p.clock.Rule == model.RuleEvery { // a rule is set so that few fail before it
			d.median = life.RuleMedian(said, commonPractice) * math.Exp(0.4*rng.NormFloat64())
		}
		h.chores = append(h.chores, d)
	}
	return h
}

// invent makes up what a household uses of a counter each day: off from what a manual assumes, more in one season than
// in the other, and never the same.
func invent(rng *rand.Rand, nominal float64) []float64 {
	mean := nominal * math.Exp(0.8*rng.NormFloat64())
	swing := 0.5 * rng.Float64()
	out := make([]float64, years)
	for day := range out {
		out[day] = mean * (1 + swing*math.Sin(2*math.Pi*float64(day)/365)) * (0.5 + rng.Float64())
	}
	return out
}

// used is what is used of a counter on a day; of calendar parts, which have none, a day.
func (h *home) used(counter model.ID, day int) float64 {
	if counter == "" {
		return 1
	}
	return h.use[counter][day]
}

// draw is the n-th part of a chore: its true life and how late its renewal will be, the same whoever plans.
func (h *home) draw(chore, n int) (lasts, slip float64) {
	rng := rand.New(rand.NewPCG(h.seed, uint64(chore)<<32|uint64(n)<<1|1))
	d := h.chores[chore]
	lasts = d.median * math.Pow(-math.Log(1-rng.Float64())/math.Ln2, 1/d.shape)
	slip = meanSlip[d.reach-1] * h.dawdling * 2 * rng.Float64()
	return lasts, slip
}

func gaugeOf(chore model.ID) model.ID { return chore + "-gauge" }

// reads is what the gauge of a duty shows, to two digits: 1 when the part's life is over, with a noise of 0.03.
func (h *home) reads(d *duty, part *held, day int) float64 {
	noise := rand.New(rand.NewPCG(h.seed, uint64(day)<<16|uint64(len(d.ID)))).NormFloat64()
	return math.Round(100*(min(mostShown, math.Pow(part.age/part.life, d.wear))+0.03*noise)) / 100
}

// mostShown is where a gauge is at its stop.
const mostShown = 1000

// found is what a keeper sees of a part of an age when its life is known to be so long.
func found(age, lasts float64) model.Found {
	switch worn := age / lasts; {
	case worn >= 1:
		return model.FoundFailed
	case worn >= 0.8:
		return model.FoundHeavy
	case worn >= 0.5:
		return model.FoundLight
	}
	return model.FoundClean
}

// definitions are the log of a household before its first day.
func (h *home) definitions() string {
	text := `{"kind":"book","name":"Household","units":{"volume":"L","temperature":"C","pressure":"bar"}}
{"kind":"place","id":"home","name":"Home","minutes":0}
`
	for _, id := range []string{"water", "batches", "hours"} {
		text += fmt.Sprintf(`{"kind":"counter","id":%q,"name":%q,"unit":"u","style":"amount","declared_rate":%g}`+"\n", id, id, nominalUse[model.ID(id)])
	}
	for _, d := range h.chores {
		text += fmt.Sprintf(`{"kind":"component","id":%q,"name":%q,"place":"home","reach":%d,"access_minutes":%d,"in_service":%q}`+"\n",
			d.ID, d.Name, d.reach, accessMinutes[d.reach], firstDay)
		text += fmt.Sprintf(`{"kind":"gauge","id":%q,"name":%q,"unit":"u"}`+"\n", gaugeOf(d.ID), d.Name)
	}
	return text
}

package longlog

import (
	"fmt"
	"iter"
	"math/rand/v2"
	"strings"

	"brine/wrasse/model"
)

const (
	firmYears     = 4
	choresPerTank = 40
)

// Firm is a log, in order of seq, of a firm that looks after tanks in as many places as
// it takes for so many chores, 40 to a tank: 50 tanks for 2000 of them. It covers the
// four years that end on until, in which a chore is done some 20 times: every six weeks
// the quickest, twice a year the slowest. Readings are sparse, and the water changed in
// each tank is counted.
func Firm(seed uint64, chores int, until model.Date) iter.Seq[model.Entry] {
	return func(yield func(model.Entry) bool) {
		const plenty = 1 << 40
		f := &firm{pen: pen{yield: yield, left: plenty}, rng: rand.New(rand.NewPCG(seed, 2)),
			first: until.AddMonths(-12 * firmYears), until: until, defs: map[model.ID]model.Chore{}}
		f.begin(chores)
		for !f.done() && f.rounds[0].due <= float64(until.Sub(f.first)) {
			f.step()
		}
	}
}

// firm is a firm's log while it is being made.
type firm struct {
	pen
	rng    *rand.Rand
	first  model.Date
	until  model.Date
	rounds rounds
	defs   map[model.ID]model.Chore
}

// fitting is a part that every tank of the firm has, with its four chores.
type fitting struct {
	id, name string
	reach    int
	opens    string // the part it opens with
	chores   [4]routine
}

// routine is a chore of a fitting.
type routine struct {
	id, name    string
	work        model.Work
	minutes     int
	consequence int
	every       int // days
}

// fittings are what the firm finds at every tank.
var fittings = []fitting{
	{id: "glass", name: "glass", reach: 1, chores: [...]routine{
		{"scrape", "scrape the panes", model.WorkClean, 15, 1, 45},
		{"look-over-seams", "look over the seams", model.WorkTest, 5, 3, 60},
		{"wipe-outside", "wipe salt off the outside", model.WorkClean, 8, 1, 60},
		{"renew-blade", "renew the blade of the scraper", model.WorkRenew, 3, 1, 90}}},
	{id: "skimmer", name: "skimmer", reach: 3, chores: [...]routine{
		{"empty", "empty and wipe the cup", model.WorkClean, 10, 1, 45},
		{"clear-air", "clear the air intake", model.WorkClean, 8, 2, 60},
		{"strip", "strip body and pump", model.WorkClean, 45, 2, 120},
		{"renew-venturi", "renew the air hose", model.WorkRenew, 6, 1, 180}}},
	{id: "return", name: "return pump", reach: 4, chores: [...]routine{
		{"listen", "listen and feel for heat", model.WorkTest, 3, 3, 45},
		{"clean", "clean the chamber", model.WorkClean, 35, 3, 90},
		{"renew-seal", "renew the seal", model.WorkRenew, 20, 2, 180},
		{"check-union", "look over the union", model.WorkTest, 4, 2, 60}}},
	{id: "flow", name: "flow pumps", reach: 2, chores: [...]routine{
		{"clean", "clean the flow pumps", model.WorkClean, 30, 2, 60},
		{"wipe-cables", "wipe the cables", model.WorkClean, 6, 1, 60},
		{"test-battery", "test the standby battery", model.WorkTest, 5, 3, 90},
		{"renew-pads", "renew the pads", model.WorkRenew, 10, 1, 180}}},
	{id: "heater", name: "heater", reach: 3, chores: [...]routine{
		{"compare", "compare with a thermometer", model.WorkTest, 4, 3, 45},
		{"look-over", "look over glass and cable", model.WorkTest, 6, 3, 60},
		{"descale", "take off the scale", model.WorkClean, 12, 2, 90},
		{"test-cut-out", "test the cut-out", model.WorkTest, 8, 3, 120}}},
	{id: "top-up", name: "top-up", reach: 2, chores: [...]routine{
		{"trip", "lift each sensor", model.WorkTest, 5, 3, 45},
		{"wipe", "wipe the sensors", model.WorkClean, 5, 2, 60},
		{"rinse-vessel", "rinse the vessel", model.WorkClean, 15, 1, 60},
		{"renew-tube", "renew the tube", model.WorkRenew, 10, 2, 180}}},
	{id: "overflow", name: "overflow", reach: 4, opens: "sump", chores: [...]routine{
		{"clear", "clear the comb", model.WorkClean, 8, 3, 45},
		{"test-emergency", "test the second drain", model.WorkTest, 8, 3, 60},
		{"look-over-valve", "look over the check valve", model.WorkTest, 8, 2, 60},
		{"brush-pipe", "brush the pipe", model.WorkClean, 20, 2, 120}}},
	{id: "sump", name: "sump", reach: 3, chores: [...]routine{
		{"siphon", "siphon out what settled", model.WorkClean, 25, 1, 60},
		{"change-sock", "change the sock", model.WorkRenew, 6, 1, 45},
		{"change-carbon", "change the carbon bag", model.WorkRenew, 8, 2, 60},
		{"test-leak-alarm", "wet the leak alarm", model.WorkTest, 3, 3, 60}}},
	{id: "mains", name: "plugs and RCD", reach: 1, chores: [...]routine{
		{"press-rcd", "press the test button", model.WorkTest, 3, 3, 60},
		{"look-over-plugs", "look over plugs and drip loops", model.WorkTest, 6, 3, 60},
		{"test-restart", "see that all comes back by itself", model.WorkTest, 6, 3, 90},
		{"wipe-strip", "wipe the socket strip, unplugged", model.WorkClean, 8, 2, 90}}},
	{id: "water", name: "tank water", reach: 1, chores: [...]routine{
		{"change", "change a tenth of the water", model.WorkRenew, 40, 2, 45},
		{"read", "read alkalinity, salinity, temperature", model.WorkRead, 12, 3, 60},
		{"test-meter", "check the meter against a standard", model.WorkTest, 5, 2, 60},
		{"look-for-pests", "look for pests by night light", model.WorkTest, 10, 1, 90}}},
}

// tank makes an id that belongs to a tank.
func tank(n int, id string) model.ID { return model.ID(fmt.Sprintf("t%02d-%s", n, id)) }

// begin writes the set-up: an act for the firm and one for each tank.
func (f *firm) begin(chores int) {
	f.at = stamp(f.first, 7*60*60)
	price := 4.5
	f.act(f.first,
		model.BookDef{Name: "Fifty tanks", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}, MinuteValue: 0.9},
		model.Spare{ID: "small-parts", Name: "Bags of small parts", Unit: "pc", LeadDays: 5, Price: &price})
	for n := 1; len(f.defs) < chores; n++ {
		f.act(f.first, f.furnish(n, chores)...)
	}
}

// furnish is the definitions of a tank, with no more chores than are wanted.
func (f *firm) furnish(n, chores int) []model.Body {
	out := []model.Body{model.Place{ID: tank(n, "room"), Name: fmt.Sprintf("Tank %02d", n), Minutes: 3 + f.rng.IntN(10)}}
	for _, p := range fittings {
		c := model.Component{ID: tank(n, p.id), Name: fmt.Sprintf("%02d %s", n, p.name), Place: tank(n, "room"), Reach: p.reach,
			AccessMinutes: 2 * p.reach, InService: f.first.AddDays(-f.rng.IntN(700))}
		if p.opens != "" {
			c.OpensWith = tank(n, p.opens)
		}
		out = append(out, c)
	}
	out = append(out,
		model.Counter{ID: tank(n, "changed"), Name: fmt.Sprintf("%02d water changed", n), Unit: "L", Style: model.StyleAmount},
		model.Gauge{ID: tank(n, "alkalinity"), Name: fmt.Sprintf("%02d alkalinity", n), Unit: "dKH", Component: tank(n, "water")},
		model.Gauge{ID: tank(n, "salinity"), Name: fmt.Sprintf("%02d salinity", n), Unit: "SP", Component: tank(n, "water")},
		model.Gauge{ID: tank(n, "temperature"), Name: fmt.Sprintf("%02d temperature", n), Unit: "C", Component: tank(n, "water")})
	for _, p := range fittings {
		for _, r := range p.chores {
			if len(f.defs) == chores {
				return out
			}
			out = append(out, f.chore(n, p, r))
		}
	}
	return out
}

// chore is a routine at one tank, with its first turn on a day by chance.
func (f *firm) chore(n int, p fitting, r routine) model.Chore {
	c := model.Chore{
		ID: tank(n, p.id+"-"+r.id), Component: tank(n, p.id), Name: r.name, Work: r.work, Minutes: r.minutes, Consequence: r.consequence,
		Clocks: []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: r.every, Unit: model.SpanDays}, Rule: model.RuleEvery}},
		Spares: []model.SpareUse{}, Steps: []model.Step{}, Hazards: []model.Hazard{}, Cautions: []string{},
	}
	switch {
	case r.work == model.WorkRead:
		c.DoneBy = []model.ID{tank(n, "alkalinity"), tank(n, "salinity"), tank(n, "temperature")}
		c.Clocks = append(c.Clocks, model.Clock{Kind: model.ClockReading, Gauge: tank(n, "alkalinity"), Limit: 6.8, Bad: model.SideBelow})
	case r.id == "change-carbon":
		c.Clocks = append(c.Clocks, model.Clock{Kind: model.ClockUsage, Counter: tank(n, "changed"), Amount: 120, Rule: model.RuleLasts})
	case r.work == model.WorkClean:
		c.Clocks[0].Rule = model.RuleLasts
	}
	if r.work == model.WorkRenew && r.every > 100 {
		c.Spares = append(c.Spares, model.SpareUse{Spare: "small-parts", Quantity: 1})
		c.Cost = &model.Cost{Planned: 20, Failure: 90}
	}
	f.defs[c.ID] = c
	f.rounds.add(c.ID, float64(r.every)*f.rng.Float64(), float64(r.every))
	return c
}

// step does the chore whose turn it is.
func (f *firm) step() {
	day := f.first.AddDays(int(f.rounds[0].due))
	turn := f.rounds.next(0.85+0.35*f.rng.Float64(), day)
	c := f.defs[turn.chore]
	f.at = stamp(day, 8*60*60+int((turn.due-float64(int(turn.due)))*8*60*60))
	f.by = [...]string{"van 1", "van 2", "van 3"}[f.rng.IntN(3)]
	t := model.Tick{Chore: c.ID, Found: found(c.Work, f.rng)}
	if turn.last != 0 {
		t.Planned = turn.last.AddDays(int(turn.every))
	}
	if f.rng.IntN(3) == 0 {
		minutes := c.Minutes + f.rng.IntN(5)
		t.Minutes = &minutes
	}
	f.act(day, append(f.measured(c), t)...)
}

// measured is what is read and counted at a chore.
func (f *firm) measured(c model.Chore) []model.Body {
	around := func(v, spread float64) float64 { return shown(v+float64(spread*(2*f.rng.Float64()-1)), 0.1) }
	if c.Work == model.WorkRead {
		return []model.Body{reading(c.DoneBy[0], around(8, 1.3)), reading(c.DoneBy[1], around(35, 0.6)), reading(c.DoneBy[2], around(25, 0.9))}
	}
	if number, changes := strings.CutSuffix(string(c.ID), "-water-change"); changes {
		litres := around(60, 15)
		return []model.Body{model.Usage{Counter: model.ID(number + "-changed"), Amount: &litres}}
	}
	return nil
}

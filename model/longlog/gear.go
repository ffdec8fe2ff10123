package longlog

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/starter"
)

// gear is the definitions of a household as they stand.
type gear struct {
	places     []model.Place
	components []model.Component
	counters   []model.Counter
	gauges     []model.Gauge
	spares     []model.Spare
	chores     []model.Chore
}

// leftOut are chores of the starter sets that this household does not have.
var leftOut = []model.ID{"count-shelf", "look-over-stand", "wipe-lights", "look-over-mixing-sockets", "compare-thermometers",
	"check-tds-meter", "look-over-vat-heater", "look-over-hoses", "sanitise-lines", "make-water"}

// The counters that the starter sets don't have.
const (
	pumpHours model.ID = "pump-hours"
	saltMixed model.ID = "salt-mixed"
)

// householdGear is all starter sets, less a few chores and the parts that only they look
// after, and two that go by counters of their own.
func householdGear(first model.Date) gear {
	var sets [][]model.Entry
	for _, name := range starter.Names() {
		set, err := starter.Set(name)
		if err != nil {
			panic(err) // the sets are part of the program, and its tests read them all
		}
		sets = append(sets, set)
	}
	var g gear
	for _, e := range starter.Combine(sets...) {
		g.add(e.Body, first)
	}
	g.counters = append(g.counters,
		model.Counter{ID: pumpHours, Name: "Return pump hours", Unit: "h", Style: model.StyleMeter},
		model.Counter{ID: saltMixed, Name: "Salt mixed", Unit: "kg", Style: model.StyleAmount})
	g.chores = append(g.chores,
		model.Chore{
			ID: "renew-return-bearings", Component: "return-pump", Name: "renew bearings and shaft", Work: model.WorkRenew,
			Minutes: 35, Consequence: 3, Cost: &model.Cost{Planned: 45, Failure: 260},
			Clocks: []model.Clock{
				{Kind: model.ClockUsage, Counter: pumpHours, Amount: 15000, Rule: model.RuleLasts},
				{Kind: model.ClockCalendar, Every: model.Span{N: 3, Unit: model.SpanYears}, Rule: model.RuleEvery},
			},
			Spares:   []model.SpareUse{{Spare: "return-o-ring", Quantity: 2}},
			Steps:    []model.Step{{Text: "Unplug the pump and lift it out"}, {Text: "Swap shaft and bearings, turn by hand"}},
			Hazards:  []model.Hazard{model.HazardMains},
			Cautions: []string{"Mains: pull the plug before a hand goes into the water."},
		},
		model.Chore{
			ID: "wipe-salt-bin", Component: "spares-shelf", Name: "wipe the salt bin dry", Work: model.WorkClean,
			Minutes: 6, Consequence: 1,
			Clocks: []model.Clock{{Kind: model.ClockUsage, Counter: saltMixed, Amount: 60, Rule: model.RuleLasts}},
			Spares: []model.SpareUse{}, Steps: []model.Step{}, Hazards: []model.Hazard{}, Cautions: []string{},
		})
	g.components = slices.DeleteFunc(g.components, func(c model.Component) bool {
		return !slices.ContainsFunc(g.chores, func(k model.Chore) bool { return k.Component == c.ID })
	})
	return g
}

// add takes over a definition of a starter set.
func (g *gear) add(body model.Body, first model.Date) {
	switch b := body.(type) {
	case model.Place:
		g.places = append(g.places, b)
	case model.Component:
		b.InService = first.AddDays(-30 * (1 + len(g.components)%12))
		if len(g.components)%3 > 0 {
			b.Guess = nil
		}
		if b.ID == "skimmer-body" {
			b.Reach, b.AccessMinutes = 5, 22
		}
		g.components = append(g.components, b)
	case model.Counter:
		if b.Role == model.RoleWaterMade {
			b.DeclaredRate = 12
		}
		g.counters = append(g.counters, b)
	case model.Gauge:
		b.Instrument = "" // its check may be left out
		g.gauges = append(g.gauges, b)
	case model.Spare:
		price := float64(3 + 7*(len(g.spares)%9))
		b.Price = &price
		g.spares = append(g.spares, b)
	case model.Chore:
		if slices.Contains(leftOut, b.ID) {
			return
		}
		if b.Work == model.WorkRenew && b.Cost == nil && len(b.Spares) > 0 {
			b.Cost = &model.Cost{Planned: float64(10 + b.Minutes), Failure: float64(10+b.Minutes) * 4}
		}
		g.chores = append(g.chores, b)
	}
}

// bodies are all definitions, in an order in which each refers to earlier ones only.
func (g *gear) bodies() []model.Body {
	out := []model.Body{model.BookDef{
		Name:        "Twenty years of a reef",
		Units:       model.Units{Volume: "L", Temperature: "C", Pressure: "bar"},
		MinuteValue: 0.25,
	}}
	out = appendAll(out, g.places)
	out = appendAll(out, g.components)
	out = appendAll(out, g.counters)
	out = appendAll(out, g.gauges)
	out = appendAll(out, g.spares)
	return appendAll(out, g.chores)
}

func appendAll[B model.Body](out []model.Body, bodies []B) []model.Body {
	for _, b := range bodies {
		out = append(out, b)
	}
	return out
}

// chore is the definition of a chore as it stands.
func (g *gear) chore(id model.ID) *model.Chore {
	for i := range g.chores {
		if g.chores[i].ID == id {
			return &g.chores[i]
		}
	}
	return nil
}

// often are the chores that come round more often, in days, than every three months.
var often = map[model.ID]float64{
	"read-taps": 7, "measure-flows": 30, "read-chlorine": 30, "feel-for-leaks": 30, "test-leak-alarm": 30,
	"test-batch": 8, "rinse-vat": 9, "check-vat-heater": 30, "test-mixing-rcd": 30, "check-salinity-meter": 30,
	"wipe-cup": 5, "change-sock": 5, "scrape-glass": 6, "change-water": 14, "read-alkalinity": 7, "read-nutrients": 14,
	"trip-top-up": 30, "clear-overflow": 30, "test-rcd-restart": 30, "look-over-plugs": 30, "descale-vat": 50,
	"wipe-reservoir": 60, "wipe-salt-bin": 25,
}

// seldom are the chores that come round less often than every three months.
var seldom = map[model.ID]float64{
	"renew-sediment": 180, "renew-carbon": 175, "renew-resin": 110, "renew-membrane": 1200, "renew-restrictor": 1000,
	"renew-o-rings": 365, "renew-tubing": 1500, "sanitise-reservoir": 300, "renew-impeller": 700, "clean-impeller": 170,
	"clean-return-pump": 180, "strip-skimmer": 150, "renew-return-bearings": 640,
}

// everyDays is the number of days in which a chore comes round.
func everyDays(chore model.ID) float64 {
	if d := often[chore]; d > 0 {
		return d
	}
	if d := seldom[chore]; d > 0 {
		return d
	}
	return 90
}

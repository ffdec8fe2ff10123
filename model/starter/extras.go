package starter

import (
	"slices"

	"brine/wrasse/model"
)

// Extra is a thing that many stations have and many do not. A keeper picks extras one by one from the set of that name.
type Extra struct {
	ID    string
	Label string // as it is offered
	parts []model.ID
}

// extras are in the order of their worth to a keeper: what saves animals and floors first.
var extras = []Extra{
	{"backup-air", "Battery air pump or UPS", []model.ID{"backup-air"}},
	{"temperature-alarm", "Temperature alarm and cut-off", []model.ID{"temperature-alarm"}},
	{"floor-alarm", "Floor alarm at the tank", []model.ID{"floor-alarm"}},
	{"top-up-vessel", "Top-up vessel, its sensors wiped weekly", []model.ID{"top-up-vessel", "top-up"}},
	{"heater", "Heater, renewed at three years", []model.ID{"tank-heater"}},
	{"chiller", "Chiller or cooling fans", []model.ID{"chiller"}},
	{"unions", "Unions and bulkheads", []model.ID{"unions"}},
	{"dosing-pumps", "Dosing pumps", []model.ID{"dosing-pumps"}},
	{"probes", "pH and salinity probes", []model.ID{"ph-probe", "salinity-probe"}},
	{"booster-pump", "Booster pump", []model.ID{"booster-pump"}},
	{"second-bed", "Second DI bed", []model.ID{"second-bed", "tds-meter"}},
	{"flush-valve", "Membrane flush valve", []model.ID{"flush-valve"}},
	{"media", "Carbon and phosphate media", []model.ID{"media"}},
	{"kalk", "Kalk stirrer", []model.ID{"kalk"}},
	{"calcium-reactor", "Calcium reactor with carbon dioxide", []model.ID{"calcium-reactor", "gas-alarm"}},
	{"uv", "UV steriliser", []model.ID{"uv"}},
	{"ozone", "Ozone generator", []model.ID{"ozone"}},
	{"feeder", "Automatic feeder", []model.ID{"feeder"}},
	{"timers", "Timers and clocks", []model.ID{"timers"}},
	{"lamps", "Lamps, T5 or halide", []model.ID{"lamps"}},
}

// Extras are what the set "extras" has to pick from, the most useful first.
func Extras() []Extra { return slices.Clone(extras) }

// Pick is the definitions of the extras with these ids, and of what they refer to, in the order of the set. An id that is
// none of an extra picks nothing.
func Pick(ids ...string) ([]model.Entry, error) {
	set, err := Set("extras")
	if err != nil {
		return nil, err
	}
	picked := map[model.ID]bool{}
	for _, x := range extras {
		for _, part := range x.parts {
			picked[part] = picked[part] || slices.Contains(ids, x.ID)
		}
	}
	needed := map[definition]bool{}
	for _, e := range slices.Backward(set) { // lines refer to earlier ones only
		if c, ok := e.Body.(model.Chore); ok && picked[c.Component] {
			needed[defines(e)] = true
		}
		if needed[defines(e)] {
			for _, d := range refers(e) {
				needed[d] = true
			}
		}
	}
	return slices.DeleteFunc(set, func(e model.Entry) bool { return !needed[defines(e)] }), nil
}

// refers is what a definition of the set of extras refers to.
func refers(e model.Entry) []definition {
	switch b := e.Body.(type) {
	case model.Component:
		return []definition{{model.KindPlace, b.Place}}
	case model.Gauge:
		return []definition{{model.KindComponent, b.Component}, {model.KindComponent, b.Instrument}}
	case model.Chore:
		out := []definition{{model.KindComponent, b.Component}}
		for _, s := range b.Spares {
			out = append(out, definition{model.KindSpare, s.Spare})
		}
		for _, k := range b.Clocks {
			if k.Kind == model.ClockReading {
				out = append(out, definition{model.KindGauge, k.Gauge})
			}
		}
		return out
	}
	return nil
}

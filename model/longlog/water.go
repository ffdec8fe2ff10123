package longlog

import (
	"math"

	"brine/wrasse/model"
)

// useWater logs water made.
func (h *household) useWater() {
	litres := h.around(4, 3, 0.5)
	h.litres += litres
	h.write(model.Usage{Counter: "water-made", Amount: &litres})
}

// readMeter logs the running meter of the return pump, which hardly ever stands.
func (h *household) readMeter() {
	run := shown(h.hours()-h.metered, 0.1)
	h.write(model.Usage{Counter: pumpHours, Meter: &run})
}

// resetMeter logs that the pump's meter begins anew.
func (h *household) resetMeter() {
	h.metered = h.hours()
	h.write(model.MeterReset{Counter: pumpHours})
}

// mix logs a batch of salt water with what it used.
func (h *household) mix() {
	volume := h.around(50, 15, 5)
	grams := shown(volume*h.around(37.6, 0.6, 0.1), 10)
	batch := model.Batch{VolumeL: volume, SaltG: grams}
	if h.rng.IntN(10) < 8 {
		salinity, c := h.around(35, 0.7, 0.1), h.around(24.5, 1, 0.1)
		batch.Salinity, batch.TemperatureC = &salinity, &c
	}
	one, kilos := 1.0, shown(grams/1000, 0.01)
	h.shelf[saltMix] -= kilos
	h.write(batch, model.Usage{Counter: "batches", Amount: &one}, model.Usage{Counter: saltMixed, Amount: &kilos})
}

// readings are the sets of readings that are taken together, by how often.
var readings = []struct {
	often int
	take  func(*household) []model.Body
}{
	{30, (*household).taps},
	{20, (*household).pressures},
	{6, (*household).flows},
	{5, (*household).chlorine},
	{18, (*household).alkalinity},
	{8, (*household).nutrients},
	{14, (*household).vat},
}

// read logs a set of readings without a chore.
func (h *household) read() {
	n := h.rng.IntN(101)
	for _, r := range readings {
		if n -= r.often; n < 0 {
			h.write(r.take(h)...)
			return
		}
	}
}

// readingsOf are the readings that a chore consists of.
func (h *household) readingsOf(chore model.ID) []model.Body {
	switch chore {
	case "read-taps":
		return h.taps()
	case "measure-flows":
		return h.flows()
	case "read-chlorine":
		return h.chlorine()
	case "read-alkalinity":
		return h.alkalinity()
	case "read-nutrients":
		return h.nutrients()
	case "check-vat-heater":
		return h.vat()
	}
	return nil
}

// tapC is the temperature of the tap water in degC: coldest in February.
func (h *household) tapC() float64 {
	return 11.5 - float64(4.5*math.Cos(2*math.Pi*(float64(h.today)-45)/365.25))
}

// since is the litres made since a chore was last ticked.
func (h *household) since(chore model.ID) float64 { return h.litres - h.made[chore] }

// membranePPM is what the membrane lets through of what the tap brings, more as it ages.
func (h *household) membranePPM(tap float64) float64 {
	worn := min(1, h.since("renew-membrane")/16000)
	return math.Round(tap * (0.02 + float64(0.02*worn)))
}

// taps are the three TDS readings of one run, and the water's temperature.
func (h *household) taps() []model.Body {
	ran := float64(h.rng.IntN(15) + 3) // below 5 it does not count
	tap := h.around(256, 12, 1)
	membrane := h.membranePPM(tap)
	const bedMilligrams = 7000
	product := 0.0
	if spent := h.since("renew-resin") * membrane / bedMilligrams; spent > 0.9 {
		product = math.Round(min(1+(spent-0.9)*10, 8))
	}
	return []model.Body{
		model.Reading{Gauge: "tds-tap", Value: tap, MinutesRunning: &ran},
		model.Reading{Gauge: "tds-membrane", Value: membrane, MinutesRunning: &ran},
		model.Reading{Gauge: "tds-product", Value: product, MinutesRunning: &ran},
		reading("temperature-water", h.around(h.tapC(), 0.5, 0.1)),
	}
}

// drop is the pressure lost over the prefilters in bar: slow at first, then faster.
func (h *household) drop() float64 {
	clogged := min(2, h.since("renew-sediment")/2400)
	return 0.1 + float64(0.3*clogged*clogged)
}

func (h *household) pressures() []model.Body {
	line := h.around(3.7, 0.15, 0.05)
	return []model.Body{
		reading("pressure-line", line),
		reading("pressure-membrane", shown(line-h.drop(), 0.01)),
	}
}

// flows are both flows with what makes them comparable.
func (h *household) flows() []model.Body {
	c := h.around(h.tapC(), 0.5, 0.1)
	membrane := shown(h.around(3.7, 0.15, 0.05)-h.drop(), 0.01)
	worn := 1 - float64(0.15*min(1, h.since("renew-membrane")/16000))
	product := 2.7 * (membrane - 0.2) * (1 - float64(0.03*(25-c))) * worn
	return []model.Body{
		reading("tds-tap", h.around(256, 12, 1)),
		reading("temperature-water", c),
		reading("pressure-membrane", membrane),
		reading("flow-product", shown(product, 0.01)),
		reading("flow-waste", h.around(23, 1.5, 0.1)),
	}
}

func (h *household) chlorine() []model.Body {
	after := 0.0
	if h.since("renew-carbon") > 2000 && h.rng.IntN(3) == 0 {
		after = 0.05
	}
	out := []model.Body{reading("chlorine-carbon", after)}
	if h.rng.IntN(3) == 0 {
		out = append(out, reading("chlorine-tap", h.around(0.5, 0.1, 0.05)))
	}
	return out
}

func (h *household) alkalinity() []model.Body {
	return []model.Body{
		reading("tank-alkalinity", h.around(8.2, 0.5, 0.1)),
		reading("tank-salinity", h.around(35, 0.5, 0.1)),
		reading("tank-temperature", h.around(25.2, 0.8, 0.1)),
	}
}

func (h *household) nutrients() []model.Body {
	return []model.Body{
		reading("tank-calcium", h.around(424, 15, 5)),
		reading("tank-magnesium", h.around(1310, 40, 10)),
		reading("tank-nitrate", h.around(8, 6, 1)),
		reading("tank-phosphate", h.around(0.06, 0.04, 0.01)),
	}
}

func (h *household) vat() []model.Body {
	return []model.Body{
		reading("vat-salinity", h.around(35, 0.6, 0.1)),
		reading("vat-temperature", h.around(25, 0.6, 0.1)),
	}
}

func reading(gauge model.ID, value float64) model.Body {
	return model.Reading{Gauge: gauge, Value: value}
}

// around is a value spread evenly by up to spread either way, on a meter that shows steps.
func (h *household) around(value, spread, step float64) float64 {
	return shown(value+float64(spread*(2*h.rng.Float64()-1)), step)
}

// shown rounds to what a meter with such steps shows, without a tail of binary digits.
func shown(value, step float64) float64 {
	return math.Round(math.Round(value/step)*step*1e6) / 1e6
}

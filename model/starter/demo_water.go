package starter

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// makings are the litres made on the days of each week, by the day's number modulo 7:
// two fills of the top-up vessel and one for the batch.
var makings = map[int]float64{1: 20, 3: 34, 6: 17}

// makeWater logs the water made.
func (l *library) makeWater() {
	r := dice("water made")
	for day := firstDay + 1; day < 0; day++ {
		litres, ok := makings[((day%7)+7)%7]
		if !ok || present(day) != day {
			continue
		}
		litres = math.Round(litres * (0.85 + 0.3*r.Float64()))
		l.add(day, making, model.Usage{Counter: "water-made", Amount: &litres})
	}
	slip := 250.0 // a nought too many, put right in the evening
	wrong := l.add(-59, making, model.Usage{Counter: "water-made", Amount: &slip})
	l.amend(wrong, func(seq model.Seq) model.Amend {
		with, err := model.With(map[string]any{"amount": 25})
		if err != nil {
			panic(err) // a number in an object can always be written
		}
		return model.Amend{Entry: seq, With: with}
	})
}

// tapC is the temperature of the tap water, in degC: coldest in February, warmest in August.
func (l *library) tapC(day int) float64 {
	year, _, _ := l.date(day).YMD()
	ofYear := l.date(day).Sub(model.NewDate(year, 1, 1))
	return 11.5 + 4.5*math.Cos(2*math.Pi*float64(ofYear-227)/365.25)
}

// tapPPM is what the waterworks delivers, in ppm.
func tapPPM(day int) float64 { return 256 + swing(day, 500, 8) }

// swing is a slow wave of so many days, up and down by height.
func swing(day int, period, height float64) float64 {
	return height * math.Sin(2*math.Pi*float64(day)/period)
}

// saltPassage is the share of the tap's salt that the membrane lets through at 20 degC.
func saltPassage(day int) float64 {
	if day < membraneDay {
		return 0.056
	}
	return 0.021 + 0.016*float64(day-membraneDay)/float64(-membraneDay)
}

// productPPM is what the meter shows after the resin: nothing for most of a bed's life,
// then 1 in its last two weeks but one, and over 1 at its end.
func productPPM(day int) float64 {
	end := 0
	for _, d := range slices.Backward(resinDays) {
		if d < day {
			break
		}
		end = d
	}
	switch left := end - day; {
	case left <= resinOver-2:
		return 3
	case left <= resinOver+5:
		return 2
	case left <= resinOver+12:
		return 1
	}
	return 0
}

// readingsWith are the readings taken when a chore was done on a day.
func (l *library) readingsWith(chore model.ID, day int) []model.Body {
	r := dice(fmt.Sprintf("readings of %s on %d", chore, day))
	switch chore {
	case "read-taps":
		return l.taps(day, r)
	case "measure-flows":
		return l.flows(day, r)
	case "read-chlorine":
		out := []model.Body{read("chlorine-carbon", 0)}
		if i := slices.Index(l.ticked[chore], day); i%6 == 0 {
			out = append(out, read("chlorine-tap", around(0.5, 0.08, 0.05, r)))
		}
		return out
	case "read-alkalinity":
		return []model.Body{
			read("tank-alkalinity", around(8.2+swing(day, 31, 0.3), 0.1, 0.1, r)),
			read("tank-salinity", around(35+swing(day, 45, 0.3), 0.1, 0.1, r)),
		}
	case "read-nutrients":
		return []model.Body{
			read("tank-calcium", around(424+swing(day, 170, 8), 5, 5, r)),
			read("tank-magnesium", around(1310+swing(day, 210, 25), 10, 10, r)),
			read("tank-nitrate", around(8+swing(day, 140, 4), 1, 1, r)),
			read("tank-phosphate", around(0.06+swing(day, 140, 0.03), 0.01, 0.01, r)),
		}
	case "compare-thermometers":
		return []model.Body{read("tank-temperature", around(25+(l.tapC(day)-11.5)/10, 0.3, 0.1, r))}
	case "check-vat-heater":
		return []model.Body{read("vat-temperature", around(25, 0.4, 0.1, r))}
	}
	return nil
}

// taps are the three meters of one run of the unit, and in every other week the gauges.
func (l *library) taps(day int, r *rand.Rand) []model.Body {
	c := around(l.tapC(day), 0.4, 0.1, r)
	tap := around(tapPPM(day), 4, 1, r)
	ran := 10.0
	membrane := math.Round(tap * saltPassage(day) * math.Pow(1.03, c-20))
	out := []model.Body{
		model.Reading{Gauge: "tds-tap", Value: tap, MinutesRunning: &ran},
		model.Reading{Gauge: "tds-membrane", Value: membrane, MinutesRunning: &ran},
		model.Reading{Gauge: "tds-product", Value: productPPM(day), MinutesRunning: &ran},
		read("temperature-water", c),
	}
	if i := slices.Index(l.ticked["read-taps"], day); i%2 == 0 {
		line := around(3.7, 0.12, 0.05, r)
		out = append(out, read("pressure-line", line), read("pressure-membrane", shown(line-l.drop(day), 0.01)))
	}
	return out
}

// drop is the pressure lost over the prefilters, in bar: slow at first, then faster.
func (l *library) drop(day int) float64 {
	since := firstDay
	for _, d := range l.ticked["renew-sediment"] {
		if d < day {
			since = d
		}
	}
	age := float64(day-since) / 185
	return 0.12 + 0.28*age*age
}

// flows is a full set: both flows, pressure, temperature and the tap's TDS. The product
// flow follows the pressure and the cold, and falls a tenth in the membrane's life so far.
func (l *library) flows(day int, r *rand.Rand) []model.Body {
	c := around(l.tapC(day), 0.4, 0.1, r)
	membrane := shown(around(3.7, 0.12, 0.05, r)-l.drop(day), 0.01)
	tcf, err := water.TCF(c)
	if err != nil {
		panic(err) // the season stays within 5 and 18 degC
	}
	worn := 1.0
	if day >= membraneDay {
		worn = 1 - 0.1*float64(day-membraneDay)/float64(-membraneDay)
	}
	product := 2.75 * (membrane - 0.2) * tcf * worn * (0.985 + 0.03*r.Float64())
	waste := 24 * math.Sqrt(membrane/3.4) * (0.98 + 0.04*r.Float64())
	return []model.Body{
		read("tds-tap", around(tapPPM(day), 4, 1, r)),
		read("temperature-water", c),
		read("pressure-membrane", membrane),
		read("flow-product", shown(product, 0.01)),
		read("flow-waste", shown(waste, 0.1)),
	}
}

func read(gauge model.ID, value float64) model.Reading {
	return model.Reading{Gauge: gauge, Value: value}
}

// around is a value spread evenly by up to spread either way, on a meter that shows steps.
func around(value, spread, step float64, r *rand.Rand) float64 {
	return shown(value+spread*(2*r.Float64()-1), step)
}

// shown rounds to what a meter with such steps shows, without a tail of binary digits.
func shown(value, step float64) float64 {
	return math.Round(math.Round(value/step)*step*1e6) / 1e6
}

package parse

import (
	"fmt"
	"math"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/station"
	"brine/wrasse/model/water"
)

// ImpossibleError refuses a value that no instrument shows or that nobody uses at once.
type ImpossibleError struct{ why string }

func (e *ImpossibleError) Error() string { return e.why }

// bounds are the values that a unit allows.
type bounds struct{ low, high float64 }

// byUnit are the bounds of gauges that the verdicts on the station don't ask, by the lower case of their unit. Those of
// temperature and salinity are the ones of a batch in the book format; a temperature of a tank in the other unit lies
// beyond them. The rest is what test kits and probes of the hobby can show, with room; common practice, no source.
var byUnit = map[string]bounds{
	"c":     {-5, 60},
	"sp":    {0, 100},
	"ppm":   {0, 50000},
	"mg/l":  {0, 50000},
	"dkh":   {0, 100},
	"ph":    {0, 14},
	"ms/cm": {0, 200},
}

// boundsOf are the bounds of a gauge: those of the verdicts where it has a part in them, else those of its unit.
func boundsOf(g model.Gauge) bounds {
	if low, high, ok := station.Accepted(g.Role); ok {
		return bounds{low, high}
	}
	unit := g.Unit
	if known, err := water.ParseUnit(unit); err == nil {
		unit = string(known)
	}
	if of, ok := byUnit[strings.ToLower(unit)]; ok {
		return of
	}
	return bounds{-math.MaxFloat64, math.MaxFloat64}
}

// possible refuses a reading that can't be.
func possible(v float64, g model.Gauge, u model.Units) error {
	of := boundsOf(g)
	if v >= of.low && v <= of.high {
		return nil
	}
	why := fmt.Sprintf("%s can't be; give %s to %s", Quantity(v, g.Unit, u), Figure(of.low, g.Unit, u), Quantity(of.high, g.Unit, u))
	if _, err := water.ParseUnit(g.Unit); err == nil || g.Unit == practical {
		why += ", or put its unit behind it"
	}
	return &ImpossibleError{why}
}

// mostAtOnce is the most that is used or made between two entries, in the unit of the counter: litres enough for a public
// aquarium, hours enough for ten years. Of a running meter the value itself may be anything.
const mostAtOnce = 100_000

func possibleAmount(v float64, c model.Counter, u model.Units) error {
	if c.Style == model.StyleMeter || v <= mostAtOnce {
		return nil
	}
	return &ImpossibleError{fmt.Sprintf("%s at once can't be; give at most %s", Quantity(v, c.Unit, u), Quantity(mostAtOnce, c.Unit, u))}
}

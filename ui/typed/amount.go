package typed

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
)

// Amount reads an amount of a counter, or the value of its meter: `40`, `10 gal`,
// `20+18`, `100-60`. Without a unit it is in the unit shown; the result is in
// stored, the counter's own unit, and not below 0.
func Amount(s, stored string, u model.Units) (float64, error) {
	terms, err := parseSum(s)
	if err != nil {
		return 0, err
	}
	v, err := total(terms, stored, u)
	switch {
	case err != nil:
		return 0, err
	case v < 0:
		return 0, fmt.Errorf("%q comes to %s; give an amount of 0 or more", strings.TrimSpace(s), Quantity(v, stored, u))
	case v > model.MaxAmount:
		return 0, fmt.Errorf("%q is too large; give at most 1000000000 %s", strings.TrimSpace(s), stored)
	}
	return v, nil
}

// Value reads one reading of a gauge: `248`, `-1.5`, `77 F`, `60psi`, and on a
// gauge of practical salinity also `1.0264 SG` (at the gauge's scale, 25/25 when
// it names none) or `35.2 g/kg`. The result is in the gauge's unit.
func Value(s string, g model.Gauge, u model.Units) (float64, error) {
	terms, err := parseSum(s)
	if err != nil {
		return 0, err
	}
	if len(terms) != 1 {
		return 0, fmt.Errorf("%q: a reading is one number; give such as 248", strings.TrimSpace(s))
	}
	if g.Unit == practical {
		return salinity(terms[0], g)
	}
	return total(terms, g.Unit, u)
}

// Skipped stands for a gauge that was not read, in a line of several readings.
const Skipped = "-"

// Values reads several readings from one line, in the order of the gauges:
// `248 6 0`. A `-` leaves one out, as do values missing at the end.
func Values(line string, gauges []model.Gauge, u model.Units) ([]model.Reading, error) {
	words := strings.Fields(strings.ReplaceAll(line, ", ", " "))
	if len(words) == 0 {
		return nil, fmt.Errorf("nothing typed; give %d numbers, such as 248 6 0", len(gauges))
	}
	if len(words) > len(gauges) {
		return nil, fmt.Errorf("%d values for %d gauges; give one for each of %s", len(words), len(gauges), names(gauges))
	}
	var out []model.Reading
	for i, word := range words {
		if word == Skipped {
			continue
		}
		v, err := Value(word, gauges[i], u)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", gauges[i].Name, err)
		}
		out = append(out, model.Reading{Gauge: gauges[i].ID, Value: v})
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("nothing read; give at least one number, such as 248")
	}
	return out, nil
}

func names(gauges []model.Gauge) string {
	out := make([]string, len(gauges))
	for i, g := range gauges {
		out[i] = g.Name
	}
	return strings.Join(out, ", ")
}

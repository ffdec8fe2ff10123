package text

import "testing"

func TestSpoken(t *testing.T) {
	t.Parallel()
	for line, want := range map[string]string{
		"DI resin: due +9 d, 15+25 min":     "DI resin: due 9 days ago, 15 minutes and 25 waiting",
		"limit +1 d":                        "limit 1 day ago",
		"2 h 05 a year, 52 h, 1 h":          "2 hours 5 minutes a year, 52 hours, 1 hour",
		"259 ppm, 97.3 % raw, 10.6 °C":      "259 parts per million, 97.3 percent raw, 10.6 degrees Celsius",
		"4.81 L/h of 4.81 L, 0.1 L":         "4.81 litres an hour of 4.81 litres, 0.1 litres",
		"51 L, 1 L, 53.1mS/cm, 40gal":       "51 litres, 1 litre, 53.1 millisiemens a centimetre, 40 gallons",
		"an impeller of 2 parts, d, h, min": "an impeller of 2 parts, d, h, min",
		"pump 3 hums; filter 4 days old":    "pump 3 hums; filter 4 days old",
		"35.04 at 25/25, 60F/60F, A1 d":     "35.04 at 25/25, 60F/60F, A1 day",
	} {
		if got := Spoken(line); got != want {
			t.Errorf("%q is said %q, want %q", line, got, want)
		}
	}
}

package schedule_test

import (
	"math"
	"math/rand/v2"
	"testing"
)

// In every situation verdict and round say the same of the same threshold.
func TestWaterAndRoundAgreeInEverySituation(t *testing.T) {
	for _, s := range situations {
		t.Run(s.name, func(t *testing.T) {
			agree(t, s.unit(t).book(t), judged)
			agree(t, s.unit(t).book(t), judged+100) // all of it too old to judge
		})
	}
	for _, p := range patternCases {
		t.Run(p.id, func(t *testing.T) {
			agree(t, p.unit(t).book(t), judged)
			agree(t, p.miss.unit(t).book(t), judged)
		})
	}
}

// Around each threshold, 40 random sets of readings: once, twice, or one on each side.
func TestWaterAndRoundAgreeAroundEachThreshold(t *testing.T) {
	r := rand.New(rand.NewPCG(20260615, 45))
	around := func(limit, spread, step float64) float64 {
		return math.Max(0, math.Round((limit+(2*r.Float64()-1)*spread)/step)*step)
	}
	for name, draw := range map[string]func() set{
		"product":         func() set { return set{"tds-product": around(1, 2, 1)} },
		"product, tenths": func() set { return set{"tds-product": around(1, 0.5, 0.1)} },
		"rejection":       func() set { return set{"tds-membrane": around(12.5, 3, 1)} },
		"rejection, warm": func() set { return set{"tds-membrane": around(15, 4, 1), "temperature-water": around(27, 3, 0.5)} },
		"rejection, cold": func() set { return set{"tds-membrane": around(12.5, 3, 0.1), "temperature-water": around(6, 3, 0.5)} },
		"rejection, tap":  func() set { return set{"tds-tap": around(250, 60, 1), "tds-membrane": around(12.5, 4, 1)} },
		"normalised flow": func() set { return set{"flow-product": around(6.8, 1, 0.1)} },
		"prefilter drop":  func() set { return set{"pressure-membrane": around(3.6, 0.3, 0.05)} },
		"drop of a low line": func() set {
			line := around(2.8, 0.5, 0.1)
			return set{"pressure-line": line, "pressure-membrane": math.Max(0, line-around(0.5, 0.2, 0.05))}
		},
		"waste ratio":       func() set { return set{"flow-waste": around(16, 5, 0.5)} },
		"waste and product": func() set { return set{"flow-waste": around(16, 5, 0.5), "flow-product": around(8, 2, 0.1)} },
		"chlorine":          func() set { return set{"chlorine-carbon": around(0.05, 0.05, 0.01)} },
		"membrane and product": func() set {
			return set{"tds-membrane": around(11, 5, 1), "tds-product": around(2, 3, 1)}
		},
		"everything": func() set {
			return set{"tds-tap": around(250, 80, 1), "tds-membrane": around(10, 8, 1), "tds-product": around(1, 3, 1), "pressure-membrane": around(3.5, 0.6, 0.1),
				"flow-product": around(7, 2, 0.1), "flow-waste": around(20, 12, 0.5), "chlorine-carbon": around(0.04, 0.05, 0.01), "temperature-water": around(16, 12, 0.5)}
		},
	} {
		t.Run(name, func(t *testing.T) {
			for range 40 {
				u := settled(t).read(june8-7, draw()).read(june8, draw()).read(judged, draw())
				agree(t, u.book(t), judged)
				if t.Failed() {
					t.Fatalf("after %v", u.entries[len(u.entries)-30:])
				}
			}
		})
	}
}

package schedule_test

import (
	"math"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
)

// The litres that a bed of 297 meq (0.6 L of 0.55 eq/L, nine tenths of it used) makes until half such beds are spent, by
// what was read. Computed from stoichiometry and Stumm & Morgan's carbonate equilibrium (model/water/resin.go).
func TestBedInMeqLasts(t *testing.T) {
	const perDay = 40.0 / 7
	for _, c := range []struct {
		name    string
		read    set
		litres  float64
		tapOnly bool
	}{
		{"5 ppm, carbon dioxide guessed", set{"tds-membrane": 5}, 1397, false},
		{"5 ppm, alkalinity 150 at pH 7.5", set{"tds-membrane": 5, "alkalinity-tap": 150, "ph-tap": 7.5}, 998, false},
		{"5 ppm, alkalinity 40 at pH 7.5", set{"tds-membrane": 5, "alkalinity-tap": 40, "ph-tap": 7.5}, 2089, false},
		{"3 ppm, alkalinity 150 at pH 7.5", set{"tds-membrane": 3, "alkalinity-tap": 150, "ph-tap": 7.5}, 1127, false},
		{"12 ppm", set{"tds-membrane": 12}, 894, false},
		{"12 ppm, 2 behind the resin", set{"tds-membrane": 12, "tds-product": 2}, 996, false},
		{"the tap alone, of 250 ppm", set{"tds-tap": 250}, 1163, true},
		{"the tap alone, with alkalinity and pH", set{"tds-tap": 250, "alkalinity-tap": 150, "ph-tap": 7.5}, 872, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			u := newUnit(t)
			u.now = map[string]float64{}
			for i := range u.entries {
				switch w := u.entries[i].Body.(type) {
				case model.Counter:
					w.DeclaredRate = perDay
					u.entries[i].Body = w
				case model.Chore:
					if w.ID == "renew-resin" {
						w.Clocks = []model.Clock{{Kind: model.ClockLoad, Counter: "water-made", Inlet: "tds-membrane", Outlet: "tds-product", Amount: 297, Meq: true, Rule: model.RuleLasts}}
						u.entries[i].Body = w
					}
				}
			}
			u.tick(begun, "renew-resin").read(begun, c.read)
			round := schedule.Make(u.book(t), begun+1)
			k := round.Of("renew-resin").Clocks[0]
			if want := math.Ceil(c.litres / perDay); math.Abs(float64(k.Limit.Sub(begun))-want) > 1 {
				t.Errorf("limit after %d d, want %v", k.Limit.Sub(begun), want)
			}
			if k.TapOnly != c.tapOnly || k.Unit != "meq" {
				t.Errorf("%+v", k)
			}
		})
	}
}

// Grams and meq of the same litres are two sums.
func TestGramsBesideMeq(t *testing.T) {
	u := newUnit(t)
	for i := range u.entries {
		if w, ok := u.entries[i].Body.(model.Chore); ok && w.ID == "renew-resin" {
			k := model.Clock{Kind: model.ClockLoad, Counter: "water-made", Inlet: "tds-membrane", Outlet: "tds-product", Amount: 7, Rule: model.RuleLasts}
			m := k
			m.Amount, m.Meq = 300, true
			w.Clocks = []model.Clock{k, m}
			u.entries[i].Body = w
		}
	}
	u.tick(begun, "renew-resin").read(begun, set{"tds-membrane": 5}).made(begun+1, 40).made(begun+8, 40)
	s := schedule.Make(u.book(t), begun+9).Of("renew-resin")
	for i, want := range []float64{80 * 5 / 1000.0, 80 * (5/58.44 + 0.127)} {
		if math.Abs(s.Clocks[i].Used-want) > 1e-9 {
			t.Errorf("clock %d: %v used, want %v", i, s.Clocks[i].Used, want)
		}
	}
}

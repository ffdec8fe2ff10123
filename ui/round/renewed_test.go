package round

import (
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui/uitest"
)

// What a renewed stage carried is told by the cycles that lie whole in the log: neither
// one that began on a guessed day nor one that was on before anything was counted.
func TestRenewedCountsWholeCycles(t *testing.T) {
	on := func(d int, body model.Body) model.Entry { return model.NewEntry(uitest.Today.AddDays(d), body) }
	litres := func(d int, amount float64) model.Entry { return on(d, model.Usage{Counter: "made", Amount: &amount}) }
	renewed := func(d int) model.Entry { return on(d, model.Tick{Chore: "renew", Found: model.FoundLight}) }
	guessed := func(d int) model.Entry { return on(d, model.Tick{Chore: "renew", About: true}) }
	months := []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: 6, Unit: model.SpanMonths}, Rule: model.RuleEvery}}
	many := []model.Entry{litres(-300, 5)}
	for d := -299; d < -288; d++ {
		many = append(many, renewed(d))
	}
	for name, c := range map[string]struct {
		log  []model.Entry
		want string
	}{
		"begun before the log":     {[]model.Entry{renewed(-700), litres(-300, 40), litres(-200, 60), renewed(-100)}, "Membrane, once; 100 L counted since 29 Jan 2026"},
		"begun at a guess":         {[]model.Entry{litres(-300, 40), guessed(-250), litres(-200, 60), renewed(-100)}, "Membrane, once; 60 L counted since 20 Mar"},
		"one begun before the log": {[]model.Entry{renewed(-700), litres(-300, 40), renewed(-200), litres(-150, 70), renewed(-100)}, "Membrane, 2 times; once counted from start to end, after 70 L of water made"},
		"two of three":             {[]model.Entry{renewed(-700), litres(-300, 40), renewed(-200), litres(-150, 70), renewed(-100), litres(-90, 30), renewed(-50)}, "Membrane, 3 times; 2 of them counted from start to end, each after 50 L of water made"},
		"all in the log":           {[]model.Entry{litres(-600, 5), renewed(-500), litres(-300, 40), renewed(-200), litres(-150, 60), renewed(-100)}, "Membrane, 2 times, each after 50 L of water made"},
		"begun by service":         {[]model.Entry{litres(-699, 40), litres(-300, 40), renewed(-100)}, "Membrane, once; 80 L counted since 26 Dec 2024"},
		"nothing counted":          {[]model.Entry{renewed(-100)}, "Membrane, once"},
		"eleven times":             {many, "Membrane, 11 times"},
	} {
		t.Run(name, func(t *testing.T) {
			b := uitest.Book(t, append([]model.Entry{
				on(-700, model.BookDef{Name: "Home reef", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}}),
				on(-700, model.Place{ID: "cellar", Name: "Cellar", Minutes: 4}),
				on(-700, model.Component{ID: "membrane", Name: "Membrane", Place: "cellar", Reach: 1, AccessMinutes: 1, Stage: model.StageMembrane}),
				on(-700, model.Counter{ID: "made", Name: "Water made", Unit: "L", Style: model.StyleAmount, Role: model.RoleWaterMade}),
				on(-700, model.Spare{ID: "element", Name: "Element", Unit: "pc"}),
				on(-700, model.Chore{ID: "renew", Component: "membrane", Name: "renew", Work: model.WorkRenew, Minutes: 9, Consequence: 2, Clocks: months,
					Spares: []model.SpareUse{{Spare: "element", Quantity: 1}}}),
			}, c.log...))
			got := lookBack(b, uitest.Today).renewed
			if len(got) != 1 || got[0] != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

// Command month runs the screens on a small book of water, with a clock that stands on the day whose number after
// Mon 2 Nov 2026 the file named first holds, for a test that lives a month by keys.
package main

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/app"
	"brine/wrasse/ui/session"
)

func main() {
	first := model.NewDate(2026, time.November, 2)
	now := func() time.Time {
		held, _ := os.ReadFile(os.Args[1])
		days, _ := strconv.Atoi(strings.TrimSpace(string(held)))
		return time.Date(2026, time.November, 2+days, 7, 30, 0, 0, time.UTC)
	}
	store := session.NewMemory(func() (*ledger.Book, error) {
		bodies := []model.Body{
			model.BookDef{Name: "Home reef", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}},
			model.Place{ID: "cellar", Name: "Cellar"},
			model.Component{ID: "tank", Name: "Tank", Place: "cellar", Reach: 1, InService: first},
			model.Component{ID: "unit", Name: "Unit", Place: "cellar", Reach: 1, InService: first},
			model.Counter{ID: "water", Name: "Water made", Unit: "L", Style: model.StyleAmount, Role: model.RoleWaterMade},
			model.Gauge{ID: "flow", Name: "Product flow", Unit: "L/h", Role: model.RoleFlowProduct, Component: "unit"},
			model.Vessel{ID: "reservoir", Name: "Reservoir", Place: "cellar", Holds: model.HoldsFresh, Capacity: 100, Keep: 5, FedBy: "water"},
			model.Vessel{ID: "vat", Name: "Vat", Place: "cellar", Holds: model.HoldsSalt, Capacity: 80},
			model.Chore{ID: "change", Component: "tank", Name: "change the water", Work: model.WorkRenew, Minutes: 30, Consequence: 1, Fixed: true,
				Clocks: []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: 28, Unit: model.SpanDays}, Rule: model.RuleEvery}},
				Takes:  []model.Take{{Vessel: "vat", Litres: 40}}},
			model.Chore{ID: "make", Component: "unit", Name: "make water", Work: model.WorkRead, Minutes: 5, Consequence: 1,
				Clocks: []model.Clock{{Kind: model.ClockLevel, Vessel: "reservoir"}}},
			model.Reading{Gauge: "flow", Value: 5},
		}
		log := make([]model.Entry, len(bodies))
		for i, b := range bodies {
			log[i] = model.NewEntry(first, b)
			log[i].Seq = model.Seq(i + 1)
		}
		return ledger.Fold(log)
	})
	if err := app.New(store, app.Options{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Now: now}).Run(); err != nil {
		fmt.Fprintln(os.Stderr, "ended by:", err)
		os.Exit(1)
	}
}

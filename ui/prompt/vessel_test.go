package prompt

import (
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui/uitest"
)

// A need is answered while it is typed, and a level counted, by keys alone. Each figure is worked by hand.
func TestWaterByKeys(t *testing.T) {
	t.Parallel()
	on := uitest.Today
	var log []model.Entry
	for _, body := range []model.Body{
		model.BookDef{Name: "Reef", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}},
		model.Place{ID: "cellar", Name: "Cellar", Minutes: 1},
		model.Counter{ID: "water", Name: "Water made", Unit: "L", Style: model.StyleAmount, Role: model.RoleWaterMade},
		model.Gauge{ID: "flow", Name: "Product flow", Unit: "L/h", Role: model.RoleFlowProduct},
		model.Vessel{ID: "reservoir", Name: "Reservoir", Place: "cellar", Holds: model.HoldsFresh, Capacity: 100, Keep: 5, FedBy: "water"},
		model.Vessel{ID: "vat", Name: "Vat", Place: "cellar", Holds: model.HoldsSalt, Capacity: 80},
		model.Reading{Gauge: "flow", Value: 5},
		model.Level{Vessel: "reservoir", Litres: 62},
		model.Level{Vessel: "vat", Litres: 20},
	} {
		log = append(log, model.NewEntry(on, body))
	}
	book := uitest.Book(t, log)

	// 80 L of salt water in 5 days: 60 are missing from the 20 L in the vat, so that 60 L are mixed the day before. That
	// leaves 62 - 60 = 2 L in the reservoir, which keeps 5: 3 L are to be made, 36 min at 5 L/h, started the day before the
	// mixing. 60 L are carried in 6 trips with 10 L.
	s := asked(t, book, Need)
	s.Keys("80 5d")
	s.Sees("80 L on Mon 30 Nov: short then", "mix 60 L, by", "6 trips with 10 L", "make 3 L, start by", "36 min at 5 L/h")
	s.Keys("<enter>")
	if n, ok := s.Last().Body.(model.Need); !ok || n.Litres != 80 || n.By != on.AddDays(5) || n.Vessel != "vat" {
		t.Fatalf("%+v is written", s.Last())
	}

	s = asked(t, book, Level)
	s.Keys("120<enter>")
	s.Sees("holds 100 L at the most") // more than it holds is queried first
	s.Clear()
	s.Keys("31<enter>")
	if l, ok := s.Last().Body.(model.Level); !ok || l.Litres != 31 || l.Vessel != "reservoir" {
		t.Errorf("%+v is written", s.Last())
	}
}

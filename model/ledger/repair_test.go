package ledger

import (
	"strings"
	"testing"

	"brine/wrasse/model"
)

// repaired is the small book with 5 kg of salt on the shelf, a fault of the pump (entry 14, 5 Jan) and a repair of it
// (entry 15, 7 Jan) that took 2 kg.
func repaired(t *testing.T, more ...model.Body) (*Book, error) {
	t.Helper()
	log := append(start(), model.NewEntry(date(t, "2024-01-02"), model.Stock{Spare: "salt", Change: 5}), model.NewEntry(date(t, "2024-01-05"), model.Fault{Component: "pump"}),
		model.NewEntry(date(t, "2024-01-07"), model.Repair{Fault: 14, Note: "new fan", Uses: []model.SpareUse{{Spare: "salt", Quantity: 2}}}))
	for _, b := range more {
		log = append(log, model.NewEntry(date(t, "2024-01-08"), b))
	}
	return Fold(inOrder(log))
}

func TestRepairTakesOffTheShelf(t *testing.T) {
	b, err := repaired(t)
	if err != nil {
		t.Fatal(err)
	}
	for on, want := range map[string]float64{"2024-01-06": 5, "2024-01-07": 3} {
		if got := b.OnHand("salt", date(t, on)); got != want {
			t.Errorf("%v on hand on %s, want %v", got, on, want)
		}
	}
	struck, err := repaired(t, strike(15))
	if err != nil {
		t.Fatal(err)
	}
	if got := struck.OnHand("salt", model.LastDate); got != 5 || len(struck.Repairs()) != 0 {
		t.Errorf("struck: %v on hand, %d repairs", got, len(struck.Repairs()))
	}
}

func TestRefusedRepairs(t *testing.T) {
	for name, c := range map[string]struct {
		more model.Body
		want string
	}{
		"of what is no fault":         {model.Repair{Fault: 13}, "entry 16: fault"},
		"of nothing in the book":      {model.Repair{Fault: 14, Uses: []model.SpareUse{{Spare: "filter", Quantity: 1}}}, "entry 16: uses.spare"},
		"the fault struck":            {strike(14), "entry 15: fault"},
		"the fault moved behind it":   {with(14, `{"on":"2024-01-09"}`), "entry 15: on"},
		"the repair moved before it":  {with(15, `{"on":"2024-01-04"}`), "entry 15: on"},
		"the repair given no fault":   {with(15, `{"fault":13}`), "entry 15: fault"},
		"the spare's definition gone": {strike(9), "salt"},
	} {
		t.Run(name, func(t *testing.T) {
			if _, err := repaired(t, c.more); err == nil || !strings.Contains(err.Error(), c.want) || strings.ContainsRune(err.Error(), '\n') {
				t.Errorf("got %v, want one line with %q", err, c.want)
			}
		})
	}
}

package words

import (
	"testing"

	"brine/wrasse/model"
)

// Salt that batches took is no count of it: nobody has said yet what there is.
func TestCountedTakesMoreThanUse(t *testing.T) {
	fold := func(changes ...float64) *model.Book {
		entries := []model.Entry{
			model.NewEntry(today, model.BookDef{Name: "Reef", Units: model.Units{Volume: "gal", Temperature: "F", Pressure: "psi"}}),
			model.NewEntry(today, model.Spare{ID: "salt", Name: "Salt", Unit: "kg", Role: model.RoleSalt}),
		}
		for _, c := range changes {
			entries = append(entries, model.NewEntry(today, model.Stock{Spare: "salt", Change: c}))
		}
		for i := range entries {
			entries[i].Seq = model.Seq(i + 1)
		}
		b, err := model.Fold(entries)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	if Counted(fold(), "salt") || Counted(fold(-4.4), "salt") || !Counted(fold(-4.4, 20), "salt") {
		t.Error("counted is what was ever put on the shelf")
	}
}

package logbook

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/request"
)

// litresSlot is litres, as the keeper's units have them.
func litresSlot(name, label string, v *float64, u model.Units) slot {
	return numberSlot(name, label, v, func(s string) (float64, error) { return parse.Amount(s, "L", u) },
		func(v float64) string { return parse.Figure(v, "L", u) }, parse.UnitName(parse.Unit("L", u)))
}

// vesselSlot offers the vessels of a book, and none.
func vesselSlot(b *ledger.Book, name, label string, chosen model.ID) slot {
	f := form.Field{Name: name, Label: label, Value: string(chosen), Options: []form.Option{{Value: "", Label: "none"}}}
	for _, v := range b.Vessels() {
		if v.Retired.IsZero() || v.ID == chosen {
			f.Options = append(f.Options, form.Option{Value: string(v.ID), Label: v.Name})
		}
	}
	return slot{f, orNone}
}

func purposeSlot(p model.Purpose) slot {
	f := form.Field{Name: "for", Label: "for", Value: string(p)}
	for _, p := range model.Purposes {
		f.Options = append(f.Options, form.Option{Value: string(p), Label: request.PurposeText(p)})
	}
	return slot{f, orNone}
}

// bySlot is the date by which water is wanted.
func bySlot(by, on model.Date) slot {
	return slot{
		form.Field{Name: "by", Label: "by", Value: by.String(), Cells: 12, Hint: "a date from " + on.String() + " on"},
		func(s string) (any, error) { return parse.By(s, on) },
	}
}

// aboutSlot says whether a date or a figure is a guess.
func aboutSlot(label string, about bool) slot {
	return choiceSlot("about", label, yesNo(about), map[string]any{"yes": true, "no": nil}, "yes", "a guess", "no", "known")
}

package prompt

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/request"
)

// Extras are a field to tick for each of what many stations have and many do not, as far as the book has not all of it.
func Extras(b *ledger.Book) (out []form.Field) {
	for _, x := range starter.Extras() {
		set, _ := starter.Pick(x.ID) // the sets are part of the program
		if _, lacks := request.Lacking(b, set); lacks {
			out = append(out, form.YesNo(x.ID, x.Label, false))
		}
	}
	return out
}

// Ticked is what the extras define that were ticked.
func Ticked(v form.Values) []model.Entry {
	var ids []string
	for _, x := range starter.Extras() {
		if v[x.ID] == "yes" {
			ids = append(ids, x.ID)
		}
	}
	picked, _ := starter.Pick(ids...) // likewise
	return picked
}

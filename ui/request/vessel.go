package request

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Draw is litres taken out of a vessel.
type Draw struct {
	Stamp
	model.Draw
}

// Entries is the draw. Salt water is not carried into a vessel of fresh water.
func (r Draw) Entries(b *ledger.Book) ([]model.Entry, error) {
	from, _ := b.Vessel(r.Vessel)
	if into, ok := b.Vessel(r.Into); ok && from.Holds == model.HoldsSalt && into.Holds == model.HoldsFresh {
		return nil, fmt.Errorf("%s holds salt water and %s fresh; take it out as waste or for a change, or into a vessel of salt water", from.Name, into.Name)
	}
	return r.entries(r.Draw), nil
}

// OnlyVessel is the one vessel in use that holds a kind of water; none where there are more.
func OnlyVessel(b *ledger.Book, holds model.Holds, on model.Date) (id model.ID) {
	for _, v := range b.Vessels() {
		if v.Holds != holds || !v.Retired.IsZero() && v.Retired <= on {
			continue
		}
		if id != "" {
			return ""
		}
		id = v.ID
	}
	return id
}

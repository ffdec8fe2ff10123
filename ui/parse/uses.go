package parse

import (
	"errors"
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Uses reads what was taken off the shelf: "fan", "2 clips", "0.6 L resin; fan". Without an amount it is one. Nothing typed
// is nothing taken.
func Uses(b *ledger.Book, s string) ([]model.SpareUse, error) {
	var out []model.SpareUse
	for part := range strings.SplitSeq(s, ";") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		use, err := oneUse(b, part)
		if err != nil {
			return nil, err
		}
		out = append(out, use)
	}
	return out, nil
}

// oneUse reads a spare, or an amount and a spare: as many words as make an amount in the spare's unit belong to the amount.
func oneUse(b *ledger.Book, s string) (model.SpareUse, error) {
	words := strings.Fields(s)
	if c := words[0][0]; c < '0' || c > '9' {
		spare, err := Spare(b, s)
		return model.SpareUse{Spare: spare.ID, Quantity: 1}, err
	}
	err := errors.New("it names no spare")
	for n := min(2, len(words)-1); n > 0; n-- {
		spare, missing := Spare(b, strings.Join(words[n:], " "))
		if missing != nil {
			err = missing
			continue
		}
		v, wrong := Amount(strings.Join(words[:n], " "), spare.Unit, b.Def().Units)
		if wrong == nil && v > 0 {
			return model.SpareUse{Spare: spare.ID, Quantity: v}, nil
		}
		err = fmt.Errorf("%q is no amount of %s in %s", strings.Join(words[:n], " "), spare.Name, spare.Unit)
	}
	return model.SpareUse{}, fmt.Errorf("%q: %w; give an amount and a spare, such as: 2 o-rings", s, err)
}

// UsesText is what was taken off the shelf as Uses reads it.
func UsesText(b *ledger.Book, uses []model.SpareUse) string {
	parts := make([]string, len(uses))
	for i, use := range uses {
		s, _ := b.Spare(use.Spare)
		parts[i] = Quantity(use.Quantity, s.Unit, b.Def().Units) + " " + string(use.Spare)
	}
	return strings.Join(parts, "; ")
}

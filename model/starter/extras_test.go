package starter

import (
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Every single extra, and all of them, is a sound book alone, with chores of its own and nothing else.
func TestEachExtraStandsAlone(t *testing.T) {
	on := model.NewDate(2026, 3, 1)
	var every []string
	total := 0
	for _, x := range Extras() {
		every = append(every, x.ID)
		set := must(Pick(x.ID))
		if _, err := ledger.Fold(numbered(set, on)); err != nil {
			t.Errorf("%s: %v", x.ID, err)
		}
		if len(chores(set)) == 0 {
			t.Errorf("%s brings no chore", x.ID)
		}
		total += len(chores(set))
	}
	set := must(Pick(every...))
	if whole := must(Set("extras")); len(set) != len(whole) {
		t.Errorf("all extras are %d lines, the set has %d: some are in reach of no extra", len(set), len(whole))
	}
	if n := len(chores(set)); n != total {
		t.Errorf("the extras bring %d chores together and %d one by one", n, total)
	}
	if none, err := Pick("pond"); err != nil || len(none) != 0 {
		t.Errorf("an unknown extra picks %d lines, %v", len(none), err)
	}
}

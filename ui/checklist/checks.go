package checklist

import (
	"cmp"
	"fmt"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Checks keeps which steps are checked until their chore is ticked.
type Checks struct {
	checked map[string]bool
}

// NewChecks is a checks with nothing checked.
func NewChecks() *Checks { return &Checks{checked: map[string]bool{}} }

// stepKey names a step of a chore, on the checks and as a countdown.
func stepKey(chore model.ID, i int) string { return fmt.Sprintf("%s/%d", chore, i) }

// clear forgets the checks of a chore.
func (b *Checks) clear(c model.Chore) {
	for i := range c.Steps {
		delete(b.checked, stepKey(c.ID, i))
	}
}

// stageRank is the place of a stage in the flow of the water; what is no stage comes
// after them.
var stageRank = map[model.Stage]int{
	model.StageSediment: 1, model.StageCarbon: 2, model.StageMembrane: 3, model.StageResin: 4, "": 5,
}

// flowOrder is chores in the order in which the water flows: by place as the book
// names them, from the tap to the tank, then by stage, then as the components were
// defined.
func flowOrder(b *ledger.Book, chores []model.Chore) []model.Chore {
	places, components := map[model.ID]int{}, map[model.ID]int{}
	for i, p := range b.Places() {
		places[p.ID] = i
	}
	for i, c := range b.Components() {
		components[c.ID] = i
	}
	out := slices.Clone(chores)
	slices.SortStableFunc(out, func(x, y model.Chore) int {
		cx, _ := b.Component(x.Component)
		cy, _ := b.Component(y.Component)
		return cmp.Or(
			cmp.Compare(places[cx.Place], places[cy.Place]),
			cmp.Compare(stageRank[cx.Stage], stageRank[cy.Stage]),
			cmp.Compare(components[cx.ID], components[cy.ID]),
		)
	})
	return out
}

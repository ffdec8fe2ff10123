package station

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// bedsShown is how many of the latest resin beds are looked back at.
const bedsShown = 3

// BedLitres is how much water each of the last resin beds made, the latest last: from
// renewal to renewal, for the beds that were used up.
func BedLitres(b *ledger.Book, on model.Date) []float64 {
	c, ok := b.CounterByRole(model.RoleWaterMade)
	if !ok {
		return nil
	}
	renewals := Renewals(b, model.StageResin, on)
	var out []float64
	for i := 1; i < len(renewals); i++ {
		out = append(out, b.Tally(c.ID).Between(renewals[i-1], renewals[i]))
	}
	return out[max(len(out)-bedsShown, 0):]
}

// Renewals are the ticks of renew chores on components of a stage, in order of time.
func Renewals(b *ledger.Book, stage model.Stage, on model.Date) []model.Mark {
	var out []model.Mark
	for _, c := range b.Chores() {
		part, _ := b.Component(c.Component)
		if part.Stage != stage || c.Work != model.WorkRenew {
			continue
		}
		for _, t := range b.TicksUpTo(c.ID, on) {
			out = append(out, t.Mark())
		}
	}
	return out
}

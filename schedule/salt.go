package schedule

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// batchesSeen is how many of the latest batches tell what the next will take of the salt.
const batchesSeen = 6

// saltUses are what the batches of the 365 dates from the round's own on will take of the salt they are mixed with:
// each as much as the latest took on average, at the present rate of the counter of batches, the next of them today at
// the earliest. Where a vat was counted, the batches that the look ahead wants stand for those of the next four weeks.
// perBatch is 0 where that can't be told: no batch, no rate, or a salt that isn't kept by mass.
func (r *Round) saltUses(s model.Spare) (uses []use, perBatch float64) {
	counter, ok := r.sight.book.CounterByRole(model.RoleBatches)
	if !ok || s.Role != model.RoleSalt {
		return nil, 0
	}
	grams, litres, last := r.saltOfLate()
	unit, err := water.ParseUnit(s.Unit)
	if err != nil || !(grams > 0) {
		return nil, 0
	}
	rate := r.sight.rate(counter)
	if !rate.ok || !(rate.perDay > 0) {
		return nil, 0
	}
	perBatch, err = water.Convert(grams, water.Gram, unit)
	if err != nil {
		return nil, 0
	}
	gap := max(1, 1/rate.perDay)
	first := max(last.AddDays(ceil(gap)), r.On)
	wanted, counted := r.mixesAhead()
	for _, m := range wanted {
		uses = append(uses, use{m.By, perBatch * m.Litres / litres})
	}
	for n := 0; ; n++ {
		d := first.AddDays(ceil(float64(n) * gap))
		if d >= r.On+yearDays {
			return uses, perBatch
		}
		if !counted || d > r.On+saidBy {
			uses = append(uses, use{d, perBatch})
		}
	}
}

// mixesAhead are the batches wanted within four weeks, by date; ok is false while no vessel of salt water was counted.
func (r *Round) mixesAhead() (out []Mix, ok bool) {
	for _, o := range r.OnHand() {
		if o.Vessel.Holds != model.HoldsSalt || o.Counted == nil {
			continue
		}
		ok = true
		for _, m := range o.Mixes {
			if m.By <= r.On+saidBy {
				out = append(out, m)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Mix) int { return cmp.Compare(a.By, b.By) })
	return out, ok
}

// saltOfLate is the mean salt of the latest batches up to the round's date, in grams, and their mean water, in L; and the
// date of the last.
func (r *Round) saltOfLate() (grams, litres float64, last model.Date) {
	n := 0
	all := r.sight.book.Batches()
	for i := len(all) - 1; i >= 0 && n < batchesSeen; i-- {
		if all[i].On > r.On || all[i].What.SaltG <= 0 {
			continue
		}
		last = max(last, all[i].On)
		grams, litres = grams+all[i].What.SaltG, litres+all[i].What.VolumeL
		n++
	}
	return grams / float64(max(n, 1)), litres / float64(max(n, 1)), last
}

package schedule

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
)

// openFaults are the faults of components in use that nobody repaired, and that no tick of one of the
// component's chores has closed since.
func (v *sight) openFaults(chores []model.Chore) []OpenFault {
	ticked := map[model.ID]model.Mark{}
	for i := range chores {
		ticks := v.history[chores[i].ID].ticks
		if len(ticks) == 0 {
			continue
		}
		last := ticks[len(ticks)-1].Mark()
		if at := chores[i].Component; ticked[at].Before(last) {
			ticked[at] = last
		}
	}
	repaired := map[model.Seq]bool{}
	for _, r := range v.book.Repairs() {
		if r.On <= v.on {
			repaired[r.What.Fault] = true
		}
	}
	var out []OpenFault
	for _, c := range v.book.Components() {
		if retired(c.Retired, v.on) {
			continue
		}
		for _, f := range v.book.Faults(c.ID) {
			if f.On <= v.on && ticked[c.ID].Before(f.Mark()) && !repaired[f.Seq] {
				out = append(out, OpenFault{Component: c, Since: f.On, Note: f.What.Note, Seq: f.Seq})
			}
		}
	}
	slices.SortFunc(out, func(a, b OpenFault) int {
		return cmp.Or(cmp.Compare(a.Since, b.Since), cmp.Compare(a.Seq, b.Seq))
	})
	return out
}

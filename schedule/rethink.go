package schedule

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
)

// Placing is what the placing of a component costs.
type Placing struct {
	Component     model.Component // as graded then
	AccessMinutes int             // before hands reach it: of what is opened, which may be another component
	Visits        float64         // a year: dates on which its access group was ticked
	Projected     bool            // the visits are what the clocks foresee, nothing having been ticked in the year
	MinutesAYear  float64         // AccessMinutes * Visits
	Slip          float64         // mean of its ticks, 0 when none tells
	SlipTicks     int             // ticks that tell
	Ticks         int
	Spent         float64 // share of its ticks that were found heavy or failed
}

// Awkward is a component in the ranking of those whose layout should change.
type Awkward struct {
	Placing
	Place model.Place
	Score float64                    // MinutesAYear * (1 + Slip), which ranks
	Flag  *model.Logged[model.Flag]  // its latest flag, nil when it was never flagged
	Flags []model.Logged[model.Flag] // in order of time
	// Of a component marked rebuilt with a new grade: the same figures up to then, with the old grade, and since.
	Rebuilt       *model.Logged[model.Flag]
	Before, After *Placing
}

// Rethink ranks the components in use by the minutes a year that their placing costs, the worst first.
func (r *Round) Rethink() []Awkward {
	v := r.sight
	away := v.book.Absence(v.on)
	groups := map[model.ID][]model.ID{} // chores by the component that is opened for them
	of := map[model.ID][]model.ID{}     // chores by component
	for _, c := range v.book.Chores() {
		leader := v.leaders[c.Component].ID
		groups[leader] = append(groups[leader], c.ID)
		of[c.Component] = append(of[c.Component], c.ID)
	}
	var out []Awkward
	for _, c := range v.book.Components() {
		if retired(c.Retired, r.On) {
			continue
		}
		q := placingQuery{
			component: c, access: v.leaders[c.ID].AccessMinutes, on: r.On,
			chores: of[c.ID], group: groups[v.leaders[c.ID].ID], end: v.book.Last() + 1,
			away: away,
		}
		a := Awkward{Placing: r.placing(q)}
		a.Place, _ = v.book.Place(c.Place)
		a.Score = a.MinutesAYear * (1 + a.Slip)
		r.flagged(&a, q)
		out = append(out, a)
	}
	slices.SortFunc(out, func(a, b Awkward) int {
		return cmp.Or(cmp.Compare(ranked(b.Score), ranked(a.Score)), cmp.Compare(a.Component.ID, b.Component.ID))
	})
	return out
}

// placingQuery asks what a placing cost by a date, from the ticks of a stretch of the log.
type placingQuery struct {
	component model.Component
	access    int
	on        model.Date
	chores    []model.ID // the component's own
	group     []model.ID // all that its opening serves
	away      model.Absence
	from, end model.Seq // only ticks written from one seq on and before another
}

func (r *Round) placing(q placingQuery) Placing {
	p := Placing{Component: q.component, AccessMinutes: q.access}
	p.Visits, p.Projected = r.visits(q.group, q.on)
	p.MinutesAYear = float64(p.AccessMinutes) * p.Visits
	spent := 0
	for _, id := range q.chores {
		ticks := r.sight.history[id].ticks
		for i := range ticks {
			t := &ticks[i]
			if t.Seq < q.from || t.Seq >= q.end || t.On > q.on {
				continue
			}
			p.Ticks++
			if t.Found == model.FoundHeavy || t.Found == model.FoundFailed {
				spent++
			}
		}
	}
	if p.Ticks > 0 {
		p.Spent = float64(spent) / float64(p.Ticks)
	}
	sum := 0.0
	for _, id := range q.chores {
		starts := r.sight.history[id].starts
		for k := 1; k < len(starts); k++ {
			s, ok := q.away.Slip(starts[k-1], starts[k])
			if ok && s.Seq >= q.from && s.Seq < q.end && s.On <= q.on {
				sum += s.Value
				p.SlipTicks++
			}
		}
	}
	if p.SlipTicks > 0 {
		p.Slip = sum / float64(p.SlipTicks)
	}
	return p
}

// visits are the dates, in the 365 days up to one, on which a chore of an access group was ticked; with none, what
// the steps of its chores foresee for a year.
func (r *Round) visits(group []model.ID, on model.Date) (aYear float64, projected bool) {
	var dates []model.Date
	for _, id := range group {
		ticks := r.sight.history[id].ticks
		for i := len(ticks) - 1; i >= 0 && ticks[i].On > on-yearDays; i-- {
			if ticks[i].On <= on {
				dates = append(dates, ticks[i].On)
			}
		}
	}
	if len(dates) > 0 {
		slices.Sort(dates)
		return float64(len(slices.Compact(dates))), false
	}
	for _, id := range group {
		if s := r.Of(id); s != nil && s.step > 0 {
			aYear += yearDays / float64(s.step)
		}
	}
	return aYear, true
}

// flagged fills in where the component stands on the list, and before and after where it was rebuilt.
func (r *Round) flagged(a *Awkward, now placingQuery) {
	v := r.sight
	for _, f := range v.book.Flags(a.Component.ID) {
		if f.On > v.on && f.What.State != model.FlagRebuilt {
			continue
		}
		a.Flags = append(a.Flags, f)
		if f.What.Reach != 0 {
			a.Rebuilt = &f
		}
	}
	if n := len(a.Flags); n > 0 {
		a.Flag = &a.Flags[n-1]
	}
	if a.Rebuilt == nil {
		return
	}
	before, after := now, now
	before.end, before.on = a.Rebuilt.Seq, min(a.Rebuilt.On, v.on)
	before.component, _ = v.book.ComponentBefore(a.Component.ID, a.Rebuilt.Seq)
	leader, _ := v.book.ComponentBefore(v.leaders[a.Component.ID].ID, a.Rebuilt.Seq)
	before.access = leader.AccessMinutes
	after.from = a.Rebuilt.Seq
	b, c := r.placing(before), r.placing(after)
	a.Before, a.After = &b, &c
}

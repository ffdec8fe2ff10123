package schedule

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
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
	Score float64                     // minutes a year that a move could save, which ranks
	Flag  *ledger.Logged[model.Flag]  // its latest flag, nil when it was never flagged
	Flags []ledger.Logged[model.Flag] // in order of time
	Alone *Placing                    // of a component that opens with another: the same, were it opened by itself
	// Of a component marked rebuilt with a new grade: the same figures up to then, with the old grade, and since.
	Rebuilt       *ledger.Logged[model.Flag]
	Before, After *Placing
	Left          *Placing // of the component that it opened with until then, and does no more
}

// openMinutes is what getting at a part of reach grade 1 takes at the most.
const openMinutes = 1

// Rethink ranks the components in use by the minutes a year that a move into easy reach could save, the most first: those
// beyond the minute that grade 1 takes, and more of them where the jobs behind the opening come late. An opening that
// several share counts once, for the component that is opened. O(ticks).
func (r *Round) Rethink() []Awkward {
	v := r.sight
	k := ranking{r, map[model.ID]doings{}, map[model.ID][]model.ID{}, map[model.ID][]model.ID{}}
	for _, c := range v.book.Chores() {
		k.done[c.ID] = doingsOf(v.book, c.ID, v.on, v.away)
		leader := v.leaders[c.Component].ID
		k.opened[leader] = append(k.opened[leader], c.ID)
		k.own[c.Component] = append(k.own[c.Component], c.ID)
	}
	var out []Awkward
	for _, c := range v.book.Components() {
		if retired(c.Retired, r.On) {
			continue
		}
		q := k.query(c)
		a := Awkward{Placing: r.placing(q)}
		a.Place, _ = v.book.Place(c.Place)
		if c.OpensWith == "" {
			slip, _ := q.slip(q.group)
			a.Score = float64(max(0, a.AccessMinutes-openMinutes)) * a.Visits * (1 + slip)
		} else {
			q.access, q.group = c.AccessMinutes, q.chores
			alone := r.placing(q)
			a.Alone = &alone
		}
		k.flagged(&a)
		out = append(out, a)
	}
	slices.SortFunc(out, func(a, b Awkward) int {
		return cmp.Or(cmp.Compare(ranked(b.Score), ranked(a.Score)), cmp.Compare(ranked(b.MinutesAYear), ranked(a.MinutesAYear)),
			cmp.Compare(a.Component.ID, b.Component.ID))
	})
	return out
}

// ranking is what the ranking of a round is made from.
type ranking struct {
	round  *Round
	done   map[model.ID]doings
	opened map[model.ID][]model.ID // chores by the component that is opened for them
	own    map[model.ID][]model.ID // chores by component
}

// query asks what the placing of a component costs now.
func (k *ranking) query(c model.Component) placingQuery {
	v := k.round.sight
	leader := v.leaders[c.ID]
	return placingQuery{
		component: c, access: leader.AccessMinutes, on: v.on,
		chores: k.own[c.ID], group: k.opened[leader.ID], end: v.book.Last() + 1,
		done: k.done,
	}
}

// placingQuery asks what a placing cost by a date, from the ticks of a stretch of the log.
type placingQuery struct {
	component model.Component
	access    int
	on        model.Date
	chores    []model.ID // the component's own
	group     []model.ID // all that its opening serves
	done      map[model.ID]doings
	from, end model.Seq // only ticks written from one seq on and before another
}

// doings are the ticks of a chore, as far as they tell of its placing.
type doings struct {
	ticks []doing
	slips []ledger.Slip
}

type doing struct {
	model.Mark
	spent bool // found heavy or failed
}

// doingsOf looks through the ticks of a chore up to a date.
func doingsOf(b *ledger.Book, chore model.ID, on model.Date, away ledger.Absence) doings {
	var d doings
	var before ledger.Start
	for _, s := range b.Starts(chore, on) {
		if t := s.Tick; t != nil {
			d.ticks = append(d.ticks, doing{s.Mark, t.Found == model.FoundHeavy || t.Found == model.FoundFailed})
		}
		if slip, ok := away.Slip(before, s); ok && before.On != 0 {
			d.slips = append(d.slips, slip)
		}
		before = s
	}
	return d
}

func (q *placingQuery) asks(m model.Mark) bool {
	return m.Seq >= q.from && m.Seq < q.end && m.On <= q.on
}

func (r *Round) placing(q placingQuery) Placing {
	p := Placing{Component: q.component, AccessMinutes: q.access}
	p.Visits, p.Projected = r.visits(q)
	p.MinutesAYear = float64(p.AccessMinutes) * p.Visits
	spent := 0
	for _, id := range q.chores {
		for _, t := range q.done[id].ticks {
			if q.asks(t.Mark) {
				p.Ticks++
				if t.spent {
					spent++
				}
			}
		}
	}
	p.Slip, p.SlipTicks = q.slip(q.chores)
	if p.Ticks > 0 {
		p.Spent = float64(spent) / float64(p.Ticks)
	}
	return p
}

// slip is the mean of the ticks of some chores, 0 when none tells.
func (q *placingQuery) slip(chores []model.ID) (mean float64, ticks int) {
	sum := 0.0
	for _, id := range chores {
		for _, s := range q.done[id].slips {
			if q.asks(s.Mark) {
				ticks++
				sum += s.Value
			}
		}
	}
	return sum / float64(max(1, ticks)), ticks
}

// visits are the dates, in the 365 days up to that asked about, on which a chore of an access group was ticked; with none, what
// the steps of its chores foresee for a year.
func (r *Round) visits(q placingQuery) (aYear float64, projected bool) {
	var dates []model.Date
	for _, id := range q.group {
		ticks := q.done[id].ticks
		for i := len(ticks) - 1; i >= 0 && ticks[i].On > q.on-yearDays; i-- {
			if ticks[i].On <= q.on {
				dates = append(dates, ticks[i].On)
			}
		}
	}
	if len(dates) > 0 {
		slices.Sort(dates)
		return float64(len(slices.Compact(dates))), false
	}
	for _, id := range q.group {
		if s := r.Of(id); s != nil && s.step > 0 {
			aYear += yearDays / float64(s.step)
		}
	}
	return aYear, true
}

// flagged fills in where the component stands on the list, and before and after where it was rebuilt.
func (k *ranking) flagged(a *Awkward) {
	v := k.round.sight
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
	seq := a.Rebuilt.Seq
	before, after := k.query(a.Component), k.query(a.Component)
	before.end, before.on = seq, min(a.Rebuilt.On, v.on)
	before.component, _ = v.book.ComponentBefore(a.Component.ID, seq)
	opened := cmp.Or(v.book.OpenedWith(a.Component.ID, seq), a.Component.ID)
	if opened != v.leaders[a.Component.ID].ID {
		before.group = k.openedBefore(opened, seq)
		if other, _ := v.book.Component(opened); opened != a.Component.ID {
			left := k.round.placing(k.query(other))
			a.Left = &left
		}
	}
	leader, _ := v.book.ComponentBefore(opened, seq)
	before.access = leader.AccessMinutes
	after.from = seq
	b, c := k.round.placing(before), k.round.placing(after)
	a.Before, a.After = &b, &c
}

// openedBefore are the chores that a component was opened for just before an entry of the log.
func (k *ranking) openedBefore(component model.ID, seq model.Seq) []model.ID {
	out := slices.Clone(k.own[component])
	for _, c := range k.round.sight.book.Components() {
		if k.round.sight.book.OpenedWith(c.ID, seq) == component {
			out = append(out, k.own[c.ID]...)
		}
	}
	return out
}

package schedule

import "brine/wrasse/model"

// boxDays is how far ahead a chore may be due and still be put into a time box.
const boxDays = 14

// TimeBox is what to do with some minutes: of the chores past their limit those that together remove the most risk, and
// what else does in the minutes that are left.
type TimeBox struct {
	Minutes     int // there are
	Used        int // hands-on, and getting at it
	Waiting     int // on timers, not counted
	RiskRemoved float64
	Stops       []Stop // in visiting order
}

// Stop is a place to go to in a time box.
type Stop struct {
	Place    model.Place
	Openings []Opening
}

// Opening is an access group: what lies open once one component is got at.
type Opening struct {
	Component model.Component // the one that is opened; its access minutes count once
	Chores    []*Standing
}

// Chores are the chosen chores in visiting order.
func (t TimeBox) Chores() []*Standing {
	var out []*Standing
	for _, stop := range t.Stops {
		for _, o := range stop.Openings {
			out = append(out, o.Chores...)
		}
	}
	return out
}

// Elapsed is how many minutes pass until all is done: those of the hands, and those of the timers one after another, for
// nobody knows before which of them run side by side.
func (t TimeBox) Elapsed() int { return t.Used + t.Waiting }

// TimeBox chooses, among the chores that are late, due, soon, or ahead by up to 14 days, those that remove the most
// risk in the minutes there are: first of what is past its limit, so that no such chore is left out that would fit, then
// of all. A chore costs its minutes, an access group its access minutes once, a place its minutes once. Of equal choices
// it takes the one with more chores late or due, then the one with fewer minutes.
//
// It is exact: a knapsack over whole minutes in which a place and within it an access group must be opened before
// what lies in them, at a cost of O(minutes x (chores + groups + places)). Risks are summed in units of 1e-14, so that
// equal sums are equal whatever the order.
func (r *Round) TimeBox(minutes int) TimeBox {
	stops := r.stops(func(s *Standing) bool {
		switch s.State {
		case StateLate, StateDue, StateSoon:
			return true
		case StateAhead:
			return s.Due <= r.On+boxDays
		}
		return false
	})
	chosen := map[*Standing]bool{}
	for _, s := range pack(stops, minutes) {
		chosen[s] = true
	}
	out := TimeBox{Minutes: minutes, Stops: r.stops(func(s *Standing) bool { return chosen[s] })}
	list := out.Chores()
	cost := r.Cost(list...)
	out.Used, out.Waiting = cost.Hands+cost.Access, cost.Waiting
	for _, s := range list {
		out.RiskRemoved += s.Risk
	}
	return out
}

// stops groups some of the round's standings by place and access group: places by their best chore's rank in the
// round, then groups likewise, then in the order of the round.
func (r *Round) stops(take func(*Standing) bool) []Stop {
	var out []Stop
	type group struct{ place, leader model.ID }
	places, groups := map[model.ID]int{}, map[group]int{} // indexes of stops, and within them of openings
	for i := range r.Standings {
		s := &r.Standings[i]
		if !take(s) {
			continue
		}
		p, known := places[s.Place.ID]
		if !known {
			p = len(out)
			places[s.Place.ID] = p
			out = append(out, Stop{Place: s.Place})
		}
		stop := &out[p]
		leader := r.sight.leaders[s.Component.ID]
		g := group{s.Place.ID, leader.ID}
		o, known := groups[g]
		if !known {
			o = len(stop.Openings)
			groups[g] = o
			stop.Openings = append(stop.Openings, Opening{Component: leader})
		}
		stop.Openings[o].Chores = append(stop.Openings[o].Chores, s)
	}
	return out
}

// worth is what a choice of chores is worth. More is better: risk removed of what is past its limit, how many chores are,
// then risk removed of all, then chores late or due.
type worth struct {
	past   int64 // risk of chores past their limit, in units of 1e-14
	risk   int64 // in units of 1e-14
	over   int32 // chores past their limit
	urgent int32
	some   bool // there is such a choice
}

const riskUnit = 1e-14

func worthOf(s *Standing) worth {
	w := worth{risk: int64(s.Risk/riskUnit + 0.5), some: true}
	if s.PastLimit {
		w.past, w.over = w.risk, 1
	}
	if s.State == StateLate || s.State == StateDue {
		w.urgent = 1
	}
	return w
}

func (w worth) plus(o worth) worth {
	return worth{w.past + o.past, w.risk + o.risk, w.over + o.over, w.urgent + o.urgent, w.some && o.some}
}

func (w worth) beats(o worth) bool {
	switch {
	case w.some != o.some:
		return w.some
	case w.past != o.past:
		return w.past > o.past
	case w.over != o.over:
		return w.over > o.over
	case w.risk != o.risk:
		return w.risk > o.risk
	}
	return w.urgent > o.urgent
}

// choice remembers how a level of the knapsack came to be, minute by minute.
type choice struct {
	standing *Standing // taken where took is set; nil where a place or group closes
	took     []bool    // by minutes: of a chore, it was taken; of a closing, it was worth opening
	cost     int
	since    int // of a closing: index of the first choice made inside it
}

// packer fills a knapsack. at[m] is the best worth at a cost of exactly m minutes.
type packer struct {
	at      []worth
	choices []choice
	spare   [][]worth // as long as at, to be used again
}

// pack returns the standings worth most within the minutes.
func pack(stops []Stop, minutes int) []*Standing {
	total := 0
	for _, stop := range stops {
		total += stop.Place.Minutes
		for _, o := range stop.Openings {
			total += o.Component.AccessMinutes
			for _, s := range o.Chores {
				total += s.Chore.Minutes
			}
		}
	}
	if minutes < 0 {
		return nil
	}
	p := packer{at: make([]worth, min(minutes, total)+1)}
	p.at[0].some = true
	for _, stop := range stops {
		p.inside(stop.Place.Minutes, func() {
			for _, o := range stop.Openings {
				p.inside(o.Component.AccessMinutes, func() {
					for _, s := range o.Chores {
						p.add(s)
					}
				})
			}
		})
	}
	best := 0
	for m := range p.at {
		if p.at[m].beats(p.at[best]) {
			best = m
		}
	}
	return p.trace(best)
}

// add lets a chore be taken or left.
func (p *packer) add(s *Standing) {
	c := choice{standing: s, took: make([]bool, len(p.at)), cost: s.Chore.Minutes}
	w := worthOf(s)
	for m := len(p.at) - 1; m >= c.cost; m-- {
		if with := p.at[m-c.cost].plus(w); with.beats(p.at[m]) {
			p.at[m], c.took[m] = with, true
		}
	}
	p.choices = append(p.choices, c)
}

// inside pays a cost, fills what it opens, and keeps the result where that was worth it.
func (p *packer) inside(cost int, fill func()) {
	outside := p.at
	c := choice{took: make([]bool, len(outside)), cost: cost, since: len(p.choices)}
	p.at = p.room()
	if cost < len(outside) {
		copy(p.at[cost:], outside)
	}
	fill()
	for m := range p.at {
		if p.at[m].beats(outside[m]) {
			c.took[m] = true
		} else {
			p.at[m] = outside[m]
		}
	}
	p.choices = append(p.choices, c)
	p.spare = append(p.spare, outside)
}

// room is as long as at, of no worth.
func (p *packer) room() []worth {
	n := len(p.spare)
	if n == 0 {
		return make([]worth, len(p.at))
	}
	room := p.spare[n-1]
	p.spare = p.spare[:n-1]
	clear(room)
	return room
}

// trace walks back through the choices that led to a cost.
func (p *packer) trace(m int) []*Standing {
	var out []*Standing
	var opened []choice // closings whose inside is being walked, innermost last
	for i := len(p.choices) - 1; i >= -1; i-- {
		for n := len(opened); n > 0 && i < opened[n-1].since; n = len(opened) {
			m -= opened[n-1].cost
			opened = opened[:n-1]
		}
		if i < 0 {
			break
		}
		c := p.choices[i]
		switch {
		case c.standing != nil && c.took[m]:
			out = append(out, c.standing)
			m -= c.cost
		case c.standing == nil && c.took[m]:
			opened = append(opened, c)
		case c.standing == nil:
			i = c.since // the inside was not entered
		}
	}
	return out
}

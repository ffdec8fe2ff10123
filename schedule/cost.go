package schedule

import "brine/wrasse/model"

// Cost is what work takes, in whole minutes.
type Cost struct {
	Hands   int // hands-on
	Waiting int // on timers
	Access  int // getting at it: an access group once a date, a place once a date
}

// CostSum adds up the cost of chores, in any order of dates. The zero value is ready.
type CostSum struct {
	Cost
	paid map[opening]bool
}

// opening is what has to be got at once a date: an access group, by the component that is opened, or a place.
type opening struct {
	on   model.Date
	kind model.Kind
	id   model.ID
}

// Add adds a chore that is done on a date. leader is the component that is opened for it: its own, or the one its own opens with.
func (c *CostSum) Add(on model.Date, chore model.Chore, leader model.Component, place model.Place) {
	c.Hands += chore.Minutes
	c.Waiting += chore.WaitingMinutes()
	c.pay(opening{on, model.KindComponent, leader.ID}, leader.AccessMinutes)
	c.pay(opening{on, model.KindPlace, place.ID}, place.Minutes)
}

func (c *CostSum) pay(o opening, minutes int) {
	if c.paid == nil {
		c.paid = map[opening]bool{}
	}
	if !c.paid[o] {
		c.paid[o] = true
		c.Access += minutes
	}
}

// Cost is what chores of the round take when they are all done on its date.
func (r *Round) Cost(list ...*Standing) Cost {
	var sum CostSum
	for _, s := range list {
		r.add(&sum, r.On, s)
	}
	return sum.Cost
}

func (r *Round) add(sum *CostSum, on model.Date, s *Standing) {
	sum.Add(on, s.Chore, r.sight.leaders[s.Component.ID], s.Place)
}

package schedule

import (
	"sort"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// cycle is what a record says of one cycle of a chore.
type cycle struct {
	of       *record
	start    ledger.Start
	from, to int     // the entries of it: from one up to, and without, another
	first    float64 // what the first of them stands for
	before   Before  // what is counted on before the record
}

// Before is what is counted on of a cycle that began before its counter's first entry.
type Before struct {
	Record model.Date // the counter's first entry; no date where the cycle didn't begin before it
	Amount float64    // counted on, in the clock's unit; 0 where no rate is known
	PerDay float64    // at this rate, of the counter's own unit
	Stated bool       // the rate is the declared one
	Known  bool       // a rate is known
}

// cycle is the cycle from a start up to a place. litres is the rate, in the counter's unit, at which days before the
// record are counted where none is declared.
func (r *record) cycle(start ledger.Start, end model.Mark, litres rate) cycle {
	c := cycle{of: r, start: start, from: r.before(start.Mark), to: r.before(end)}
	if c.from == c.to {
		return c
	}
	e := &r.entries[c.from]
	c.first = e.qty
	if c.from > 0 {
		if e.silent {
			c.first += min(e.added, float64(r.entries[c.from-1].rate.perDay*float64(e.On.Sub(start.On))))
		}
		return c
	}
	if r.states {
		litres = rate{r.stated, true}
	}
	days := e.On.Sub(start.On) - r.away.Days(start.On, e.On)
	c.before = Before{Record: e.On, PerDay: litres.perDay, Stated: r.states, Known: litres.ok}
	if litres.ok {
		c.before.Amount = float64(litres.perDay*float64(days)) * r.carries(start.On)
	}
	c.first = max(c.before.Amount, e.qty)
	return c
}

// sum is what the first n entries of the cycle come to.
func (c *cycle) sum(n int) float64 {
	if n == 0 {
		return 0
	}
	return c.first + c.of.sums[c.from+n].Since(c.of.sums[c.from+1])
}

func (c *cycle) len() int { return c.to - c.from }

// used is what the cycle has used by its last entry.
func (c *cycle) used() float64 { return c.sum(c.len()) }

// reached is the date on which the cycle came to an amount, if it did. Where what an entry stands for was used up over
// the days before it, it is one of those days.
func (c *cycle) reached(amount float64) (model.Date, bool) {
	n := sort.Search(c.len(), func(i int) bool { return c.sum(i+1) >= least(amount) })
	if n == c.len() {
		return 0, false
	}
	e := &c.of.entries[c.from+n]
	if !c.of.meter && !e.silent && !(c.from+n == 0 && c.before.Amount > 0) {
		return e.On, true
	}
	since := c.of.last(c.from+n, c.start.On)
	gap := e.On.Sub(since)
	if gap == 0 {
		return e.On, true
	}
	before, after := c.sum(n), c.sum(n+1)
	days := ceil(float64(gap) * (amount - before) / (after - before))
	return since.AddDays(min(gap, max(1, days))), true
}

// silences are the silences that are counted on in the cycle.
func (c *cycle) silences() []Silence {
	var out []Silence
	for i := c.from; i < c.to; i++ {
		e := &c.of.entries[i]
		if !e.silent {
			continue
		}
		last := &c.of.entries[i-1]
		added := e.added
		if i == c.from {
			added = c.first - e.qty
		}
		out = append(out, Silence{Since: last.On, Until: e.On, PerDay: last.rate.perDay, Amount: added})
	}
	return out
}

// Silence is a stretch in which nothing was logged and use was counted on.
type Silence struct {
	Since  model.Date // the last entry before it
	Until  model.Date // the entry that ended it; no date while it lasts
	PerDay float64    // in the clock's unit
	Amount float64    // counted on, in the clock's unit; of one that lasts, up to the date asked about
}

package model

import (
	"math"
	"sort"
)

// Tally is what was counted, in order of time, with its running sum, so that the sum over any cycle and the date at
// which it reached an amount are found without walking the log. It is never changed; the nil Tally has counted nothing.
type Tally struct {
	past    tallyPast
	amounts []Amount
	sums    []pair // sums[i] is the sum of the first i amounts
}

// pair is a sum and what rounding took from it (Neumaier 1974), so that a small cycle late in a long log is summed
// as exactly as on its own.
type pair struct{ sum, rest float64 }

func (p pair) plus(v float64) pair {
	t := p.sum + v
	if math.Abs(p.sum) >= math.Abs(v) {
		return pair{t, p.rest + ((p.sum - t) + v)}
	}
	return pair{t, p.rest + ((v - t) + p.sum)}
}

func (p pair) minus(q pair) float64 { return (p.sum - q.sum) + (p.rest - q.rest) }

func newTally(before tallyPast, amounts []Amount) *Tally {
	t := &Tally{past: before, amounts: amounts, sums: make([]pair, len(amounts)+1)}
	for i, a := range amounts {
		t.sums[i+1] = t.sums[i].plus(a.Qty)
	}
	return t
}

// Tally is what a counter counted, in its unit.
func (b *Book) Tally(counter ID) *Tally {
	return b.tallies[counter].made()
}

// Amounts are the single amounts, in order of time.
func (t *Tally) Amounts() []Amount {
	if t == nil {
		return nil
	}
	return t.amounts
}

// Opened is the date of the amount that opened the record; ok is false when nothing was counted up to a date.
func (t *Tally) Opened(on Date) (d Date, ok bool) {
	switch {
	case t == nil:
	case t.past.n > 0:
		return t.past.first, true
	case len(t.amounts) > 0 && t.amounts[0].On <= on:
		return t.amounts[0].On, true
	}
	return 0, false
}

// Since are the amounts dated not after on, save the one that opened the record. Those that a brief book doesn't hold
// stand as one, the first, that counts for the present rate as much as they do.
func (t *Tally) Since(on Date) []Amount {
	amounts := t.UpTo(on)
	switch {
	case t != nil && t.past.n > 0:
		return append([]Amount{{On: t.past.at, Qty: t.past.faded}}, amounts...)
	case len(amounts) > 0:
		return amounts[1:]
	}
	return nil
}

// UpTo are the amounts dated not after on.
func (t *Tally) UpTo(on Date) []Amount {
	return upTo(t.Amounts(), markOfAmount, EndOf(on))
}

// Between is the sum of what stands after one place and before another.
func (t *Tally) Between(after, end Mark) float64 {
	from, to := t.span(after, end)
	if to <= from {
		return 0
	}
	return t.sums[to].minus(t.sums[from])
}

// Reached is the date of the amount, among those after one place and before another, with which their running sum
// first came to at least the given one.
func (t *Tally) Reached(after, end Mark, amount float64) (Date, bool) {
	from, to := t.span(after, end)
	n := sort.Search(to-from, func(i int) bool {
		return t.sums[from+i+1].minus(t.sums[from]) >= amount
	})
	if n >= to-from {
		return 0, false
	}
	return t.amounts[from+n].On, true
}

// span is the half-open range of amounts after one place and before another.
func (t *Tally) span(after, end Mark) (from, to int) {
	amounts := t.Amounts()
	to = len(upTo(amounts, markOfAmount, end))
	from = sort.Search(to, func(i int) bool { return after.Before(markOfAmount(&amounts[i])) })
	return from, to
}

func markOfAmount(a *Amount) Mark { return Mark{a.On, a.Seq} }

// Shelf is the stock of every spare at the end of a date, as OnHand has it, in one pass over the log.
func (b *Book) Shelf(on Date) map[ID]float64 {
	out := make(map[ID]float64, len(b.spares.order))
	for _, id := range b.spares.order {
		out[id] = b.past.stock[id].sum
		for _, s := range b.stocks.of(id) {
			if s.On <= on {
				out[id] += s.What.Change
			}
		}
	}
	for _, id := range b.chores.order {
		if past := b.past.chores[id]; past != nil {
			for spare, used := range past.used {
				out[spare] -= used
			}
		}
		for _, t := range b.TicksUpTo(id, on) {
			for _, use := range t.Uses {
				out[use.Spare] -= use.Quantity
			}
		}
	}
	return out
}

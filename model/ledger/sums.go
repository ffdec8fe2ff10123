package ledger

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"sync"

	"brine/wrasse/model"
)

// Tally is what was counted, in order of time, with its running sum, so that the sum over any cycle and the date at
// which it reached an amount are found without walking the log. It is never changed; the nil Tally has counted nothing.
type Tally struct {
	amounts []Amount
	sums    []Sum // sums[i] is the sum of the first i amounts
}

// Sum is a running sum and what rounding took from it (Neumaier 1974), so that a small cycle late in a long log is summed
// as exactly as on its own. The zero value is ready.
type Sum struct{ sum, rest float64 }

// Plus is the sum with one more value.
func (s Sum) Plus(v float64) Sum {
	t := s.sum + v
	if math.Abs(s.sum) >= math.Abs(v) {
		return Sum{t, s.rest + ((s.sum - t) + v)}
	}
	return Sum{t, s.rest + ((v - t) + s.sum)}
}

// Since is what was added since an earlier sum.
func (s Sum) Since(o Sum) float64 { return (s.sum - o.sum) + (s.rest - o.rest) }

func newTally(amounts []Amount) *Tally {
	t := &Tally{amounts: amounts, sums: make([]Sum, len(amounts)+1)}
	for i, a := range amounts {
		t.sums[i+1] = t.sums[i].Plus(a.Qty)
	}
	return t
}

// Tally is what a counter counted, in its unit; nil when that is nothing. It is counted when it is first asked for, in
// O(its amounts).
func (b *Book) Tally(counter model.ID) *Tally {
	if t := b.tallies[counter]; t != nil {
		return t()
	}
	return nil
}

// count counts what a counter counted, by its usage entries and resets.
func (b *Book) count(counter model.ID) (*Tally, error) {
	usages, resets := b.usages.of(counter), b.resets.of(counter)
	amounts := make([]Amount, len(usages))
	var last *float64 // the meter value before, nil at the start and after a reset
	r := 0
	for i := range usages {
		u := &usages[i]
		for r < len(resets) && resets[r].Mark().Before(u.Mark()) {
			last, r = nil, r+1
		}
		qty := 0.0
		switch {
		case u.What.Amount != nil:
			qty = *u.What.Amount
		case last != nil && *u.What.Meter < *last:
			return nil, &EntryError{u.Seq, model.Wrong("meter", *u.What.Meter, "%.10g or more, as it stood before; wrasse use --reset logs a meter that was set back", *last)}
		case last != nil:
			qty = *u.What.Meter - *last
		}
		last = u.What.Meter
		amounts[i] = Amount{u.On, u.Seq, qty}
	}
	return newTally(amounts), nil
}

// counts is the tally of a counter whose entries a book has accepted, counted when it is asked for.
func (b *Book) counts(counter model.ID) func() *Tally {
	return sync.OnceValue(func() *Tally {
		t, err := b.count(counter)
		if err != nil {
			panic(fmt.Sprintf("model: the amounts of counter %s can't be told: %v", counter, err))
		}
		return t
	})
}

// Amounts are the single amounts, in order of time.
func (t *Tally) Amounts() []Amount {
	if t == nil {
		return nil
	}
	return t.amounts
}

// Opened is the date of the amount that opened the record; ok is false when nothing was counted up to a date.
func (t *Tally) Opened(on model.Date) (d model.Date, ok bool) {
	switch {
	case t == nil:
	case len(t.amounts) > 0 && t.amounts[0].On <= on:
		return t.amounts[0].On, true
	}
	return 0, false
}

// UpTo are the amounts dated not after on.
func (t *Tally) UpTo(on model.Date) []Amount { return t.Before(model.EndOf(on)) }

// Before are the amounts before a place.
func (t *Tally) Before(end model.Mark) []Amount { return upTo(t.Amounts(), markOfAmount, end) }

// Between is the sum of what stands after one place and before another.
func (t *Tally) Between(after, end model.Mark) float64 {
	from, to := t.span(after, end)
	if to <= from {
		return 0
	}
	return t.sums[to].Since(t.sums[from])
}

// span is the half-open range of amounts after one place and before another.
func (t *Tally) span(after, end model.Mark) (from, to int) {
	amounts := t.Amounts()
	to = len(upTo(amounts, markOfAmount, end))
	from = sort.Search(to, func(i int) bool { return after.Before(markOfAmount(&amounts[i])) })
	return from, to
}

func markOfAmount(a *Amount) model.Mark { return model.Mark{On: a.On, Seq: a.Seq} }

// Shelf is the stock of every spare that was counted by the end of a date: its changes from the first count on, less what
// ticks and repairs took since. O(ticks and changes of stock).
func (b *Book) Shelf(on model.Date) map[model.ID]float64 {
	out := make(map[model.ID]float64, len(b.spares.order))
	counted := make(map[model.ID]model.Mark, len(b.spares.order))
	for _, id := range b.spares.order {
		since, ok := b.counted(id)
		if !ok || since.On > on {
			continue
		}
		counted[id], out[id] = since, 0
		for _, s := range b.stocks.of(id) {
			if s.On <= on && !s.Mark().Before(since) {
				out[id] += s.What.Change
			}
		}
	}
	take := func(uses []model.SpareUse, at model.Mark) {
		for _, use := range uses {
			if since, ok := counted[use.Spare]; ok && since.Before(at) {
				out[use.Spare] -= use.Quantity
			}
		}
	}
	for _, id := range b.chores.order {
		for _, t := range b.TicksUpTo(id, on) {
			take(t.Uses, t.Mark())
		}
	}
	for _, r := range b.repairs.of("") {
		if r.On <= on {
			take(r.What.Uses, r.Mark())
		}
	}
	return out
}

// LastMeter is the value that a running meter showed at the end of a date. It is not known where none was logged yet, and
// after a reset or an amount: the next value then only opens the record again. O(n) in the counter's entries after the date.
func (b *Book) LastMeter(counter model.ID, on model.Date) (value float64, known bool) {
	for _, u := range slices.Backward(b.Usages(counter)) {
		if u.On > on {
			continue
		}
		if u.What.Meter == nil {
			return 0, false
		}
		for _, r := range b.resets.of(counter) {
			if u.Mark().Before(r.Mark()) && r.On <= on {
				return 0, false
			}
		}
		return *u.What.Meter, true
	}
	return 0, false
}

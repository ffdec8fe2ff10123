package model

import (
	"fmt"
	"iter"
	"slices"
	"sync"
)

// count is what a counter counted. In a book opened from records it is made when it is first asked for.
type count struct {
	tally *Tally

	once sync.Once
	of   counting // what tally is made from
}

// counting is what a counter's amounts are made from: its usage entries and resets.
type counting struct {
	counter ID // "" when the tally is there already
	usages  *run[Logged[Usage]]
	resets  *run[Logged[MeterReset]]
	before  tallyPast
	dropped Mark // the last usage that is not held
}

func (b *Book) counting(id ID) counting {
	return counting{id, b.usages[id], b.resets[id], b.past.counted[Counting{Counter: id}], b.past.dropped[list{KindUsage, id}].last}
}

func (c *count) made() *Tally {
	switch {
	case c == nil:
		return nil
	case c.of.counter != "":
		var err error
		c.once.Do(func() { c.tally, err = c.of.make() })
		if c.tally == nil {
			c.of.refused(err)
		}
	}
	return c.tally
}

// refused is for amounts that can't be told from records: they were told when they were written, so that this is a fault
// of the program.
func (c counting) refused(err error) {
	panic(fmt.Sprintf("model: the amounts of counter %s can't be told: %v", c.counter, err))
}

// count counts anew what a counter counted.
func (f *folder) count(id ID) error {
	t, err := f.book.counting(id).make()
	f.book.tallies[id] = &count{tally: t}
	return err
}

func (c counting) make() (*Tally, error) {
	out := make([]Amount, 0, c.usages.len())
	for a, err := range c.amounts() {
		if err != nil {
			return nil, err
		}
		out = append(out, a)
	}
	return newTally(c.before, out), nil
}

// amounts gives the amounts in order of time. An error is the last it gives.
func (c counting) amounts() iter.Seq2[Amount, error] {
	return func(yield func(Amount, error) bool) {
		resets := c.resets.all()
		last := c.before.meter // the meter value before, nil at the start and after a reset
		r := len(upTo(resets, markOf, c.dropped))
		for u := range c.usages.each(markOf, Mark{}, EndOf(LastDate)) {
			for r < len(resets) && resets[r].before(&u.Happening) {
				last, r = nil, r+1
			}
			qty := 0.0
			switch {
			case u.What.Amount != nil:
				qty = *u.What.Amount
			case last != nil && *u.What.Meter < *last:
				yield(Amount{}, &EntryError{u.Seq, wrong("meter", *u.What.Meter,
					"a value not below the %.10g before it, or a meter-reset between", *last)})
				return
			case last != nil:
				qty = *u.What.Meter - *last
			}
			if last = u.What.Meter; !yield(Amount{u.On, u.Seq, qty}, nil) {
				return
			}
		}
	}
}

// LastMeter is the value that a running meter showed at the end of a date. It is not known where none was logged yet, and
// after a reset or an amount: the next value then only opens the record again.
func (b *Book) LastMeter(counter ID, on Date) (value float64, known bool) {
	at, meter := b.past.dropped[list{KindUsage, counter}].last, b.past.counted[Counting{Counter: counter}].meter
	for u := range b.usages[counter].latest(markOf, EndOf(on)) {
		at, meter = u.Mark(), u.What.Meter
		break
	}
	for _, r := range b.resets.of(counter) {
		if at.Before(r.Mark()) && r.On <= on {
			meter = nil
		}
	}
	if meter == nil {
		return 0, false
	}
	return *meter, true
}

// EachAmount gives what a counter counted, in order of time, without holding the tally of a long book.
func (b *Book) EachAmount(counter ID) iter.Seq[Amount] {
	if !b.usages[counter].long() {
		return slices.Values(b.Amounts(counter))
	}
	return func(yield func(Amount) bool) {
		for a, err := range b.counting(counter).amounts() {
			if err != nil {
				b.counting(counter).refused(err)
			}
			if !yield(a) {
				return
			}
		}
	}
}

// TallySince is what a counter counted after a place.
func (b *Book) TallySince(counter ID, after Mark) *Tally {
	var kept []Amount
	for a := range b.EachAmount(counter) {
		if after.Before(markOfAmount(&a)) {
			kept = append(kept, a)
		}
	}
	return newTally(tallyPast{}, kept)
}

// CountedBetween is what a counter counted after one place and before another: what its tally says, without holding the
// tally of a long book.
func (b *Book) CountedBetween(counter ID, after, end Mark) float64 {
	if !b.usages[counter].long() {
		return b.Tally(counter).Between(after, end)
	}
	sum := pair{}
	for a := range b.EachAmount(counter) {
		if m := markOfAmount(&a); after.Before(m) && m.Before(end) {
			sum = sum.plus(a.Qty)
		}
	}
	return sum.minus(pair{})
}

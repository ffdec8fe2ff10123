package ledger

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"sync"

	"brine/wrasse/model"
)

// corrections are the amends of a log and what they come to: a book answers by them how an entry reads. They are settled
// when they are first asked, in O(amends); nil has none.
type corrections struct {
	amends *list[Logged[model.Amend]]

	once   sync.Once
	on     map[model.Seq][]model.Amend // the amends that stand, by the entry they change, latest first; none by an amend
	struck map[model.Seq]bool          // amends that are struck
	err    error
}

// settle takes the amends in from the last to the first: an amend can only be amended by a later one, so that every amend
// is settled before its target is reached.
func (c *corrections) settle() error {
	c.once.Do(func() {
		c.on, c.struck = map[model.Seq][]model.Amend{}, map[model.Seq]bool{}
		amends := slices.Clone(c.amends.all())
		slices.SortFunc(amends, func(a, b Logged[model.Amend]) int { return int(b.Seq) - int(a.Seq) })
		for _, a := range amends {
			e := &model.Entry{Header: model.Header{Seq: a.Seq, On: a.On, Kind: model.KindAmend, By: a.By}, Body: a.What}
			reads, struck, err := amendedBy(e, c.on[a.Seq])
			delete(c.on, a.Seq)
			if err != nil {
				c.err = &EntryError{a.Seq, fmt.Errorf("as amended: %w", err)}
				return
			}
			if struck {
				c.struck[a.Seq] = true
				continue
			}
			what := reads.Body.(model.Amend)
			if what.Entry >= a.Seq {
				c.err = &EntryError{a.Seq, model.Wrong("entry", what.Entry, "the seq of an earlier entry")}
				return
			}
			c.on[what.Entry] = append(c.on[what.Entry], what)
		}
	})
	return c.err
}

// reads is how an entry reads: nil when it is struck, and for an amend.
func (c *corrections) reads(e *model.Entry) (*model.Entry, error) {
	if c == nil {
		return e, nil
	}
	if err := c.settle(); err != nil {
		return nil, err
	}
	reads, _, err := amendedBy(e, c.on[e.Seq])
	if err != nil {
		return nil, &EntryError{e.Seq, fmt.Errorf("as amended: %w", err)}
	}
	if _, amend := e.Body.(model.Amend); amend {
		return nil, nil
	}
	return reads, nil
}

// of are the amends that stand on an entry, and whether it is struck.
func (c *corrections) of(seq model.Seq) (on []model.Amend, struck bool) {
	if c == nil || c.settle() != nil {
		return nil, false
	}
	on = c.on[seq]
	return on, c.struck[seq] || strikes(on)
}

// changed are the entries that other corrections of the same log make to read differently, or may make to, in order.
func (c *corrections) changed(o *corrections) []model.Seq {
	out := map[model.Seq]bool{}
	for _, pair := range [][2]map[model.Seq][]model.Amend{{c.standing(), o.standing()}, {o.standing(), c.standing()}} {
		for seq, on := range pair[0] {
			if !reflect.DeepEqual(on, pair[1][seq]) {
				out[seq] = true
			}
		}
	}
	for _, pair := range [][2]map[model.Seq]bool{{c.strikes(), o.strikes()}, {o.strikes(), c.strikes()}} {
		for seq := range pair[0] {
			if !pair[1][seq] {
				out[seq] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(out))
}

func (c *corrections) standing() map[model.Seq][]model.Amend {
	if c == nil || c.settle() != nil {
		return nil
	}
	return c.on
}

func (c *corrections) strikes() map[model.Seq]bool {
	if c == nil || c.settle() != nil {
		return nil
	}
	return c.struck
}

// amendedBy is an entry with the amends that stand on it, latest first; nil when one strikes it.
func amendedBy(e *model.Entry, on []model.Amend) (reads *model.Entry, struck bool, err error) {
	switch {
	case len(on) == 0:
		return e, false, nil
	case strikes(on):
		return nil, true, nil
	}
	withs := make([]model.Fields, 0, len(on))
	for _, a := range slices.Backward(on) {
		withs = append(withs, a.With)
	}
	reads, err = model.Amended(e, withs)
	return reads, false, err
}

func strikes(on []model.Amend) bool {
	return slices.ContainsFunc(on, func(a model.Amend) bool { return a.Strike })
}

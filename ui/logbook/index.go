package logbook

import (
	"errors"
	"maps"
	"reflect"
	"slices"

	"brine/wrasse/model"
)

// index is what is known of the log of a book: in what order its entries are shown,
// which are struck, and what amends what. It is built from the newest entry to the
// oldest, a stretch at a time, and never changed: a step makes another one of it. What
// an entry says is not in it.
type index struct {
	book  *model.Book
	floor model.Seq   // the oldest entry that is known
	top   model.Seq   // the newest
	bare  []model.Seq // known but for their date, which is that of one still unread

	rows   order              // by date and seq
	struck order              // by seq
	amends order              // by the entry that is amended, then by the amend
	meters map[model.ID]order // what running meters showed, and when they were set back: like rows

	newest *model.Entry // as it was written
	aimed  bool         // some amend was made to amend another entry
	stride model.Seq    // how many entries a step takes in
}

func newIndex(b *model.Book, stride model.Seq) *index {
	return &index{book: b, floor: b.Last() + 1, top: b.Last(), stride: stride}
}

// on is the index for a later book: what is known of the log stands where it is the same
// one. Whether it is, the next step makes sure.
func (x *index) on(b *model.Book) *index {
	if x.top == 0 || x.top > b.Last() || !b.Continues(x.book) {
		return nil
	}
	next := *x
	next.book = b
	return &next
}

// whole tells whether all of the log is known as far as it has been written.
func (x *index) whole() bool { return x.floor == 1 }

func (x *index) complete() bool { return x.whole() && x.top == x.book.Last() }

// step is what another stretch of the log made of an index.
type step struct {
	of, made  *index
	in, out   []key // rows that came in and went; one that reads otherwise is in both
	redefined bool  // a thing may have another name
}

// errAnew is why an index has to be built anew: what was written can't be told from what
// is known.
var errAnew = errors.New("the log has to be put in order anew")

// How many entries are read in one step: of the first, so that the newest are there at
// once, and of the others, so that they take little memory and hold up no act.
const (
	firstStretch = 512
	stretch      = 2048
)

// next takes in another stretch: what was written since, and then what is older than
// all that is known.
func (x *index) next() (step, error) {
	if x.top < x.book.Last() {
		return x.newer()
	}
	return x.older()
}

// older takes in entries older than those that are known.
func (x *index) older() (step, error) {
	n := x.stride
	if x.rows.n == 0 {
		n = min(n, firstStretch)
	}
	to := x.floor - 1
	from := max(to, n) - n + 1
	c, err := x.changed(from, to)
	if err != nil {
		return step{}, err
	}
	if x.top == to {
		newest, err := c.read.entry(to)
		if err != nil {
			return step{}, err
		}
		c.made.newest = new(*newest)
	}
	c.made.floor = from
	if c.made.bare, err = c.takeIn(from, to, x.bare); err != nil {
		return step{}, err
	}
	return c.step(), nil
}

// newer takes in entries that were written since.
func (x *index) newer() (step, error) {
	from := x.top + 1
	to, err := x.endOfAct(min(x.top+x.stride, x.book.Last()))
	if err != nil {
		return step{}, err
	}
	c, err := x.changed(max(x.top, 1), to)
	if err != nil {
		return step{}, err
	}
	if x.newest != nil {
		if e, err := c.read.entry(x.top); err != nil || !reflect.DeepEqual(e, x.newest) {
			return step{}, errors.Join(errAnew, err)
		}
	}
	if err := c.amended(from, to); err != nil {
		return step{}, err
	}
	bare, err := c.takeIn(from, to, nil)
	if err != nil {
		return step{}, err
	}
	if len(bare) > 0 { // of no date of their own
		return step{}, errAnew
	}
	newest, err := c.read.entry(to)
	if err != nil {
		return step{}, err
	}
	c.made.newest, c.made.top = new(*newest), to
	return c.step(), nil
}

// endOfAct is the last entry of the act that an entry is of. A log holds together at the end of an act: within one an
// amend may say what a later amend of it takes back.
func (x *index) endOfAct(seq model.Seq) (model.Seq, error) {
	if seq == x.book.Last() {
		return seq, nil
	}
	act, err := x.book.Act(seq)
	if err != nil || len(act) == 0 {
		return seq, err
	}
	return act[len(act)-1].Seq, nil
}

// change is a step being made.
type change struct {
	of, made *index
	read     *reader // with the amends of the stretch
	redefine bool

	rows, struck changes
	meters       map[model.ID]*changes
}

type changes struct{ in, out []key }

// changed begins a step that takes in a stretch.
func (x *index) changed(from, to model.Seq) (*change, error) {
	made := *x
	c := &change{of: x, made: &made, meters: map[model.ID]*changes{}}
	c.read = &reader{book: x.book}
	if err := c.read.stretch(from, to); err != nil {
		return nil, err
	}
	var amends []key
	for _, e := range c.read.runs[0].entries {
		if a, ok := e.Body.(model.Amend); ok {
			amends = append(amends, pair(uint32(a.Entry), uint32(e.Seq)))
			made.aimed = made.aimed || aims(a)
		}
	}
	made.amends = x.amends.with(amends, nil)
	c.read.amends = made.amends
	return c, nil
}

// aims tells whether an amend makes another one amend another entry.
func aims(a model.Amend) bool {
	return slices.ContainsFunc(members(a.With), func(s scalar) bool { return s.name == "entry" })
}

// step ends the step.
func (c *change) step() step {
	m := c.made
	m.rows, m.struck = m.rows.with(c.rows.in, c.rows.out), m.struck.with(c.struck.in, c.struck.out)
	if len(c.meters) > 0 {
		m.meters = maps.Clone(m.meters)
		if m.meters == nil {
			m.meters = map[model.ID]order{}
		}
		for id, of := range c.meters {
			m.meters[id] = m.meters[id].with(of.in, of.out)
		}
	}
	return step{c.of, m, c.rows.in, c.rows.out, c.redefine}
}

// takeIn takes in the entries of a stretch, from the last to the first. An entry without
// a date stands under that of the one before it; bare are those that still wait for it.
func (c *change) takeIn(from, to model.Seq, bare []model.Seq) ([]model.Seq, error) {
	bare = slices.Clone(bare)
	for seq := to; seq >= from; seq-- {
		g, err := c.read.reading(seq)
		if err != nil {
			return nil, err
		}
		if g.changes != 0 && g.changes != g.written.Body.(model.Amend).Entry {
			c.made.amends = c.made.amends.with([]key{pair(uint32(g.changes), uint32(seq))}, nil)
			c.read.amends = c.made.amends
		}
		if g.struck {
			c.struck.in = append(c.struck.in, key(seq))
		}
		c.metered(g, func(m *changes, k key) { m.in = append(m.in, k) })
		c.redefine = c.redefine || defines(g.written)
		bare = append(bare, seq)
		if d := dated(g.shown()); !d.IsZero() || seq == 1 {
			for _, of := range bare {
				c.rows.in = append(c.rows.in, rowKey(d, of))
			}
			bare = bare[:0]
		}
	}
	return bare, nil
}

// amended takes in what the amends of new entries make of older ones.
func (c *change) amended(from, to model.Seq) error {
	touched, err := c.touched(from, to)
	if err != nil {
		return err
	}
	if slices.ContainsFunc(c.read.runs[0].entries, func(e *model.Entry) bool {
		a, ok := e.Body.(model.Amend)
		return ok && e.Seq >= from && aims(a)
	}) || c.made.aimed && len(touched) > 0 { // the amend that is aimed may be as new, and what it changes now as old as any
		return errAnew
	}
	for _, seq := range touched {
		was, err := c.read.settled(seq, c.of.amends)
		if err != nil {
			return err
		}
		is, err := c.read.reading(seq)
		if err != nil {
			return err
		}
		if err := c.moved(seq, dated(was.shown()), dated(is.shown())); err != nil {
			return err
		}
		switch {
		case is.struck && !was.struck:
			c.struck.in = append(c.struck.in, key(seq))
		case was.struck && !is.struck:
			c.struck.out = append(c.struck.out, key(seq))
		}
		c.metered(was, func(m *changes, k key) { m.out = append(m.out, k) })
		c.metered(is, func(m *changes, k key) { m.in = append(m.in, k) })
		c.redefine = c.redefine || defines(is.written)
	}
	return nil
}

// touched are the known entries that read otherwise, or may, because of new amends: those
// they are of, and those that these amend.
func (c *change) touched(from, to model.Seq) ([]model.Seq, error) {
	var out []model.Seq
	for seq := from; seq <= to; seq++ {
		for at := seq; ; {
			e, err := c.read.entry(at)
			if err != nil {
				return nil, err
			}
			a, ok := e.Body.(model.Amend)
			if !ok {
				break
			}
			if at = a.Entry; at < from && at >= c.of.floor && !slices.Contains(out, at) {
				out = append(out, at)
			}
		}
	}
	return out, nil
}

// moved takes in that an entry has another date, or reads otherwise under the same.
func (c *change) moved(seq model.Seq, was, is model.Date) error {
	if was.IsZero() || is.IsZero() {
		return errAnew
	}
	if was != is && seq < c.of.top {
		next, err := c.read.reading(seq + 1)
		if err != nil {
			return err
		}
		if dated(next.shown()).IsZero() { // it stands under the same
			return errAnew
		}
	}
	c.rows.out = append(c.rows.out, rowKey(was, seq))
	c.rows.in = append(c.rows.in, rowKey(is, seq))
	return nil
}

// metered tells of an entry that counts where a running meter stood, or was set back.
func (c *change) metered(g reading, tell func(*changes, key)) {
	if g.reads == nil {
		return
	}
	var counter model.ID
	switch w := g.reads.Body.(type) {
	case model.Usage:
		if w.Meter != nil {
			counter = w.Counter
		}
	case model.MeterReset:
		counter = w.Counter
	}
	if counter == "" {
		return
	}
	if c.meters[counter] == nil {
		c.meters[counter] = &changes{}
	}
	tell(c.meters[counter], rowKey(g.reads.On, g.reads.Seq))
}

// defines tells whether an entry may have given a thing another name.
func defines(e *model.Entry) bool {
	switch e.Body.(type) {
	case model.Place, model.Component, model.Counter, model.Gauge, model.Spare, model.Chore, model.BookDef:
		return true
	}
	return false
}

// dated is the day an entry stands under: its own or, of a definition that gives none,
// the day it was written; no date when that isn't known.
func dated(e *model.Entry) model.Date {
	if !e.On.IsZero() {
		return e.On
	}
	return e.Written()
}

// shows tells whether there is a row of an entry.
func (x *index) shows(seq model.Seq) bool {
	return seq >= x.floor+model.Seq(len(x.bare)) && seq <= x.top && seq > 0
}

// find is the row of an entry, whatever its date; ok is false when there is none.
func (x *index) find(seq model.Seq) (k key, ok bool) {
	if !x.shows(seq) {
		return 0, false
	}
	for _, b := range x.rows.blocks {
		for _, k := range b {
			if k.seq() == seq {
				return k, true
			}
		}
	}
	return 0, false
}

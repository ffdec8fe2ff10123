package model

import (
	"errors"
	"fmt"
	"maps"
	"strings"
)

// Records is where a book is kept folded: values under keys, in order of keys.
type Records interface {
	// Get is the value under a key, nil when there is none. The caller may keep it.
	Get(key string) ([]byte, error)
	// Scan gives the values from one key up to, and without, another.
	Scan(from, to string, each func(key string, value []byte) error) error
}

// Hold says how much of a book is to be held. The zero Hold is a brief book's.
type Hold struct {
	all   bool
	whole things
}

// HoldAll is that of a wide book: all events of all things.
var HoldAll = Hold{all: true}

// With is the Hold of a book that can also answer what another one refused with an ErrPast.
func (h Hold) With(refused error) Hold {
	var past *errPast
	if !errors.As(refused, &past) {
		return HoldAll
	}
	out := Hold{h.all, things{}}
	maps.Copy(out.whole, h.whole)
	maps.Copy(out.whole, past.whole)
	return out
}

func (h Hold) wholly(t thing) bool { return h.all || h.whole[t] }

// Open is the book that is kept folded in records, of a log whose last entry has the given seq. What it doesn't hold of
// the log it asks of the source, later.
func Open(r Records, last Seq, source Source, hold Hold) (*Book, error) {
	b := new(Book).clone()
	b.cloneDefinitions()
	b.base, b.source = last, source
	b.past = past{}.clone()
	o := opener{r: r, book: b, hold: hold}
	if err := o.definitions(); err != nil {
		return nil, err
	}
	if err := o.states(); err != nil {
		return nil, err
	}
	f := folder{book: b}
	for _, id := range b.counters.order {
		if len(b.usages[id]) == 0 && b.past.dropped[list{KindUsage, id}].n == 0 {
			continue
		}
		if err := f.count(id); err != nil {
			return nil, err
		}
	}
	if b.whole = hold.whole; hold.all {
		b.whole = b.allThings()
	}
	if b.past.brief = !hold.all; b.past.brief {
		b.past.floor = b.lowest()
	}
	return b, nil
}

// opener reads a book from records.
type opener struct {
	r    Records
	book *Book
	hold Hold
}

// after is the key behind all that begin with a prefix.
func after(prefix string) string { return prefix + "\xff" }

func (o *opener) definitions() error {
	return o.r.Scan("def/", after("def/"), func(key string, value []byte) error {
		u := unpacker{data: value}
		seqs := make([]Seq, u.count(1, "more seqs than the bytes can hold"))
		before := Seq(0)
		for i := range seqs {
			seqs[i] = before + Seq(u.uint())
			before = seqs[i]
		}
		line := u.text()
		if line != "" {
			e, err := DecodeTrusted([]byte(line))
			if err != nil {
				return fmt.Errorf("record %s: %w", key, err)
			}
			o.define(e.Body, seqs)
		}
		if strings.HasPrefix(key, "def/component/") {
			o.versions(&u, seqs)
		}
		return u.end(key)
	})
}

// versions reads how each of its definitions graded the component that was defined last.
func (o *opener) versions(u *unpacker, seqs []Seq) {
	order := o.book.components.order
	if len(order) == 0 {
		u.fail("versions of no component")
		return
	}
	id := order[len(order)-1]
	for _, s := range seqs {
		v := Version{Seq: s, InService: u.inRange(u.int()), reach: u.whole(), accessMinutes: u.whole()}
		o.book.versions[id] = append(o.book.versions[id], v)
	}
}

func (o *opener) define(body Body, seqs []Seq) {
	b := o.book
	switch d := body.(type) {
	case BookDef:
		b.def = d
	case Place:
		b.places.load(d.ID, d, seqs)
	case Component:
		b.components.load(d.ID, d, seqs)
	case Counter:
		b.counters.load(d.ID, d, seqs)
	case Gauge:
		b.gauges.load(d.ID, d, seqs)
	case Spare:
		b.spares.load(d.ID, d, seqs)
	case Chore:
		b.chores.load(d.ID, d, seqs)
	}
}

func (o *opener) states() error {
	missing := o.book.allThings()
	err := o.r.Scan("now/", after("now/"), func(key string, value []byte) error {
		kind, id, _ := strings.Cut(strings.TrimPrefix(key, "now/"), "/")
		t := thing{Kind(kind), ID(id)}
		if !missing[t] {
			return fmt.Errorf("record %s is of nothing that is defined", key)
		}
		delete(missing, t)
		return o.state(key, t, value)
	})
	for t := range missing {
		if err == nil {
			err = fmt.Errorf("record %s is missing", stateKey(t))
		}
	}
	return err
}

func (o *opener) state(key string, t thing, value []byte) error {
	b, u, whole := o.book, &unpacker{data: value}, o.hold.wholly(t)
	switch t.kind {
	case KindChore:
		if err := o.chore(u, t.id, whole); err != nil {
			return err
		}
	case KindCounter:
		for range u.count(1, "more sums than the bytes can hold") {
			of, p := u.counted(t.id)
			if !whole && p != (tallyPast{}) {
				b.past.counted[of] = p
			}
		}
	case KindSpare:
		s := stockPast{u.number(), u.byte() != 0}
		if !whole && s != (stockPast{}) {
			b.past.stock[t.id] = s
		}
	case KindBook:
		b.reordered = u.byte() != 0
	}
	var err error
	b.eachList(t, func(k *listKind, l list) {
		if err == nil {
			err = o.latest(u, k, l, whole)
		}
	})
	if err != nil {
		return fmt.Errorf("record %s: %w", key, err)
	}
	return u.end(key)
}

// latest reads the events of a list that are to be held.
func (o *opener) latest(u *unpacker, k *listKind, l list, whole bool) error {
	total, n, last, tail := int(u.uint()), int(u.uint()), u.mark(), u.text()
	if u.wrong != "" || n < 0 || n > total || n%chunkLen != 0 {
		return fmt.Errorf("an impossible number of events of kind %s", k.kind)
	}
	if whole {
		n, last = 0, Mark{}
	}
	if n > 0 {
		o.book.past.dropped[l] = dropped{n, last}
	}
	if n/chunkLen < total/chunkLen {
		err := o.r.Scan(chunkKey(l, n/chunkLen), chunkKey(l, total/chunkLen), func(_ string, value []byte) error {
			return k.unpack(o.book, l.id, value, total-n)
		})
		if err != nil {
			return err
		}
	}
	if err := k.unpack(o.book, l.id, []byte(tail), total-n); err != nil {
		return err
	}
	if got := k.size(o.book, l.id); got != total-n {
		return fmt.Errorf("%d events of kind %s instead of %d", got, k.kind, total-n)
	}
	return nil
}

func (o *opener) chore(u *unpacker, id ID, whole bool) error {
	c := chorePast{from: u.mark()}
	for i := range c.slips {
		c.slips[i].Ticks = int(u.uint())
		c.slips[i].Sum = u.number()
	}
	for range u.count(1, "more spares than the bytes can hold") {
		if c.used == nil {
			c.used = map[ID]float64{}
		}
		spare := ID(u.text())
		c.used[spare] = u.number()
	}
	chunks, l := int(u.uint()), &c.lessons
	l.tail = u.lessons(u.count(1, "more lessons than the bytes can hold"))
	for i := range l.kinds {
		l.kinds[i] = int(u.uint())
	}
	l.failures = u.lessons(u.count(1, "more lessons than the bytes can hold"))
	l.digest = LessonDigest{u.uint(), u.uint()}
	if u.wrong != "" {
		return nil // said at the end of the record
	}
	o.book.knows(id, chunks*chunkLen+len(l.tail))
	if whole {
		return nil
	}
	if chunks > 0 {
		err := o.r.Scan(lessonKey(id, 0), lessonKey(id, chunks), func(_ string, value []byte) error {
			l.packed = append(l.packed, value)
			return nil
		})
		if err != nil {
			return err
		}
	}
	if len(l.packed) != chunks {
		return fmt.Errorf("%d chunks of lessons instead of %d", len(l.packed), chunks)
	}
	if c.from != (Mark{}) || c.used != nil {
		o.book.past.chores[id] = &c
	}
	return nil
}

// keptAmends are the amends of an entry among those that the book doesn't hold.
func (b *Book) keptAmends(seq Seq) []Seq {
	value, err := b.source.Get(amendKey(seq))
	if err != nil || value == nil {
		return nil
	}
	u := &unpacker{data: value}
	var out []Seq
	for range u.count(1, "more seqs than the bytes can hold") {
		if s := Seq(u.uint()); s <= b.base {
			out = append(out, s)
		}
	}
	return out
}

// end is an error unless the bytes of a record were read to their end.
func (u *unpacker) end(key string) error {
	if u.wrong == "" && u.at != len(u.data) {
		u.fail("bytes after the end")
	}
	if u.wrong != "" {
		return fmt.Errorf("record %s: byte %d: %s", key, u.wrongAt, u.wrong)
	}
	return nil
}

func (u *unpacker) mark() Mark {
	on := u.int()
	return Mark{u.inRange(on), Seq(u.uint())}
}

func (u *unpacker) counted(counter ID) (Counting, tallyPast) {
	of := Counting{Counter: counter, Inlet: ID(u.text()), Outlet: ID(u.text())}
	p := tallyPast{n: int(u.uint()), first: u.inRange(u.int()), faded: u.number(), at: u.inRange(u.int())}
	if u.byte() != 0 {
		meter := u.number()
		p.meter = &meter
	}
	return of, p
}

func (u *unpacker) lessons(n int) []Lesson {
	if n > len(u.data)-u.at {
		u.fail(breaksOff)
		return nil
	}
	out := make([]Lesson, n)
	for i := range out {
		if out[i].Kind = LessonKind(u.byte()); out[i].Kind > LessonFailedAt {
			u.fail("a lesson that this program doesn't know")
		}
		if out[i].Kind != LessonNone {
			out[i].On = u.inRange(u.int())
			out[i].Age = u.number()
		}
	}
	return out
}

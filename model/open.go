package model

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
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
	o := opener{r: r, book: b, held: hold}
	if err := o.definitions(); err != nil {
		return nil, err
	}
	var defining error
	var aside sync.WaitGroup
	aside.Go(func() { defining = o.define() })
	err := o.states()
	if aside.Wait(); err != nil {
		return nil, err
	}
	if defining != nil {
		return nil, defining
	}
	for _, id := range b.counters.order {
		if b.usages[id].len() == 0 && b.past.dropped[list{KindUsage, id}].n == 0 {
			continue
		}
		b.tallies[id] = &count{of: b.counting(id)}
	}
	if b.whole = hold.whole; hold.all {
		b.whole = b.allThings()
	}
	if b.past.brief = !hold.all; b.past.brief {
		b.past.floor = b.lowest(b.loads())
	}
	return b, nil
}

// opener reads a book from records.
type opener struct {
	r    Records
	book *Book
	held Hold

	lines []packedLine
	lists []packedList
}

// packedLine is the latest definition of a thing, read and not yet decoded.
type packedLine struct {
	key  string
	of   thing
	line []byte
}

// packedList is the events of a list that are to be held.
type packedList struct {
	list   list
	tail   packedChunk // behind the last whole chunk
	events int
}

// after is the key behind all that begin with a prefix.
func after(prefix string) string { return prefix + "\xff" }

func (o *opener) definitions() error {
	return o.r.Scan("def/", after("def/"), func(key string, value []byte) error {
		u := unpacker{data: value}
		kind, _, _ := strings.Cut(strings.TrimPrefix(key, "def/"), "/")
		of := thing{Kind(kind), ID(u.text())}
		seqs := make([]Seq, u.count(1, "more seqs than the bytes can hold"))
		before := Seq(0)
		for i := range seqs {
			seqs[i] = before + Seq(u.uint())
			before = seqs[i]
		}
		o.lines = append(o.lines, packedLine{key, of, u.bytes()})
		b := o.book
		switch of.kind {
		case KindPlace:
			b.places.load(of.id, seqs)
		case KindComponent:
			b.components.load(of.id, seqs)
			for _, s := range seqs {
				v := Version{Seq: s, InService: u.inRange(u.int()), reach: u.whole(), accessMinutes: u.whole()}
				b.versions[of.id] = append(b.versions[of.id], v)
			}
		case KindCounter:
			b.counters.load(of.id, seqs)
		case KindGauge:
			b.gauges.load(of.id, seqs)
		case KindSpare:
			b.spares.load(of.id, seqs)
		case KindChore:
			b.chores.load(of.id, seqs)
		case KindBook:
		default:
			u.fail("a definition of a kind that this program doesn't know")
		}
		return u.end(key)
	})
}

// define decodes the definitions, while others are reading: of a household that takes as long as all they do.
func (o *opener) define() error {
	b := o.book
	for _, l := range o.lines {
		if l.of.kind == KindBook && len(l.line) == 0 {
			continue // no entry has defined the book yet
		}
		e, err := DecodeTrusted(l.line)
		if err == nil && e.Kind != l.of.kind {
			err = wrong("kind", e.Kind, "%s", l.of.kind)
		}
		if err != nil {
			return fmt.Errorf("record %s: %w", l.key, err)
		}
		switch d := e.Body.(type) {
		case BookDef:
			b.def = d
		case Place:
			b.places.byID[l.of.id] = d
		case Component:
			b.components.byID[l.of.id] = d
		case Counter:
			b.counters.byID[l.of.id] = d
		case Gauge:
			b.gauges.byID[l.of.id] = d
		case Spare:
			b.spares.byID[l.of.id] = d
		case Chore:
			b.chores.byID[l.of.id] = d
		}
	}
	return nil
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
	if err != nil {
		return err
	}
	slices.SortFunc(o.lists, func(a, b packedList) int { // as their chunks lie
		return cmp.Or(cmp.Compare(a.list.kind, b.list.kind), cmp.Compare(a.list.id, b.list.id))
	})
	for i := range o.lists {
		if err := o.hold(&o.lists[i]); err != nil {
			return err
		}
	}
	return nil
}

// hold reads the chunks of a list that are to be held. They stay packed.
func (o *opener) hold(l *packedList) error {
	from := o.book.past.dropped[l.list].n
	to := (from + l.events) / chunkLen * chunkLen
	chunks := make([]packedChunk, 0, (to-from)/chunkLen+1)
	if from < to {
		err := o.r.Scan(chunkKey(l.list, from/chunkLen), chunkKey(l.list, to/chunkLen), func(key string, value []byte) error {
			if n, ok := packedLen(value); !ok || n != chunkLen {
				return fmt.Errorf("record %s: not a chunk of %d events that this program reads", key, chunkLen)
			}
			if o.held.all {
				value = bytes.Clone(value) // else what else is read with it would stay, too
			}
			chunks = append(chunks, packedChunk{key, value})
			return nil
		})
		if err != nil {
			return err
		}
	}
	n, ok := packedLen(l.tail.data)
	if got := len(chunks)*chunkLen + n; !ok || got != l.events {
		return fmt.Errorf("record %s: %d events of kind %s instead of %d", l.tail.key, got, l.list.kind, l.events)
	}
	if n > 0 {
		chunks = append(chunks, l.tail)
	}
	listKindOf(l.list.kind).keep(o.book, l.list.id, l.events, chunks)
	return nil
}

func (o *opener) state(key string, t thing, value []byte) error {
	b, u, whole := o.book, &unpacker{data: value}, o.held.wholly(t)
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
	b.eachList(t, func(k *listKind, l list) { o.latest(key, u, l, whole) })
	return u.end(key)
}

// latest reads what there is of a list behind its last whole chunk.
func (o *opener) latest(key string, u *unpacker, l list, whole bool) {
	total, n, last, tail := int(u.uint()), int(u.uint()), u.mark(), u.bytes()
	if n < 0 || n > total || n%chunkLen != 0 {
		u.fail("an impossible number of events")
		return
	}
	if whole {
		n, last = 0, Mark{}
	}
	if n > 0 {
		o.book.past.dropped[l] = dropped{n, last}
	}
	if total > n {
		o.lists = append(o.lists, packedList{l, packedChunk{key, tail}, total - n})
	}
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
func (b *Book) keptAmends(seq Seq) (out []Seq, err error) {
	value, err := b.source.Get(amendKey(seq))
	if err != nil || value == nil {
		return nil, err
	}
	u := &unpacker{data: value}
	for range u.count(1, "more seqs than the bytes can hold") {
		if s := Seq(u.uint()); s <= b.base {
			out = append(out, s)
		}
	}
	return out, nil
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

// bytes reads what a text would be, without copying it.
func (u *unpacker) bytes() []byte {
	n := u.count(1, "a text longer than the bytes left")
	u.at += n
	return u.data[u.at-n : u.at : u.at]
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

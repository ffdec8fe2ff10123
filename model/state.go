package model

import (
	"fmt"
	"maps"
	"slices"
)

// A book is kept folded as records, each of a thing or of a chunk of its events:
//
//	def/KIND/N      the Nth thing of a kind, as last defined, with the seqs of its definitions
//	now/KIND/ID     what lies before the events held of a thing, and the latest of them
//	event/KIND/ID/N the Nth chunk of the events of a list, for good until something is written among them
//	lesson/ID/N     the Nth chunk of the lessons of a chore
//	amend/SEQ       the seqs of the entries that amend one
//
// The records of a log depend on the log alone, however the book came to it.

// Change is a record put under a key or, without a value, taken away.
type Change struct {
	Key   string
	Value []byte
}

// Changes are the records that changed with the last Extend; all tells that they are all there are, and that records
// under any other key must go.
func (b *Book) Changes() (changes []Change, all bool, err error) {
	if !b.folded() {
		changes, err = b.records()
		return changes, true, err
	}
	if b.made == nil {
		return nil, false, nil
	}
	p := recorder{book: b, out: b.made.chunks}
	p.definitions(b.made.defined)
	p.states(b.made.things)
	for _, seq := range slices.Sorted(maps.Keys(b.made.amended)) {
		amends, err := b.amendsOf(seq)
		if err != nil {
			return nil, false, err
		}
		p.amended(seq, amends)
	}
	return p.out, false, p.err
}

// folded tells whether the book was opened from records, rather than folded from a log that it holds.
func (b *Book) folded() bool { return b.source != nil }

// records are all records of a full book.
func (b *Book) records() ([]Change, error) {
	brief := b.clone()
	p := recorder{book: brief}
	all := b.allThings()
	brief.made = newMade()
	for t := range all {
		brief.eachList(t, func(k *listKind, l list) {
			if k.size(brief, l.id) > 0 {
				brief.made.events[l], brief.made.longer[l] = 0, 0
			}
		})
	}
	amends := map[Seq][]Seq{}
	for _, e := range b.log {
		if a, ok := e.Body.(Amend); ok {
			amends[a.Entry] = append(amends[a.Entry], e.Seq)
			brief.reordered = brief.reordered || reorders(a)
		}
	}
	brief.packChunks()
	if err := brief.settle(all); err != nil {
		return nil, err
	}
	p.out = brief.made.chunks
	p.definitions(all)
	for _, id := range b.places.order {
		p.definitions(things{{KindPlace, id}: true})
	}
	p.states(all)
	for _, seq := range slices.Sorted(maps.Keys(amends)) {
		p.amended(seq, amends[seq])
	}
	return p.out, p.err
}

// eachList calls each for the lists that are kept with a thing.
func (b *Book) eachList(t thing, each func(*listKind, list)) {
	for i := range listKinds {
		if l := (list{listKinds[i].kind, t.id}); thingOf(l) == t {
			each(&listKinds[i], l)
		}
	}
}

// packChunks packs the whole chunks of events that changed, while they are held.
func (b *Book) packChunks() {
	lists := slices.SortedFunc(maps.Keys(b.made.events), func(a, b list) int {
		return slices.Compare([]string{string(a.kind), string(a.id)}, []string{string(b.kind), string(b.id)})
	})
	for _, l := range lists {
		k, dropped := listKindOf(l.kind), b.past.dropped[l].n
		total := dropped + k.size(b, l.id)
		for c := b.made.events[l] / chunkLen; c < total/chunkLen; c++ {
			at := c*chunkLen - dropped
			b.made.chunks = append(b.made.chunks, Change{chunkKey(l, c), k.pack(b, l.id, at, at+chunkLen)})
		}
		for c := total / chunkLen; c < b.made.longer[l]/chunkLen; c++ {
			b.made.chunks = append(b.made.chunks, Change{Key: chunkKey(l, c)})
		}
	}
}

func chunkKey(l list, n int) string { return fmt.Sprintf("event/%s/%s/%06d", l.kind, l.id, n) }

func lessonKey(chore ID, n int) string { return fmt.Sprintf("lesson/%s/%06d", chore, n) }

func definitionKey(kind Kind, n int) string { return fmt.Sprintf("def/%s/%06d", kind, n) }

func stateKey(t thing) string { return fmt.Sprintf("now/%s/%s", t.kind, t.id) }

func amendKey(seq Seq) string { return fmt.Sprintf("amend/%016x", uint64(seq)) }

// recorder makes records of a brief book.
type recorder struct {
	book *Book
	out  []Change
	err  error
}

func (r *recorder) put(key string, value []byte) { r.out = append(r.out, Change{key, value}) }

func sortedThings(of things) []thing {
	return slices.SortedFunc(maps.Keys(of), func(a, b thing) int {
		return slices.Compare([]string{string(a.kind), string(a.id)}, []string{string(b.kind), string(b.id)})
	})
}

func (r *recorder) definitions(of things) {
	b := r.book
	for _, t := range sortedThings(of) {
		switch t.kind {
		case KindBook:
			r.definition(t, 0, b.def, nil)
		case KindPlace:
			record(r, t, &b.places)
		case KindComponent:
			record(r, t, &b.components)
		case KindCounter:
			record(r, t, &b.counters)
		case KindGauge:
			record(r, t, &b.gauges)
		case KindSpare:
			record(r, t, &b.spares)
		case KindChore:
			record(r, t, &b.chores)
		}
	}
}

func record[D Body](r *recorder, t thing, in *registry[D]) {
	if d, ok := in.get(t.id); ok {
		r.definition(t, in.place(t.id), d, in.seqs[t.id])
	}
}

// definition is the id of a thing, the seqs of its definitions and the latest of them as one line of the book format; of a component,
// which is graded anew by its rebuilding, also how each graded it.
func (r *recorder) definition(t thing, n int, d Body, seqs []Seq) {
	p := packer{}
	p.text(string(t.id))
	p.uint(uint64(len(seqs)))
	before := Seq(0)
	for _, s := range seqs {
		p.uint(uint64(s - before))
		before = s
	}
	line := []byte{} // while no entry has defined the book
	if d != Body(BookDef{}) {
		var err error
		if line, err = EncodeEntry(Entry{Header{Kind: d.Kind()}, d}); err != nil && r.err == nil {
			r.err = err
		}
	}
	p.text(string(line))
	if c, ok := d.(Component); ok {
		for _, v := range r.book.versions[c.ID] {
			p.int(int64(v.InService))
			p.int(int64(v.reach))
			p.int(int64(v.accessMinutes))
		}
	}
	r.put(definitionKey(t.kind, n), p.buf)
}

func (r *recorder) states(of things) {
	for _, t := range sortedThings(of) {
		if t.kind == KindPlace || t.id == "" && t.kind != KindBook {
			continue
		}
		p := packer{}
		switch t.kind {
		case KindChore:
			r.chore(&p, t.id)
		case KindCounter:
			r.counter(&p, t.id)
		case KindSpare:
			s := r.book.past.stock[t.id]
			p.number(s.sum)
			p.flag(s.bought)
		case KindBook:
			p.flag(r.book.reordered)
		}
		r.book.eachList(t, func(k *listKind, l list) { r.latest(&p, k, l) })
		r.put(stateKey(t), p.buf)
	}
}

// latest is how many events a list has, how many of them a brief book drops, and those behind the last whole chunk.
func (r *recorder) latest(p *packer, k *listKind, l list) {
	b := r.book
	d, size := b.past.dropped[l], k.size(b, l.id)
	total := d.n + size
	p.uint(uint64(total))
	p.uint(uint64(d.n))
	p.mark(d.last)
	p.text(string(k.pack(b, l.id, total/chunkLen*chunkLen-d.n, size)))
}

func (r *recorder) chore(p *packer, id ID) {
	b := r.book
	c := chorePast{}
	if was := b.past.chores[id]; was != nil {
		c = *was
	}
	p.mark(c.from)
	for _, g := range c.slips {
		p.uint(uint64(g.Ticks))
		p.number(g.Sum)
	}
	p.uint(uint64(len(c.used)))
	for _, spare := range slices.Sorted(maps.Keys(c.used)) {
		p.text(string(spare))
		p.number(c.used[spare])
	}
	l := &c.lessons
	p.uint(uint64(len(l.packed)))
	p.uint(uint64(len(l.tail)))
	p.lessons(l.tail)
	for _, n := range l.kinds {
		p.uint(uint64(n))
	}
	p.uint(uint64(len(l.failures)))
	p.lessons(l.failures)
	p.uint(l.digest[0])
	p.uint(l.digest[1])
	from, changed := b.made.taught[id]
	if !changed {
		return
	}
	for i := from / chunkLen; i < len(l.packed); i++ {
		r.put(lessonKey(id, i), l.packed[i])
	}
	for i := len(l.packed); i < b.made.knew[id]/chunkLen; i++ {
		r.put(lessonKey(id, i), nil)
	}
}

func (r *recorder) counter(p *packer, id ID) {
	b := r.book
	all := append([]Counting{{Counter: id}}, b.loadsOf(id)...)
	slices.SortFunc(all, func(a, b Counting) int { return slices.Compare([]ID{a.Inlet, a.Outlet}, []ID{b.Inlet, b.Outlet}) })
	p.uint(uint64(len(all)))
	for _, of := range all {
		c := b.past.counted[of]
		p.text(string(of.Inlet))
		p.text(string(of.Outlet))
		p.uint(uint64(c.n))
		p.int(int64(c.first))
		p.number(c.faded)
		p.int(int64(c.at))
		p.flag(c.meter != nil)
		if c.meter != nil {
			p.number(*c.meter)
		}
	}
}

func (r *recorder) amended(seq Seq, by []Seq) {
	p := packer{}
	p.uint(uint64(len(by)))
	for _, s := range by {
		p.uint(uint64(s))
	}
	r.put(amendKey(seq), p.buf)
}

func (p *packer) flag(v bool) { p.buf = append(p.buf, when(v, 1)) }

func (p *packer) mark(m Mark) {
	p.int(int64(m.On))
	p.uint(uint64(m.Seq))
}

func (p *packer) lessons(of []Lesson) {
	for _, l := range of {
		p.buf = append(p.buf, byte(l.Kind))
		if l.Kind != LessonNone {
			p.int(int64(l.On))
			p.number(l.Age)
		}
	}
}

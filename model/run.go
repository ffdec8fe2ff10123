package model

import (
	"fmt"
	"iter"
	"slices"
	"sort"
	"sync"
)

// run is a list of events in order of time; nil is an empty one. Of a folded book it is unpacked when it is first asked
// for: most of what a book holds is asked for by pages and forms, not by a round. It is never changed once others see it.
type run[E any] struct {
	list []E

	once   sync.Once
	packed []packedChunk // what list is made of; nil when it is all there is
	n      int           // events in it
	unpack func(into []E, chunk []byte) ([]E, error)
}

// packedChunk is a chunk of events as a record holds it.
type packedChunk struct {
	key  string // of the record
	data []byte
}

// all are the events. They may not be written to.
func (r *run[E]) all() []E {
	if r == nil {
		return nil
	}
	if r.packed != nil {
		r.once.Do(func() { r.list = r.unpacked() })
		if len(r.list) != r.n { // somebody may have recovered from the panic of the first who asked
			panic(fmt.Sprintf("model: record %s and those before it: %d events instead of %d", r.packed[len(r.packed)-1].key, len(r.list), r.n))
		}
	}
	return r.list
}

// len is how many they are, without unpacking them.
func (r *run[E]) len() int {
	switch {
	case r == nil:
		return 0
	case r.packed != nil:
		return r.n
	}
	return len(r.list)
}

// add is the list with e in it: another one where a snapshot may see this one (shared).
func (r *run[E]) add(e E, header func(*E) *Happening, shared bool) *run[E] {
	if r == nil || shared {
		return &run[E]{list: insert(r.all(), e, header, shared)}
	}
	r.list = insert(r.list, e, header, false)
	return r
}

// unpacked reads the chunks. Their seals held and their sizes were looked at when they were read, so that what they hold
// is what was packed; that it can't be unpacked is a fault of the program, not of the file.
func (r *run[E]) unpacked() []E {
	out := make([]E, 0, r.n)
	for i := range r.packed {
		out = r.chunk(out, i)
	}
	return out
}

// long is how many events a list has at least that is looked through a chunk at a time, and never held unpacked by those
// who ask for a part of it: more than a round asks for of any.
const long = 2048

func (r *run[E]) long() bool { return r != nil && r.packed != nil && r.n >= long }

// pieces are the pieces of the list, from one up to and without another, in which the events are that stand after one
// place and before another.
func (r *run[E]) pieces(after, end Mark) (from, to int) {
	if !r.long() {
		return 0, 1
	}
	first := func(m Mark) int { // chunk that begins at a place or behind it
		return sort.Search(len(r.packed), func(i int) bool { return !r.packed[i].first().Before(m) })
	}
	return max(0, first(after)-1), first(end)
}

// piece is a piece of the list: a chunk of a long one, unpacked into the room there is, or all of any other.
func (r *run[E]) piece(room []E, i int) []E {
	if !r.long() {
		return r.all()
	}
	return r.chunk(room, i)
}

// each gives the events after one place and before another, in order of time. Those of a long list are good until the
// next is given.
func (r *run[E]) each(mark func(*E) Mark, after, end Mark) iter.Seq[*E] {
	return func(yield func(*E) bool) {
		from, to := r.pieces(after, end)
		var room []E
		for i := from; i < to; i++ {
			room = r.piece(room[:0], i)
			list := within(room, mark, after, end)
			for j := range list {
				if !yield(&list[j]) {
					return
				}
			}
		}
	}
}

// latest gives the events before a place, the latest first.
func (r *run[E]) latest(mark func(*E) Mark, end Mark) iter.Seq[*E] {
	return func(yield func(*E) bool) {
		from, to := r.pieces(Mark{}, end)
		for i := to - 1; i >= from; i-- {
			list := upTo(r.piece(nil, i), mark, end)
			for j := len(list) - 1; j >= 0; j-- {
				if !yield(&list[j]) {
					return
				}
			}
		}
	}
}

// between are the events after one place and before another.
func (r *run[E]) between(mark func(*E) Mark, after, end Mark) []E {
	if !r.long() {
		return within(r.all(), mark, after, end)
	}
	var out []E
	from, to := r.pieces(after, end)
	for i := from; i < to; i++ {
		out = r.chunk(out, i)
	}
	return within(out, mark, after, end)
}

// chunk unpacks one chunk behind the events there are.
func (r *run[E]) chunk(into []E, i int) []E {
	c := r.packed[i]
	out, err := r.unpack(into, c.data)
	if err != nil {
		panic(fmt.Sprintf("model: record %s: %v", c.key, err))
	}
	return out
}

// first is the place of the first event of a chunk, which has one.
func (c packedChunk) first() Mark {
	u := unpacker{data: c.data}
	u.byte()
	u.uint()
	u.uint()
	on := u.int()
	return Mark{u.inRange(on), Seq(u.int())}
}

// packedLen is how many events a chunk says it holds; ok is false when this program can't read it.
func packedLen(chunk []byte) (n int, ok bool) {
	u := unpacker{data: chunk}
	version := u.byte()
	n = u.count(1, "more events than the bytes can hold")
	return n, u.wrong == "" && version == packVersion
}

// events keeps the events of each id.
type events[E any] map[ID]*run[E]

// of are the events of an id.
func (ev events[E]) of(id ID) []E { return ev[id].all() }

// add puts e among the events of id.
func (ev events[E]) add(id ID, e E, header func(*E) *Happening, shared bool) {
	ev[id] = ev[id].add(e, header, shared)
}

// reserve makes room for as many events of each id, which has none yet.
func (ev events[E]) reserve(sizes map[ID]int) {
	for id, n := range sizes {
		ev[id] = &run[E]{list: make([]E, 0, n)}
	}
}

func insert[E any](list []E, e E, header func(*E) *Happening, shared bool) []E {
	if shared {
		list = slices.Clip(list)
	}
	i := len(list)
	for i > 0 && header(&e).before(header(&list[i-1])) {
		i--
	}
	if shared && i < len(list) {
		list = slices.Clone(list)
	}
	return slices.Insert(list, i, e)
}

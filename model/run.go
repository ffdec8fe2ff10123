package model

import (
	"fmt"
	"slices"
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
	for _, c := range r.packed {
		var err error
		if out, err = r.unpack(out, c.data); err != nil {
			panic(fmt.Sprintf("model: record %s: %v", c.key, err))
		}
	}
	return out
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

package model

import (
	"slices"
	"sort"
)

// chunkLen is how many events a file keeps together: those of a list that come before a multiple of it are packed for
// good until something is written among them.
const chunkLen = 64

// listKind is how the events of a kind of entry are kept, one list a thing.
type listKind struct {
	kind Kind
	own  bool // the list belongs to the book itself, not to a thing
	hold int  // how many of the latest a brief book holds at least; 0: all of them

	size   func(*Book, ID) int
	mark   func(*Book, ID, int) Mark
	drop   func(*Book, ID, int) // the first n
	pack   func(*Book, ID, int, int) []byte
	keep   func(*Book, ID, int, []packedChunk) // so many events, packed
	remove func(*Book, ID, Mark) bool
}

// What a brief book holds of a list at least. Rounds need less; forms and pages show the latest few.
const (
	holdTicks    = 8
	holdCounted  = 200 // also as many as a trend or a drift looks at
	holdReadings = 200
	holdOthers   = 64
)

// listKinds are all kinds of list, in the order in which they are packed.
var listKinds = []listKind{
	inThings(KindTick, holdTicks, func(b *Book) *events[TickRecord] { return &b.ticks }, headerOfTick, packTicks, unpackTicks),
	inThings(KindUsage, holdCounted, func(b *Book) *events[Logged[Usage]] { return &b.usages }, headerOf, packUsages, unpackUsages),
	inThings(KindMeterReset, 0, func(b *Book) *events[Logged[MeterReset]] { return &b.resets }, headerOf, packResets, unpackResets),
	inThings(KindReading, holdReadings, func(b *Book) *events[Logged[Reading]] { return &b.readings }, headerOf, packReadings, unpackReadings),
	inThings(KindStock, holdOthers, func(b *Book) *events[Logged[Stock]] { return &b.stocks }, headerOf, packStocks, unpackStocks),
	inThings(KindFlag, 0, func(b *Book) *events[Logged[Flag]] { return &b.flags }, headerOf, packFlags, unpackFlags),
	inThings(KindDefer, holdOthers, func(b *Book) *events[Logged[Defer]] { return &b.defers }, headerOf, packDefers, unpackDefers),
	inThings(KindFault, holdOthers, func(b *Book) *events[Logged[Fault]] { return &b.faults }, headerOf, packFaults, unpackFaults),
	inBook(KindAway, 0, func(b *Book) **run[Logged[Away]] { return &b.aways }, headerOf, packAways, unpackAways),
	inBook(KindBatch, holdOthers, func(b *Book) **run[Logged[Batch]] { return &b.batches }, headerOf, packBatches, unpackBatches),
	inBook(KindNote, holdOthers, func(b *Book) **run[Logged[Note]] { return &b.notes }, headerOf, packNotes, unpackNotes),
}

// listKindOf is how events of a kind are kept.
func listKindOf(k Kind) *listKind {
	for i := range listKinds {
		if listKinds[i].kind == k {
			return &listKinds[i]
		}
	}
	return nil
}

func inThings[E any](kind Kind, hold int, of func(*Book) *events[E], header func(*E) *Happening, pack func([]E) []byte, unpack func([]E, ID, []byte) ([]E, error)) listKind {
	return asList(listKind{kind: kind, hold: hold},
		func(b *Book, id ID) *run[E] { return (*of(b))[id] },
		func(b *Book, id ID, r *run[E]) {
			if ev := *of(b); r.len() > 0 {
				ev[id] = r
			} else {
				delete(ev, id)
			}
		}, header, pack, unpack)
}

func inBook[E any](kind Kind, hold int, of func(*Book) **run[E], header func(*E) *Happening, pack func([]E) []byte, unpack func([]E, []byte) ([]E, error)) listKind {
	return asList(listKind{kind: kind, own: true, hold: hold},
		func(b *Book, _ ID) *run[E] { return *of(b) },
		func(b *Book, _ ID, r *run[E]) { *of(b) = r },
		header, pack, func(into []E, _ ID, data []byte) ([]E, error) { return unpack(into, data) })
}

func asList[E any](k listKind, get func(*Book, ID) *run[E], set func(*Book, ID, *run[E]), header func(*E) *Happening, pack func([]E) []byte, unpack func([]E, ID, []byte) ([]E, error)) listKind {
	mark := func(e *E) Mark { return header(e).Mark() }
	k.size = func(b *Book, id ID) int { return get(b, id).len() }
	k.mark = func(b *Book, id ID, i int) Mark { return mark(&get(b, id).all()[i]) }
	k.drop = func(b *Book, id ID, n int) { set(b, id, &run[E]{list: slices.Clone(get(b, id).all()[n:])}) }
	k.pack = func(b *Book, id ID, from, to int) []byte { return pack(get(b, id).all()[from:to]) }
	k.keep = func(b *Book, id ID, n int, chunks []packedChunk) {
		set(b, id, &run[E]{packed: chunks, n: n, unpack: func(into []E, data []byte) ([]E, error) { return unpack(into, id, data) }})
	}
	k.remove = func(b *Book, id ID, at Mark) bool {
		l := get(b, id).all()
		i := len(upTo(l, mark, at))
		if i == len(l) || mark(&l[i]) != at {
			return false
		}
		set(b, id, &run[E]{list: append(append(make([]E, 0, len(l)-1), l[:i]...), l[i+1:]...)})
		return true
	}
	return k
}

// placeOf is the index in a list of the first event that doesn't stand before a place.
func (k *listKind) placeOf(b *Book, id ID, m Mark) int {
	return sort.Search(k.size(b, id), func(i int) bool { return !k.mark(b, id, i).Before(m) })
}

// listOf names the list that an event stands in; ok is false for definitions and amends.
func listOf(body Body) (l list, ok bool) {
	switch w := body.(type) {
	case Tick:
		return list{KindTick, w.Chore}, true
	case Usage:
		return list{KindUsage, w.Counter}, true
	case MeterReset:
		return list{KindMeterReset, w.Counter}, true
	case Reading:
		return list{KindReading, w.Gauge}, true
	case Stock:
		return list{KindStock, w.Spare}, true
	case Flag:
		return list{KindFlag, w.Component}, true
	case Defer:
		return list{KindDefer, w.Chore}, true
	case Fault:
		return list{KindFault, w.Component}, true
	case Away:
		return list{kind: KindAway}, true
	case Batch:
		return list{kind: KindBatch}, true
	case Note:
		return list{kind: KindNote}, true
	}
	return list{}, false
}

package logbook

import (
	"slices"
	"sort"

	"brine/wrasse/model"
)

// key is what an order sorts by: two numbers, the first before the second.
type key uint64

func pair(a, b uint32) key { return key(a)<<32 | key(b) }

// rowKey puts entries in the order they are shown: by date, then by writing.
func rowKey(d model.Date, seq model.Seq) key { return pair(uint32(d), uint32(seq)) }

func (k key) date() model.Date { return model.Date(k >> 32) }
func (k key) seq() model.Seq   { return model.Seq(uint32(k)) }

// order is a sorted set of keys. It is never changed: another one is made of it, which
// shares what is the same. So commands work at one while the screen draws another, and
// it takes little more than the eight bytes of each key. The zero order is empty.
type order struct {
	blocks [][]key // none of them empty
	before []int   // how many keys stand before each block
	n      int
}

// blockLen is how many keys a block holds at most: what a key that comes in has copied.
const blockLen = 1024

func (o order) at(i int) key {
	b := sort.Search(len(o.before), func(b int) bool { return o.before[b] > i }) - 1
	return o.blocks[b][i-o.before[b]]
}

// rank is how many keys are below k.
func (o order) rank(k key) int {
	b := sort.Search(len(o.blocks), func(b int) bool { return o.blocks[b][0] > k }) - 1
	if b < 0 {
		return 0
	}
	i, _ := slices.BinarySearch(o.blocks[b], k)
	return o.before[b] + i
}

func (o order) has(k key) bool {
	i := o.rank(k)
	return i < o.n && o.at(i) == k
}

// span is the keys from one to below another.
func (o order) span(from, below key) []key {
	i, end := o.rank(from), o.rank(below)
	if i >= end {
		return nil
	}
	return o.slice(i, end)
}

// slice is the keys from place i to below place end.
func (o order) slice(i, end int) []key {
	out := make([]key, 0, end-i)
	for b := sort.Search(len(o.before), func(b int) bool { return o.before[b] > i }) - 1; i < end; b++ {
		part := o.blocks[b][i-o.before[b]:]
		part = part[:min(len(part), end-i)]
		out = append(out, part...)
		i += len(part)
	}
	return out
}

// with is the order without some keys and with others: one that is among both is in it.
func (o order) with(add, remove []key) order {
	if len(add) == 0 && len(remove) == 0 {
		return o
	}
	add, remove = slices.Sorted(slices.Values(add)), slices.Sorted(slices.Values(remove))
	old := o.blocks
	if len(old) == 0 {
		old = [][]key{nil}
	}
	var out order
	for i, b := range old {
		a, r := add, remove
		if i+1 < len(old) {
			a, add = cut(add, old[i+1][0])
			r, remove = cut(remove, old[i+1][0])
		}
		if len(a) == 0 && len(r) == 0 {
			out.append(b)
			continue
		}
		out.split(merged(b, a, r))
	}
	return out
}

// cut cuts sorted keys into those below a key and the others.
func cut(keys []key, below key) (before, after []key) {
	i, _ := slices.BinarySearch(keys, below)
	return keys[:i], keys[i:]
}

// merged is a block with keys taken out and others put in.
func merged(block, add, remove []key) []key {
	out := make([]key, 0, len(block)+len(add))
	for _, k := range block {
		if _, gone := slices.BinarySearch(remove, k); !gone {
			out = append(out, k)
		}
	}
	out = append(out, add...)
	slices.Sort(out)
	return slices.Compact(out)
}

// split appends keys as blocks of about the same length.
func (o *order) split(keys []key) {
	for n := (len(keys) + blockLen - 1) / blockLen; n > 0; n-- {
		size := len(keys) / n
		o.append(slices.Clone(keys[:size]))
		keys = keys[size:]
	}
}

func (o *order) append(block []key) {
	if len(block) == 0 {
		return
	}
	o.blocks, o.before = append(o.blocks, block), append(o.before, o.n)
	o.n += len(block)
}

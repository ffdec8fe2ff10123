package model

import (
	"encoding/binary"
	"fmt"
	"math"
)

// The packed form of events: how a file keeps the events of one thing beside its log, so
// that opening a book costs a copy rather than the reading of JSON. What is packed can
// always be folded from the log anew, so the form says nothing that the log doesn't, and
// its version may change without loss.
//
// A chunk is the version, the number of events, the number of optional numbers they hold
// (so that all of these come out of one allocation), and the events. An event is
//
//	date      less the date of the event before, as a signed varint
//	seq       less the seq of the event before, as a signed varint
//	flags     one byte: which of the parts below are there
//	by        where it isn't that of the event before: an index into the names met so far
//	          (0 nobody, one more than there are: a new one, which follows)
//	the rest  as its kind has it
//
// The kind and the id of the thing are those of the list, and are not stored; at and act
// are left to the log. Equal lists pack to equal bytes, whichever way they came about.

// packVersion is the first byte of a chunk.
const packVersion = 1

// flagBy says, in every kind of event, that by is not that of the event before.
const flagBy = 1

// scales are the divisors of the short decimals: a number is held as a whole number and
// which of these it is divided by. The last one lets volumes and pressures be short that
// were typed in gallons and psi, whose factors to L and bar have that many decimals.
var scales = [...]float64{1, 10, 100, 1e3, 1e4, 1e9}

const (
	scaleBits = 3
	scaleMask = 1<<scaleBits - 1
	// In place of a scale, with nothing before it. Negative numbers are few (what was taken
	// off the shelf by hand), so they pay for their sign with a byte, and the others don't.
	opposite  = 6 // a short decimal follows, of the other sign
	rawNumber = 7 // the eight bytes of the float follow
	// maxWhole is below what a float64 holds whole numbers exactly up to, and keeps a
	// short decimal shorter than the eight bytes it stands for.
	maxWhole = 1 << 51
)

// packer writes a chunk.
type packer struct {
	buf     []byte
	options int // optional numbers written so far
	on      Date
	seq     Seq
	by      string
	names   index
	reach   int
	uses    string // the list of spares of the tick before, packed
	lists   index
	scratch []byte
}

// index numbers texts in the order in which they are first met; "" is 0.
type index map[string]uint64

// of is the number of a text, and whether it is met for the first time.
func (x index) of(s string) (n uint64, fresh bool) {
	if s == "" {
		return 0, false
	}
	if n, ok := x[s]; ok {
		return n, false
	}
	n = uint64(len(x)) + 1
	x[s] = n
	return n, true
}

// packList writes a list, each event by the function given.
func packList[E any](list []E, event func(*packer, *E)) []byte {
	const usual = 8 // bytes of an event, so that the buffer rarely grows
	p := packer{buf: make([]byte, 0, usual*len(list)), names: index{}, lists: index{}}
	for i := range list {
		event(&p, &list[i])
	}
	head := []byte{packVersion}
	head = binary.AppendUvarint(head, uint64(len(list)))
	head = binary.AppendUvarint(head, uint64(p.options))
	return append(head, p.buf...)
}

// header writes what all events have. The flags are those of the rest of the event.
func (p *packer) header(h *Happening, flags ...byte) {
	p.int(int64(h.On) - int64(p.on))
	p.int(int64(h.Seq - p.seq)) // modulo 2^64, and so exact for every seq
	all := when(h.By != p.by, flagBy)
	for _, f := range flags {
		all |= f
	}
	p.buf = append(p.buf, all)
	if h.By != p.by {
		n, fresh := p.names.of(h.By)
		p.uint(n)
		if fresh {
			p.text(h.By)
		}
	}
	p.on, p.seq, p.by = h.On, h.Seq, h.By
}

// when is the flag if what it stands for is there.
func when(there bool, flag byte) byte {
	if there {
		return flag
	}
	return 0
}

func (p *packer) uint(n uint64) { p.buf = binary.AppendUvarint(p.buf, n) }

func (p *packer) int(n int64) { p.buf = binary.AppendVarint(p.buf, n) }

func (p *packer) text(s string) {
	p.uint(uint64(len(s)))
	p.buf = append(p.buf, s...)
}

func (p *packer) number(v float64) { p.buf = appendNumber(p.buf, v) }

// appendNumber writes a float64 so that it comes back bit for bit: as a whole number over
// the first scale that gives exactly it, or else as its eight bytes.
func appendNumber(buf []byte, v float64) []byte {
	if short, ok := shortNumber(math.Abs(v)); ok && (v != 0 || !math.Signbit(v)) {
		if v < 0 {
			buf = append(buf, opposite)
		}
		return binary.AppendUvarint(buf, short)
	}
	return binary.LittleEndian.AppendUint64(append(buf, rawNumber), math.Float64bits(v))
}

// shortNumber is a short decimal that is not negative, with its scale.
func shortNumber(v float64) (n uint64, ok bool) {
	for scale, by := range scales {
		whole := math.Round(v * by)
		if !(whole < maxWhole) { // nor NaN
			return 0, false
		}
		if whole/by == v {
			return uint64(whole)<<scaleBits | uint64(scale), true
		}
	}
	return 0, false
}

// option writes a number that a flag announced, nothing when there is none.
func (p *packer) option(v *float64) {
	if v != nil {
		p.number(*v)
		p.options++
	}
}

// wholeOption is option for a whole number.
func (p *packer) wholeOption(v *int) {
	if v != nil {
		p.int(int64(*v))
		p.options++
	}
}

// packWord writes one of a few words. A book holds no other, and a file must not be given
// one that would be refused when it is read.
func packWord[T ~string](p *packer, words []T, w T) {
	for i, known := range words {
		if w == known {
			p.buf = append(p.buf, byte(i))
			return
		}
	}
	panic(fmt.Sprintf("model: %q can't be packed: it is not %s", w, oneOf(words...)))
}

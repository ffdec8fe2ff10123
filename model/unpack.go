package model

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/bits"
	"slices"
)

// unpacker reads a chunk. What can't be read gives zeros from there on and is remembered,
// so that only the end of an event needs to ask.
type unpacker struct {
	data    []byte
	at      int
	wrong   string // what is wrong, "" so far
	wrongAt int
	known   byte // the flags that this kind of event has
	options int  // optional numbers still to come
	numbers []float64
	wholes  []int
	on      int64
	seq     Seq
	by      string
	names   []string
	reach   int
	uses    []SpareUse
	lists   [][]SpareUse
}

// packed is how a list of events is packed: what its kind is, whose they are, the flags
// that an event may have and the least bytes one can take.
type packed struct {
	kind  Kind
	thing ID
	flags byte
	least int
}

// unpackList reads a list that packList wrote, each event by the function given, behind
// those that are there already. It accepts any bytes: whatever packList would not have
// written gives an error or a list, and the memory asked for is in proportion to the bytes.
func unpackList[E any](into []E, data []byte, is packed, event func(*unpacker, *E)) ([]E, error) {
	u := unpacker{data: data, known: is.flags | flagBy}
	if version := u.byte(); version != packVersion {
		u.fail("the version is not one that this program reads")
	}
	count := u.count(is.least, "more events than the bytes can hold")
	u.options = u.count(1, "more numbers than the bytes can hold")
	if u.wrong != "" {
		return nil, u.err(is, 0)
	}
	out := slices.Grow(into, count)[:len(into)+count]
	list := out[len(into):]
	clear(list)
	for i := range list {
		if event(&u, &list[i]); u.wrong != "" {
			return nil, u.err(is, i+1)
		}
	}
	if u.options != 0 {
		u.fail("fewer optional numbers than announced")
	} else if u.at != len(data) {
		u.fail("bytes after the last event")
	}
	if u.wrong != "" {
		return nil, u.err(is, count)
	}
	return out, nil
}

// fail remembers the first thing that is wrong, and ends the reading.
func (u *unpacker) fail(why string) {
	if u.wrong == "" {
		u.wrong, u.wrongAt = why, u.at
	}
	u.at = len(u.data)
}

func (u *unpacker) err(is packed, event int) error {
	of := ""
	if is.thing != "" {
		of = fmt.Sprintf(" of %q", shortened(string(is.thing)))
	}
	return fmt.Errorf("packed %s events%s: event %d, byte %d: %s", is.kind, of, event, u.wrongAt, u.wrong)
}

const breaksOff = "the bytes break off"

func (u *unpacker) byte() byte {
	if u.at >= len(u.data) {
		u.fail(breaksOff)
		return 0
	}
	u.at++
	return u.data[u.at-1]
}

// window is how many bytes are looked at together where there are as many left.
const window = 8

// ahead is the window at hand; not ok near the end of the chunk, where there is none.
func (u *unpacker) ahead() (w uint64, ok bool) {
	if len(u.data)-u.at < window {
		return 0, false
	}
	return binary.LittleEndian.Uint64(u.data[u.at:]), true
}

// uint reads a varint. Its bytes are put together without a branch for each: their number
// changes from value to value, and a wrong guess of it costs more than all of this.
func (u *unpacker) uint() uint64 {
	w, ok := u.ahead()
	ends := ^w & 0x8080808080808080
	if !ok || ends == 0 {
		return u.anyUint()
	}
	u.at += bits.TrailingZeros64(ends)/8 + 1
	w &= ends ^ (ends - 1) // up to the end of the first byte that ends a varint
	w = w&0x007f007f007f007f | w>>1&0x3f803f803f803f80
	w = w&0x00003fff00003fff | w>>2&0x0fffc0000fffc000
	return w&0x0fffffff | w>>4&0x00fffffff0000000
}

// anyUint is uint near the end of the chunk, and for numbers of more than eight bytes.
func (u *unpacker) anyUint() uint64 {
	v, n := binary.Uvarint(u.data[u.at:])
	switch {
	case n == 0:
		u.fail(breaksOff)
		return 0
	case n < 0:
		u.fail("a number of more than 64 bits")
		return 0
	}
	u.at += n
	return v
}

func (u *unpacker) int() int64 { return unzigzag(u.uint()) }

func unzigzag(u uint64) int64 { return int64(u>>1) ^ -int64(u&1) }

// whole reads what fits an int.
func (u *unpacker) whole() int {
	v := u.int()
	if int64(int(v)) != v {
		u.fail("a whole number out of range")
	}
	return int(v)
}

// count reads how many things follow that take at least so many bytes each.
func (u *unpacker) count(least int, tooMany string) int {
	n := u.uint()
	if n > uint64((len(u.data)-u.at)/least) {
		u.fail(tooMany)
		return 0
	}
	return int(n)
}

func (u *unpacker) text() string {
	n := u.count(1, "a text longer than the bytes left")
	u.at += n
	return string(u.data[u.at-n : u.at])
}

func (u *unpacker) number() float64 {
	v := u.uint()
	if scale := v & scaleMask; scale < uint64(len(scales)) {
		return float64(v>>scaleBits) / scales[scale]
	}
	return u.longNumber(v)
}

// longNumber reads the rest of a number that is not a short decimal of plus sign.
func (u *unpacker) longNumber(head uint64) float64 {
	switch head {
	case opposite:
		v := u.uint()
		if scale := v & scaleMask; scale < uint64(len(scales)) {
			return -float64(v>>scaleBits) / scales[scale]
		}
	case rawNumber:
		if len(u.data)-u.at < 8 {
			u.fail(breaksOff)
			return 0
		}
		u.at += 8
		return math.Float64frombits(binary.LittleEndian.Uint64(u.data[u.at-8:]))
	}
	u.fail("a number over no scale")
	return 0
}

// option reads an optional number that is there, into memory shared by those of the chunk.
func (u *unpacker) option() *float64 {
	if u.options == 0 {
		u.fail("more optional numbers than announced")
		return nil
	}
	if u.numbers == nil {
		u.numbers = make([]float64, u.options)
	}
	u.options--
	v := &u.numbers[u.options]
	*v = u.number()
	return v
}

// wholeOption is option for a whole number.
func (u *unpacker) wholeOption() *int {
	if u.options == 0 {
		u.fail("more optional numbers than announced")
		return nil
	}
	if u.wholes == nil {
		u.wholes = make([]int, u.options)
	}
	u.options--
	v := &u.wholes[u.options]
	*v = u.whole()
	return v
}

// date reads a date as so many days from another.
func (u *unpacker) date(from Date) Date { return u.inRange(int64(from) + u.int()) }

func (u *unpacker) inRange(day int64) Date {
	if int64(Date(day)) != day {
		u.fail("a date out of range")
	}
	return Date(day)
}

// header reads what all events have, and gives the flags of the rest.
func (u *unpacker) header(h *Happening) byte {
	var on, seq int64
	var flags byte
	// Nearly all events have one byte for the date and one or two for the seq, and these
	// are read at one go.
	w, ok := u.ahead()
	if second := w >> 15 & 1; ok && (w>>7|w>>23&second)&1 == 0 {
		on = unzigzag(w & 0x7f)
		seq = unzigzag(w>>8&0x7f | w>>9&0x3f80&-second)
		flags = byte(w >> (16 + 8*second))
		u.at += 3 + int(second)
	} else {
		on, seq, flags = u.int(), u.int(), u.byte()
	}
	u.on += on
	u.seq += Seq(seq)
	if int64(Date(u.on)) != u.on {
		u.fail("a date out of range")
	}
	if flags&^u.known != 0 {
		u.fail("a flag that this kind of event has not")
	}
	if flags&flagBy != 0 {
		u.by = u.name()
	}
	h.Seq, h.On, h.By = u.seq, Date(u.on), u.by
	return flags
}

// name reads who an event is by. A name is read once a chunk, whoever alternates.
func (u *unpacker) name() string {
	n := u.uint()
	switch {
	case n == 0:
		return ""
	case n <= uint64(len(u.names)):
		return u.names[n-1]
	case n > uint64(len(u.names))+1:
		u.fail("a name not met before")
		return ""
	}
	name := u.text()
	u.names = append(u.names, name)
	return name
}

// unpackWord reads one of a few words.
func unpackWord[T ~string](u *unpacker, words []T) T {
	i := int(u.byte())
	if i >= len(words) {
		u.fail("a word that this program doesn't know")
		return ""
	}
	return words[i]
}

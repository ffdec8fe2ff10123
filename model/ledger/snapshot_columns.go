package ledger

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"maps"
	"math"
	"slices"

	"brine/wrasse/model"
)

// A list in a snapshot is a column for each field of its events, one after the other, so that a column of which nothing
// is said takes a byte. Equal lists pack to equal bytes, whichever way they came about.

// packer writes a snapshot.
type packer struct{ buf []byte }

func (p *packer) uint(n uint64) { p.buf = binary.AppendUvarint(p.buf, n) }

func (p *packer) int(n int64) { p.buf = binary.AppendVarint(p.buf, n) }

func (p *packer) text(s string) {
	p.uint(uint64(len(s)))
	p.buf = append(p.buf, s...)
}

// unpacker reads a snapshot. What can't be read gives zeros from there on and is remembered. Texts share its memory.
type unpacker struct {
	data  string
	at    int
	wrong string // what is wrong, "" so far
}

// fail remembers the first thing that is wrong, and ends the reading.
func (u *unpacker) fail(format string, args ...any) {
	if u.wrong == "" {
		u.wrong = fmt.Sprintf("byte %d: ", u.at) + fmt.Sprintf(format, args...)
	}
	u.at = len(u.data)
}

const breaksOff = "the bytes break off"

func (u *unpacker) uint() uint64 {
	var n uint64
	for shift := 0; u.at < len(u.data) && shift < 64; shift += 7 {
		c := u.data[u.at]
		u.at++
		if n |= uint64(c&0x7f) << shift; c < 0x80 {
			return n
		}
	}
	u.fail(breaksOff)
	return 0
}

func (u *unpacker) int() int64 {
	n := u.uint()
	return int64(n>>1) ^ -int64(n&1)
}

// count reads how many there are of what takes at least a byte each.
func (u *unpacker) count() int {
	n := u.uint()
	if n > uint64(len(u.data)-u.at) {
		u.fail("more of them than the bytes can hold")
		return 0
	}
	return int(n)
}

// take is the next n bytes.
func (u *unpacker) take(n int) string {
	if n > len(u.data)-u.at {
		u.fail(breaksOff)
		return ""
	}
	u.at += n
	return u.data[u.at-n : u.at]
}

func (u *unpacker) text() string { return u.take(u.count()) }

// column is how one field of the events of a list is kept.
type column[E any] struct {
	pack   func(*packer, []E)
	unpack func(*unpacker, []E)
}

// unlessNone makes a column a single byte, 0, in a list where none of the events has the field.
func unlessNone[E any](has func(*E) bool, c column[E]) column[E] {
	return column[E]{
		func(p *packer, list []E) {
			for i := range list {
				if has(&list[i]) {
					p.uint(1)
					c.pack(p, list)
					return
				}
			}
			p.uint(0)
		},
		func(u *unpacker, list []E) {
			if u.uint() != 0 {
				c.unpack(u, list)
			}
		},
	}
}

// form is how one value is written.
type form[V any] struct {
	pack   func(*packer, V)
	unpack func(*unpacker) V
}

// figure is a float64, bit for bit.
var figure = form[float64]{
	func(p *packer, v float64) { p.buf = binary.LittleEndian.AppendUint64(p.buf, math.Float64bits(v)) },
	func(u *unpacker) float64 {
		if len(u.data)-u.at < 8 {
			u.fail(breaksOff)
			return 0
		}
		d := u.data[u.at:]
		u.at += 8
		return math.Float64frombits(uint64(d[0]) | uint64(d[1])<<8 | uint64(d[2])<<16 | uint64(d[3])<<24 |
			uint64(d[4])<<32 | uint64(d[5])<<40 | uint64(d[6])<<48 | uint64(d[7])<<56)
	},
}

// integer is a whole number.
var integer = form[int]{func(p *packer, n int) { p.int(int64(n)) }, func(u *unpacker) int { return int(u.int()) }}

// values is a column of values that every event has.
func values[E, V any](f form[V], of func(*E) *V) column[E] {
	return column[E]{
		func(p *packer, list []E) {
			for i := range list {
				f.pack(p, *of(&list[i]))
			}
		},
		func(u *unpacker, list []E) {
			for i := range list {
				*of(&list[i]) = f.unpack(u)
			}
		},
	}
}

// numbers is a column of whole numbers, dates or seqs, each less the one before.
func numbers[E any, N ~int | ~int32 | ~int64 | ~uint64](of func(*E) *N) column[E] {
	return unlessNone(func(e *E) bool { return *of(e) != 0 }, column[E]{
		func(p *packer, list []E) {
			var before N
			for i := range list {
				n := *of(&list[i])
				p.int(int64(n) - int64(before))
				before = n
			}
		},
		func(u *unpacker, list []E) {
			var before N
			for i := range list {
				before = N(int64(before) + u.int())
				*of(&list[i]) = before
			}
		},
	})
}

// yes is a column of yes and no.
func yes[E any](of func(*E) *bool) column[E] {
	return unlessNone(func(e *E) bool { return *of(e) }, column[E]{
		func(p *packer, list []E) { p.bits(len(list), func(i int) bool { return *of(&list[i]) }) },
		func(u *unpacker, list []E) { u.bits(len(list), func(i int) { *of(&list[i]) = true }) },
	})
}

// bits writes what is so of n, eight a byte.
func (p *packer) bits(n int, is func(int) bool) {
	at := len(p.buf)
	p.buf = append(p.buf, make([]byte, (n+7)/8)...)
	for i := range n {
		if is(i) {
			p.buf[at+i/8] |= 1 << (i % 8)
		}
	}
}

// bits calls each for those of n of which it is so.
func (u *unpacker) bits(n int, each func(int)) {
	for at, b := range []byte(u.take((n + 7) / 8)) {
		for i := at * 8; b != 0 && i < n; i, b = i+1, b>>1 {
			if b&1 != 0 {
				each(i)
			}
		}
	}
}

// options is a column of values that an event may have.
func options[E, V any](f form[V], of func(*E) **V) column[E] {
	return unlessNone(func(e *E) bool { return *of(e) != nil }, column[E]{
		func(p *packer, list []E) {
			p.bits(len(list), func(i int) bool { return *of(&list[i]) != nil })
			for i := range list {
				if v := *of(&list[i]); v != nil {
					f.pack(p, *v)
				}
			}
		},
		func(u *unpacker, list []E) {
			room := make([]V, 0, len(list))
			u.bits(len(list), func(i int) {
				room = append(room, *new(V))
				*of(&list[i]) = &room[len(room)-1]
			})
			for i := range room {
				room[i] = f.unpack(u)
			}
		},
	})
}

// texts is a column of texts: their lengths, then all of them.
func texts[E any, T ~string | ~[]byte](of func(*E) *T) column[E] {
	return unlessNone(func(e *E) bool { return len(*of(e)) > 0 }, column[E]{
		func(p *packer, list []E) {
			for i := range list {
				p.uint(uint64(len(*of(&list[i]))))
			}
			for i := range list {
				p.buf = append(p.buf, *of(&list[i])...)
			}
		},
		func(u *unpacker, list []E) {
			lengths := make([]int, len(list))
			for i := range lengths {
				lengths[i] = u.count()
			}
			for i, n := range lengths {
				if text := u.take(n); text != "" {
					*of(&list[i]) = T(text)
				}
			}
		},
	})
}

// words is a column of texts of which there are few.
func words[E any, T ~string](of func(*E) *T) column[E] {
	return dictionary(
		func(e *E) string { return string(*of(e)) },
		func(s string) (T, string) { return T(s), "" },
		func(e *E, w T) { *of(e) = w })
}

// dictionary is a column of values that few texts stand for: 0 for "", or the number of the text, the first time with the
// text itself.
func dictionary[E, V any](text func(*E) string, value func(string) (V, string), set func(*E, V)) column[E] {
	return unlessNone(func(e *E) bool { return text(e) != "" }, column[E]{
		func(p *packer, list []E) {
			known := map[string]uint64{"": 0}
			for i := range list {
				s := text(&list[i])
				n, met := known[s]
				if !met {
					n = uint64(len(known))
					known[s] = n
				}
				if p.uint(n); !met {
					p.text(s)
				}
			}
		},
		func(u *unpacker, list []E) {
			var none V
			known := []V{none}
			for i := range list {
				n := u.uint()
				if n == uint64(len(known)) {
					v, wrong := value(u.text())
					if wrong != "" {
						u.fail("%s", wrong)
					}
					known = append(known, v)
				}
				if n >= uint64(len(known)) {
					u.fail("a text not met before")
					return
				}
				if n > 0 {
					set(&list[i], known[n])
				}
			}
		},
	})
}

// inLists is how the lists of a kind of entry are kept.
func inLists[B model.Body](of func(*Book) *events[Logged[B]], named func(*Logged[B], model.ID), columns ...column[Logged[B]]) listKind {
	var b B
	k := listsOf(b.Kind(), of, func(l *Logged[B]) *Happening { return &l.Happening }, named, columns...)
	k.add = func(b *Book, id model.ID, e *model.Entry, shared bool) {
		of(b).add(id, logged(e, e.Body.(B)), shared)
	}
	return k
}

// listsOf is how the lists of a kind are kept. named gives an event the id of its thing, which is that of its list.
func listsOf[E any](kind model.Kind, of func(*Book) *events[E], header func(*E) *Happening, named func(*E, model.ID), columns ...column[E]) listKind {
	columns = append([]column[E]{
		numbers(func(e *E) *model.Date { return &header(e).On }),
		numbers(func(e *E) *model.Seq { return &header(e).Seq }),
		words(func(e *E) *string { return &header(e).By }),
	}, columns...)
	return listKind{
		kind:   kind,
		own:    func(b *Book) { *of(b) = copied(*of(b)) },
		remove: func(b *Book, id model.ID, at model.Mark) bool { return (*of(b)).remove(id, at) },
		pack: func(b *Book, p *packer) {
			ev := *of(b)
			p.uint(uint64(len(ev)))
			for _, id := range slices.SortedFunc(maps.Keys(ev), cmp.Compare) {
				l := ev[id]
				p.text(string(id))
				p.uint(uint64(l.len()))
				p.text(l.packedBy(columns))
			}
		},
		unpack: func(b *Book, u *unpacker) {
			ev := *of(b)
			for range u.count() {
				id, n, packed := model.ID(u.text()), u.count(), u.text()
				ev[id] = &list[E]{n: n, packed: packed, unpack: func() ([]E, error) {
					list := make([]E, n)
					u := unpacker{data: packed}
					for _, c := range columns {
						c.unpack(&u, list)
					}
					if named != nil {
						for i := range list {
							named(&list[i], id)
						}
					}
					if u.wrong == "" && u.at < len(packed) {
						u.fail("bytes after the end")
					}
					if u.wrong != "" {
						return nil, fmt.Errorf("%s events of %q: %s", kind, id, u.wrong)
					}
					return list, nil
				}}
			}
		},
	}
}

// packedBy is the list in columns: as it came, where it came with a snapshot.
func (l *list[E]) packedBy(columns []column[E]) string {
	if l.packed != "" {
		return l.packed
	}
	var p packer
	for _, c := range columns {
		c.pack(&p, l.all())
	}
	return string(p.buf)
}

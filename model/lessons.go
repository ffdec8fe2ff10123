package model

import (
	"math"
	"math/bits"
	"slices"
)

// Lessons are the lessons of a chore's closed cycles in their order, with what is asked of them without looking at each.
// The zero Lessons are none.
type Lessons struct {
	packed   [][]byte // whole chunks of them
	tail     []Lesson // those behind the last whole chunk
	kinds    [LessonFailedAt + 1]int
	failures []Lesson // the newest of those that failed
	digest   LessonDigest
}

// failuresKept is how many failures are kept apart: the sentences made of them name fewer.
const failuresKept = 16

// LessonDigest tells one sequence of lessons from another, the same on every machine. It guards against a result that
// was made from other lessons, not against one who forges them.
type LessonDigest [2]uint64

func (d *LessonDigest) word(w uint64) {
	const a, b = 0x9e3779b97f4a7c15, 0xbb67ae8584caa73b // of the golden ratio and the square root of 3
	w += a                                              // so that nothing but zeros has a digest too
	d[0] = (d[0] ^ w) * a
	d[0] ^= d[0] >> 32
	d[1] = bits.RotateLeft64(d[1]+w*b, 29) * a
}

// Add adds a lesson behind those there are.
func (l *Lessons) Add(x Lesson) {
	l.kinds[x.Kind]++
	l.digest.word(uint64(x.Kind)<<32 | uint64(uint32(x.On)))
	l.digest.word(math.Float64bits(x.Age))
	if x.Kind == LessonFailed || x.Kind == LessonFailedAt {
		l.failures = append(slices.Clip(l.failures[max(0, len(l.failures)+1-failuresKept):]), x)
	}
	if l.tail = append(l.tail, x); len(l.tail) == chunkLen {
		chunk := packer{}
		chunk.lessons(l.tail)
		l.packed, l.tail = append(slices.Clip(l.packed), chunk.buf), nil
	}
}

// Len is how many there are.
func (l *Lessons) Len() int { return len(l.packed)*chunkLen + len(l.tail) }

// Count is how many there are of a kind.
func (l *Lessons) Count(k LessonKind) int { return l.kinds[k] }

// Failures are the newest of those that failed, 16 at most.
func (l *Lessons) Failures() []Lesson { return l.failures }

// Digest is that of all of them.
func (l *Lessons) Digest() LessonDigest { return l.digest }

// All are the lessons one by one.
func (l *Lessons) All() []Lesson {
	out := make([]Lesson, 0, l.Len())
	for _, chunk := range l.packed {
		u := unpacker{data: chunk}
		out = append(out, u.lessons(chunkLen)...)
	}
	return append(out, l.tail...)
}

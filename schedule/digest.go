package schedule

import (
	"encoding/binary"
	"math"
	"math/bits"
)

// digest tells one sequence of numbers from another, the same on every machine and in every run. It guards against a
// result that was made from other numbers, not against one who forges them.
//
// Two lanes of 64 bits take every number: each step is one to one in the number and in the lane, so that sequences
// which differ in one number never meet in either lane. Mixing by multiplication, rotation and shift is common practice;
// the multipliers are the first 64 bits after the binary point of the golden ratio and of the square root of 3, both odd.
type digest struct{ a, b, n uint64 }

const (
	mixA = 0x9e3779b97f4a7c15
	mixB = 0xbb67ae8584caa73b
)

// digestSize is the length of a finished digest in bytes.
const digestSize = 16

// number takes a number by its bits, so that 0 and -0 differ.
func (d *digest) number(v float64) { d.word(math.Float64bits(v)) }

func (d *digest) word(w uint64) {
	d.n++
	d.a = (d.a ^ w) * mixA
	d.a ^= d.a >> 32
	d.b = bits.RotateLeft64(d.b+w*mixB, 29) * mixA
}

// sum is the digest of what was taken, in their order.
func (d digest) sum() [digestSize]byte {
	var out [digestSize]byte
	binary.LittleEndian.PutUint64(out[:8], avalanche(d.a^d.n))
	binary.LittleEndian.PutUint64(out[8:], avalanche(d.b+d.n*mixB))
	return out
}

// avalanche lets every bit sway every other.
func avalanche(x uint64) uint64 {
	for range 3 {
		x ^= x >> 32
		x *= mixB
		x ^= x >> 29
	}
	return x
}

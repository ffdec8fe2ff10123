package chart

// Dots of a braille cell.
const (
	dotsWide = 2
	dotsHigh = 4
)

// brailleBlank is the pattern without a dot, from which the block of braille patterns begins.
const brailleBlank = '\u2800'

// dotBits are the bits that dots add to the blank pattern, by row and column: ISO/TR 11548-1
// numbers the dots 1, 2, 3, 7 down the left column and 4, 5, 6, 8 down the right one, and
// Unicode gives dot n the bit n-1.
var dotBits = [dotsHigh][dotsWide]rune{{1 << 0, 1 << 3}, {1 << 1, 1 << 4}, {1 << 2, 1 << 5}, {1 << 6, 1 << 7}}

// dot is a place on a sheet of dots, from its top left corner.
type dot struct{ x, y int }

// dots is a sheet of dots over w by h cells.
type dots struct {
	w, h  int
	cells []rune // the bits set of each, row by row
}

func newDots(w, h int) dots { return dots{w, h, make([]rune, max(w, 0)*max(h, 0))} }

// set sets a dot; beside the sheet there is none.
func (d dots) set(at dot) {
	if at.x >= 0 && at.x < d.w*dotsWide && at.y >= 0 && at.y < d.h*dotsHigh {
		d.cells[at.y/dotsHigh*d.w+at.x/dotsWide] |= dotBits[at.y%dotsHigh][at.x%dotsWide]
	}
}

// line sets the dots nearest to a line, from left to right or from top to bottom: one in
// each column or, where it is steep, in each row.
func (d dots) line(from, to dot) {
	wide, high := abs(to.x-from.x), abs(to.y-from.y)
	if wide > high && to.x < from.x || high > wide && to.y < from.y {
		from, to = to, from
	}
	n := max(wide, high, 1)
	for i := range n + 1 {
		d.set(dot{along(from.x, to.x, i, n), along(from.y, to.y, i, n)})
	}
}

// along is where i of n steps from a to b lead, as a whole number; of two as near the one
// nearer to a.
func along(a, b, i, n int) int {
	off := (2*abs(b-a)*i + n - 1) / (2 * n)
	if b < a {
		return a - off
	}
	return a + off
}

func abs(n int) int { return max(n, -n) }

// bar fills from a dot down to the bottom, to the right as far as a column.
func (d dots) bar(top dot, right int) {
	for x := max(top.x, 0); x <= min(max(right-1, top.x), d.w*dotsWide-1); x++ {
		for y := top.y; y < d.h*dotsHigh; y++ {
			d.set(dot{x, y})
		}
	}
}

// level dots a line across the sheet, upright one down it.
func (d dots) level(y int) {
	for x := 0; x < d.w*dotsWide; x += limitStep {
		d.set(dot{x, y})
	}
}

func (d dots) upright(x int) {
	for y := 0; y < d.h*dotsHigh; y += markStep {
		d.set(dot{x, y})
	}
}

package chart

import (
	"math"

	"brine/wrasse/ui/text"
)

// scale turns values into heights between 0 (the bottom dot row) and 1 (the top).
type scale struct {
	lo, hi float64
	log    bool
	marks  []axisMark
}

// axisMark is a value written on the axis.
type axisMark struct {
	y    float64
	name string
}

// scale is one that holds every value and limit in the span, ends at round numbers and
// has marks no closer than two lines.
func (c *Chart) scale(rows int) scale {
	lo, hi := math.Inf(1), math.Inf(-1)
	hold := func(v float64) { lo, hi = min(lo, v), max(hi, v) }
	for _, s := range c.Series {
		for _, p := range s.Points {
			if c.within(p) {
				hold(p.Y)
			}
		}
		if s.Bars {
			hold(0)
		}
	}
	for _, l := range c.Limits {
		hold(l.Y)
	}
	if c.Range != nil {
		l, h := c.Range()
		hold(l)
		hold(h)
	}
	if lo > hi {
		lo, hi = 0, 1
	}
	if c.Log {
		return c.logScale(hi, rows)
	}
	return c.straightScale(lo, hi, rows)
}

func (c *Chart) straightScale(lo, hi float64, rows int) scale {
	if hi-lo < 1e-9*max(math.Abs(hi), 1) {
		pad := max(math.Abs(hi)*0.05, 0.5)
		lo, hi = lo-pad, hi+pad
	}
	step := roundStep((hi - lo) / float64(max(rows/2, 1)))
	lo, hi = math.Floor(lo/step+1e-9)*step, math.Ceil(hi/step-1e-9)*step
	s := scale{lo: lo, hi: hi}
	for v := lo; v <= hi+step/2; v += step {
		s.marks = append(s.marks, axisMark{v, c.Number(snap(v, step))})
	}
	return s
}

// snap takes away what adding steps up has left behind.
func snap(v, step float64) float64 { return math.Round(v/step) * step }

// roundStep is the least of 1, 2 or 5 times a power of ten that is not below v.
func roundStep(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5} {
		if m*p >= v*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// nothing is how far below the floor of a logarithmic scale its bottom lies, in powers
// of ten: there stand the values that are nothing.
const nothing = 0.35

// Lines that numbers on the axis are apart: at least, and where 3 and 30 are to stand
// between the powers of ten.
const (
	apart = 1.0
	roomy = 1.6
)

// logScale goes from below the floor, where 0 is written, to a round number.
func (c *Chart) logScale(hi float64, rows int) scale {
	bottom := math.Log10(c.Floor)
	top := bottom + 1
	for _, v := range logSteps(c.Floor, max(hi, c.Floor*2)) {
		top = math.Log10(v)
	}
	s := scale{lo: bottom - nothing, hi: top, log: true}
	s.marks = append(s.marks, axisMark{0, c.Number(0)})
	perRow := (s.hi - s.lo) / float64(max(rows-1, 1))
	last := s.lo
	halves := math.Log10(3) >= perRow*roomy // room for 3, 30 and 300 too
	for _, v := range logSteps(c.Floor, math.Pow(10, top)) {
		at := math.Log10(v)
		whole := math.Abs(at-math.Round(at)) < 1e-9
		if at-last >= perRow*apart && (halves || whole) {
			s.marks = append(s.marks, axisMark{v, c.Number(v)})
			last = at
		}
	}
	return s
}

// logSteps are 1, 3, 10, 30 and so on from the floor up to the first that holds hi.
func logSteps(floor, hi float64) []float64 {
	var out []float64
	for p := math.Floor(math.Log10(floor)); ; p++ {
		for _, m := range []float64{1, 3} {
			v := m * math.Pow(10, p)
			if v < floor*(1-1e-9) {
				continue
			}
			out = append(out, v)
			if v >= hi*(1-1e-9) {
				return out
			}
		}
	}
}

// height is where a value stands, from 0 to 1.
func (s scale) height(v float64) float64 {
	at := v
	if s.log {
		at = s.lo
		if v > 0 {
			at = math.Log10(v)
		}
	}
	if s.hi <= s.lo {
		return 0
	}
	return min(max((at-s.lo)/(s.hi-s.lo), 0), 1)
}

// row is the line, counted from the top of rows, in which a value stands.
func (s scale) row(v float64, rows int) int {
	dots := rows*dotsHigh - 1
	return (dots - int(math.Round(s.height(v)*float64(dots)))) / dotsHigh
}

// width is the room the axis takes.
func (s scale) width() int {
	w := 0
	for _, m := range s.marks {
		w = max(w, text.Width(m.name))
	}
	return w
}

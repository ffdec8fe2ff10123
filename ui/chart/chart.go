// Package chart draws values over time in a block of terminal cells: lines and bars
// of braille dots, on a straight or a logarithmic scale, with limits and marks.
//
// A Chart is a value and Draw is pure: exactly h lines of w cells.
//
// Nothing rests on colour: series end in their names, limits are dotted and carry
// their value, marks are letters on the time axis, and readings that count nowhere are
// drawn as rings.
package chart

import (
	"math"

	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	"github.com/charmbracelet/lipgloss"
)

// Chart is what is to be drawn. X is in days on any scale, From before To.
type Chart struct {
	Title  string // of the first line, cleaned by the caller as all texts here
	Aside  string // at the right end of the title
	From   float64
	To     float64
	Log    bool    // values below Floor are drawn at the bottom, as nothing
	Floor  float64 // least value of a logarithmic scale that is told apart from nothing
	Series []Series
	Limits []Limit
	Marks  []Mark
	Ticks  []Tick                  // of the time axis, from left to right
	Number func(float64) string    // writes a value on the axis
	Empty  string                  // said in the middle when no series has a point
	Range  func() (lo, hi float64) // what the scale must hold beside the values; may be nil
}

// Series is one line of values, or bars.
type Series struct {
	Name    string // written at its right end where there is room
	Label   string // what it is of, where there are several; not drawn
	Style   lipgloss.Style
	Points  []Point // in order of X
	Bars    bool    // bars from the bottom, each BarDays wide
	BarDays float64
	Breaks  []float64 // days from which values are of another thing: the line is not joined across them
}

// Point is a value on a day.
type Point struct {
	X, Y float64
	Ring bool // shown only: it is not joined to the others
}

// Limit is a value not to be crossed.
type Limit struct {
	Y    float64
	Name string
}

// Mark is a letter on the time axis with a dotted line above it.
type Mark struct {
	X      float64
	Letter rune
	Name   string // what the letter stands for; not drawn
}

// Tick is a label of the time axis; its first cell stands at X.
type Tick struct {
	X    float64
	Name string
}

// Least sizes: below them a block holds the title and what fits of it.
const (
	MinW = 24
	MinH = 5
)

const (
	nameGap = 1 // cells between the plot and the names at its right
	maxName = 16
)

// Draw draws the chart in exactly h lines of w cells.
func (c Chart) Draw(th theme.Theme, w, h int) []string {
	lines := make([]string, 0, max(h, 0))
	lines = append(lines, text.Spread(th.Title.Render(c.Title), th.Dim.Render(c.Aside), w))
	if w < MinW || h < MinH {
		return fitted(lines, w, h)
	}
	s := c.scale(h - 3)
	ends := c.ends(th, s, h-3)
	p := plot{chart: &c, theme: th, scale: s, axis: s.width(), names: 0}
	for _, e := range ends {
		p.names = max(p.names, min(text.Width(e.name), maxName))
	}
	if p.names > 0 {
		p.names += nameGap
	}
	p.w, p.h = w-p.axis-1-p.names, h-3
	if p.w < MinW/2 { // names go before the plot does
		p.w, p.names = w-p.axis-1, 0
	}
	p.draw()
	lines = append(lines, p.rows(ends)...)
	lines = append(lines, p.timeAxis(), p.tickLine())
	return fitted(lines, w, h)
}

// fitted is exactly h lines of w cells.
func fitted(lines []string, w, h int) []string {
	out := make([]string, max(h, 0))
	for i := range out {
		if i < len(lines) {
			out[i] = text.Fit(lines[i], w)
			continue
		}
		out[i] = text.Fit("", w)
	}
	return out
}

// empty tells whether there is nothing to draw in the span.
func (c *Chart) empty() bool {
	for _, s := range c.Series {
		for _, p := range s.Points {
			if c.within(p) {
				return false
			}
		}
	}
	return true
}

func (c *Chart) within(p Point) bool {
	return p.X >= c.From && p.X <= c.To && !math.IsNaN(p.Y) && !math.IsInf(p.Y, 0)
}

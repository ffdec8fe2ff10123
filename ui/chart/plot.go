package chart

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	"github.com/charmbracelet/lipgloss"
)

// ring is what counts nowhere, and dotEvery how far apart the dots of a line that is
// no value stand.
const (
	ring      = 'o'
	limitStep = 4
	markStep  = 3
)

// cell is one cell of the plot; look is an index into the plot's looks.
type cell struct {
	r    rune
	look int
}

// plot is a chart being drawn.
type plot struct {
	chart *Chart
	theme theme.Theme
	scale scale
	axis  int // cells of the numbers at the left
	names int // cells of the names at the right
	w, h  int // cells of the plot itself
	cells [][]cell
	looks []lipgloss.Style // one for each sheet laid on
}

// look takes in a style that cells are to have.
func (p *plot) look(style lipgloss.Style) int {
	p.looks = append(p.looks, style)
	return len(p.looks) - 1
}

// draw puts everything into the cells, what matters least first.
func (p *plot) draw() {
	p.cells = make([][]cell, p.h)
	for y := range p.cells {
		p.cells[y] = make([]cell, p.w)
	}
	p.layer(p.theme.Dim, func(d dots) {
		for _, m := range p.chart.Marks {
			d.upright(p.dotX(m.X))
		}
	})
	p.layer(p.theme.Dim, func(d dots) {
		for _, l := range p.chart.Limits {
			d.level(p.dotY(l.Y))
		}
	})
	for _, s := range p.chart.Series {
		look := p.layer(s.Style, func(d dots) { p.series(d, s) })
		for _, pt := range s.Points {
			if pt.Ring && p.chart.within(pt) {
				p.cells[p.dotY(pt.Y)/dotsHigh][p.dotX(pt.X)/dotsWide] = cell{ring, look}
			}
		}
	}
	if p.chart.empty() {
		p.say(p.chart.Empty)
	}
}

// series draws the line or the bars of a series.
func (p *plot) series(d dots, s Series) {
	var before *dot
	from := math.Inf(-1)
	for _, pt := range s.Points {
		if pt.Ring || math.IsNaN(pt.Y) {
			continue
		}
		at := dot{p.dotX(pt.X), p.dotY(pt.Y)}
		if s.Bars {
			if p.chart.within(pt) {
				d.bar(at, p.dotX(pt.X+s.BarDays)-1)
			}
			continue
		}
		if slices.ContainsFunc(s.Breaks, func(x float64) bool { return from < x && x <= pt.X }) {
			before = nil
		}
		if before != nil && pt.X >= p.chart.From {
			d.line(*before, at)
		} else if p.chart.within(pt) {
			d.line(at, at)
		}
		before, from = &at, pt.X
	}
}

// dotX is the dot column of a day. Days outside the span lie outside the plot.
func (p *plot) dotX(x float64) int {
	span := p.chart.To - p.chart.From
	if span <= 0 {
		return 0
	}
	return int(math.Round((x - p.chart.From) / span * float64(p.w*dotsWide-1)))
}

// dotY is the dot row of a value, from the top.
func (p *plot) dotY(y float64) int {
	dots := p.h*dotsHigh - 1
	return dots - int(math.Round(p.scale.height(y)*float64(dots)))
}

// layer draws a sheet of dots and lays it over what is there: dots add up, the look of
// the upper sheet stands. It returns that look.
func (p *plot) layer(style lipgloss.Style, draw func(dots)) int {
	look := p.look(style)
	d := newDots(p.w, p.h)
	draw(d)
	for i, bits := range d.cells {
		if bits == 0 {
			continue
		}
		c := &p.cells[i/p.w][i%p.w]
		if c.r >= brailleBlank {
			bits |= c.r
		}
		*c = cell{brailleBlank | bits, look}
	}
	return look
}

// say writes a remark into the middle of the plot.
func (p *plot) say(s string) {
	lines := text.Wrap(s, p.w-2)
	y, look := (p.h-len(lines))/2, p.look(p.theme.Dim)
	for i, line := range lines {
		if y+i < 0 || y+i >= p.h {
			continue
		}
		x := (p.w - text.Width(line)) / 2
		for _, r := range line {
			if text.Width(string(r)) == 1 && x < p.w {
				p.cells[y+i][x] = cell{r, look}
				x++
			}
		}
	}
}

// rows are the lines of the plot with the axis before and the names behind them.
func (p *plot) rows(ends []end) []string {
	out := make([]string, p.h)
	for y := range out {
		var b strings.Builder
		b.WriteString(p.theme.Dim.Render(text.Right(p.axisAt(y), p.axis)) + " ")
		b.WriteString(p.joined(p.cells[y]))
		if p.names > 0 {
			for _, e := range ends {
				if e.row == y {
					b.WriteString(strings.Repeat(" ", nameGap) + e.style.Render(text.Fit(e.name, p.names-nameGap)))
				}
			}
		}
		out[y] = b.String()
	}
	return out
}

// joined is a row of cells as text, each stretch of one look styled once.
func (p *plot) joined(row []cell) string {
	var b strings.Builder
	for i := 0; i < len(row); {
		var run strings.Builder
		j := i
		for ; j < len(row) && alike(row[i], row[j]); j++ {
			run.WriteRune(cmp.Or(row[j].r, ' '))
		}
		if row[i].r == 0 {
			b.WriteString(run.String())
		} else {
			b.WriteString(p.looks[row[i].look].Render(run.String()))
		}
		i = j
	}
	return b.String()
}

// alike tells whether two cells are both blank or have one look.
func alike(a, b cell) bool {
	if a.r == 0 || b.r == 0 {
		return a.r == b.r
	}
	return a.look == b.look
}

package chart

import (
	"cmp"
	"math"
	"strings"

	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	"github.com/NimbleMarkets/ntcharts/canvas"
	"github.com/NimbleMarkets/ntcharts/canvas/graph"
	"github.com/NimbleMarkets/ntcharts/canvas/runes"
	"github.com/charmbracelet/lipgloss"
)

// Dots of a braille cell.
const (
	dotsWide = 2
	dotsHigh = 4
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
	p.layer(p.theme.Dim, func(g grid) {
		for _, m := range p.chart.Marks {
			g.upright(p.dotX(m.X))
		}
	})
	p.layer(p.theme.Caution, func(g grid) {
		for _, l := range p.chart.Limits {
			g.level(p.dotY(l.Y))
		}
	})
	for _, s := range p.chart.Series {
		look := p.layer(s.Style, func(g grid) { p.series(g, s) })
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
func (p *plot) series(g grid, s Series) {
	var before *canvas.Point
	for _, pt := range s.Points {
		if pt.Ring || math.IsNaN(pt.Y) {
			continue
		}
		at := canvas.Point{X: p.dotX(pt.X), Y: p.dotY(pt.Y)}
		if s.Bars {
			if p.chart.within(pt) {
				g.bar(at, p.dotX(pt.X+s.BarDays)-1)
			}
			continue
		}
		if before != nil && pt.X >= p.chart.From {
			g.line(*before, at)
		} else if p.chart.within(pt) {
			g.line(at, at)
		}
		before = &at
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

// grid is a sheet of dots to be laid over the plot.
type grid struct {
	*graph.BrailleGrid
	w, h int // dots
}

// layer draws a sheet of dots and lays it over what is there: dots add up, the look of
// the upper sheet stands. It returns that look.
func (p *plot) layer(style lipgloss.Style, draw func(grid)) int {
	look := p.look(style)
	g := grid{graph.NewBrailleGrid(p.w, p.h, 0, 1, 0, 1), p.w * dotsWide, p.h * dotsHigh}
	draw(g)
	for y, row := range g.BraillePatterns() {
		for x, r := range row {
			if r == runes.BrailleBlockOffset {
				continue
			}
			if was := p.cells[y][x].r; runes.IsBraillePattern(was) {
				r = runes.CombineBraillePatterns(was, r)
			}
			p.cells[y][x] = cell{r, look}
		}
	}
	return look
}

func (g grid) line(a, b canvas.Point) {
	for _, pt := range graph.GetLinePoints(a, b) {
		g.Set(pt)
	}
}

// bar fills from a dot down to the bottom, to the right as far as a column.
func (g grid) bar(top canvas.Point, right int) {
	for x := max(top.X, 0); x <= min(max(right-1, top.X), g.w-1); x++ {
		for y := top.Y; y < g.h; y++ {
			g.Set(canvas.Point{X: x, Y: y})
		}
	}
}

func (g grid) level(y int) {
	for x := 0; x < g.w; x += limitStep {
		g.Set(canvas.Point{X: x, Y: y})
	}
}

func (g grid) upright(x int) {
	for y := 0; y < g.h; y += markStep {
		g.Set(canvas.Point{X: x, Y: y})
	}
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
		b.WriteString(p.theme.Dim.Render(text.Right(p.axisAt(y), p.axis)) + p.theme.Rule.Render("|"))
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

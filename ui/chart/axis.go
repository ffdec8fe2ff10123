package chart

import (
	"cmp"
	"slices"
	"strings"

	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	"github.com/charmbracelet/lipgloss"
)

// axisAt is the number written at a line, if any.
func (p *plot) axisAt(y int) string {
	for _, m := range p.scale.marks {
		if p.scale.row(m.y, p.h) == y {
			return m.name
		}
	}
	return ""
}

// timeAxis is the line under the plot, with the letters of the marks in it.
func (p *plot) timeAxis() string {
	line := []rune(strings.Repeat(theme.Level, max(p.w, 0)))
	letters := map[int]bool{}
	for _, m := range p.chart.Marks {
		if x := p.dotX(m.X) / dotsWide; m.X >= p.chart.From && m.X <= p.chart.To && x < len(line) {
			for letters[x] && x+1 < len(line) {
				x++
			}
			line[x], letters[x] = m.Letter, true
		}
	}
	var b strings.Builder
	b.WriteString(strings.Repeat(" ", p.axis+1))
	for i := 0; i < len(line); {
		j := i
		for ; j < len(line) && letters[j] == letters[i]; j++ {
		}
		style := p.theme.Rule
		if letters[i] {
			style = p.theme.Title
		}
		b.WriteString(style.Render(string(line[i:j])))
		i = j
	}
	return b.String()
}

// tickLine is the labels of the time axis, as many as fit.
func (p *plot) tickLine() string {
	at := 0
	var b strings.Builder
	for _, t := range p.chart.Ticks {
		x := p.dotX(t.X) / dotsWide
		if t.X < p.chart.From || x < at || x+text.Width(t.Name) > p.w+p.names {
			continue
		}
		b.WriteString(strings.Repeat(" ", x-at) + t.Name + " ")
		at = x + text.Width(t.Name) + 1
	}
	return strings.Repeat(" ", p.axis+1) + p.theme.Dim.Render(b.String())
}

// end is a name at the right end of the plot.
type end struct {
	row   int
	name  string
	style lipgloss.Style
}

// ends are the names of the series and the limits, each in the line of its last value
// or, where that is taken, below the greater ones and above the lesser.
func (c *Chart) ends(th theme.Theme, s scale, rows int) []end {
	type named struct {
		end
		height float64
	}
	var all []named
	for _, sr := range c.Series {
		if sr.Name != "" && len(sr.Points) > 0 {
			y := sr.Points[len(sr.Points)-1].Y
			all = append(all, named{end{s.row(y, rows), sr.Name, th.Text}, s.height(y)})
		}
	}
	for _, l := range c.Limits {
		if l.Name != "" {
			all = append(all, named{end{s.row(l.Y, rows), l.Name, th.Dim}, s.height(l.Y)})
		}
	}
	slices.SortStableFunc(all, func(a, b named) int { return cmp.Compare(b.height, a.height) })
	all = all[:min(len(all), rows)]
	for i := range all {
		if i > 0 {
			all[i].row = max(all[i].row, all[i-1].row+1)
		}
	}
	last := rows
	for i := len(all) - 1; i >= 0; i-- {
		all[i].row = min(all[i].row, last-1)
		last = all[i].row
	}
	out := make([]end, len(all))
	for i, n := range all {
		out[i] = n.end
	}
	return out
}

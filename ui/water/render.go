package water

import (
	"fmt"
	"strings"

	"brine/wrasse/ui/chart"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
)

// Heights of a chart: what it takes at least, and what makes it no clearer.
const (
	chartMin = 6
	chartMax = 18
)

// narrow is everything one below the other: what it means and what to do, the stages, what was read, and charts in what is
// left of h, one at least.
func (s *Screen) narrow(w, h int) []string {
	var lines []string
	lines = append(lines, s.heading("what the readings say", s.more(w), w))
	lines = append(lines, s.brief(w, false)...)
	lines = append(lines, s.heading("stages", "", w))
	lines = append(lines, s.stages(w)...)
	full := s.onHand(w)
	latest := append([]string{s.heading("latest", "how old", w)}, s.values(s.foremost(), w)...)
	if len(lines)+len(full)+len(latest)+chartMin > h {
		full = s.vessels(w)
	}
	lines = append(append(lines, full...), latest...)
	room := h - len(lines)
	n := min(max(room/(chartMin+2), 1), len(s.charts))
	if n == 1 {
		return append(lines, s.one(w, min(max(room, chartMin), chartMax))...)
	}
	for i := range n {
		c := s.charts[(s.chart+i)%len(s.charts)]
		if i == 0 {
			c = s.headed(c, n, w)
		}
		lines = append(lines, c.Draw(s.session.Root.Theme(), w, min((room+i)/n, chartMax))...)
	}
	return lines
}

// one is the chart chosen, with its place among the others.
func (s *Screen) one(w, h int) []string {
	return s.headed(s.charts[s.chart], 1, w).Draw(s.session.Root.Theme(), w, h)
}

// headed is the first of the charts shown, with the span and its place among them.
func (s *Screen) headed(c chart.Chart, shown, w int) chart.Chart {
	c.Title += " · " + spans[s.span].name
	c.Aside = s.place(c.Aside, shown, w-text.Width(c.Title))
	return c
}

// place adds which of the charts are shown to an aside, as far as both fit in room.
func (s *Screen) place(aside string, shown, room int) string {
	place := ""
	switch {
	case shown == 1:
		place = fmt.Sprintf("< %d of %d >", s.chart+1, len(s.charts))
	case shown < len(s.charts):
		place = fmt.Sprintf("< %d-%d of %d >", s.chart+1, (s.chart+shown-1)%len(s.charts)+1, len(s.charts))
	}
	if place == "" || aside != "" && text.Width(aside)+text.Width(place)+4 > room {
		return aside + strings.Repeat(place, 1-min(len(aside), 1))
	}
	if aside == "" {
		return place
	}
	return aside + "  " + place
}

// gap stands between columns side by side.
const gap = 3

// wide is charts at the left and the words at the right.
func (s *Screen) wide(w, h int) string {
	right := min(w*9/20, 66)
	left := w - right - gap
	var side []string
	side = append(side, s.heading("what the readings say", s.more(right), right))
	side = append(side, s.brief(right, true)...)
	side = append(side, "", s.heading("stages", "", right))
	side = append(side, s.cards(right)...)
	if on := s.onHand(right); on != nil {
		side = append(append(side, ""), on...)
	}
	latest := append([]string{s.heading("latest", "how old", right)}, s.values(s.table(), right)...)
	if len(side)+len(latest) < h {
		side = append(side, "")
	}
	side = append(side, latest...)
	if rest := h - len(side) - 2; rest > 3 {
		if besides := s.said(right, rest); len(besides) > 0 {
			side = append(append(side, "", s.heading("besides", "", right)), besides...)
		}
	}
	plot := s.grid(left, h)
	rows := make([]string, h)
	for i := range rows {
		l, r := "", ""
		if i < len(plot) {
			l = plot[i]
		}
		if i < len(side) {
			r = side[i]
		}
		rows[i] = text.Fit(l, left) + text.Fit(" "+s.session.Root.Theme().Rule.Render(theme.Upright), gap) + text.Fit(r, right)
	}
	return text.Block(rows, w, h)
}

// grid is as many charts as fit in w by h cells, in two columns where there is room.
func (s *Screen) grid(w, h int) []string {
	columns := 1
	if w >= gridW*3/5 {
		columns = 2
	}
	rows := min(max(h/(chartMin+2), 1), (len(s.charts)+columns-1)/columns)
	each := (w - (columns-1)*gap) / columns
	var out []string
	for r := range rows {
		height := h*(r+1)/rows - h*r/rows
		var cells [][]string
		for c := range columns {
			i := (s.chart + r*columns + c) % len(s.charts)
			shown := s.charts[i]
			if r == 0 && c == 0 {
				shown = s.headed(shown, rows*columns, each)
			}
			drawn := shown.Draw(s.session.Root.Theme(), each, height-1)
			cells = append(cells, append(drawn, text.Fit("", each)))
		}
		for y := range cells[0] {
			row := make([]string, len(cells))
			for c := range cells {
				row[c] = cells[c][y]
			}
			out = append(out, strings.Join(row, strings.Repeat(" ", gap)))
		}
	}
	return out
}

// heading is a section's name in a rule, with a remark at its end.
func (s *Screen) heading(name, remark string, w int) string {
	th := s.session.Root.Theme()
	if th.Plain {
		return th.Title.Render(text.Fit(name, w))
	}
	room := w - text.Width(name) - 1
	if remark != "" {
		room -= text.Width(remark) + 1
	}
	return strings.TrimRight(th.Title.Render(name)+" "+th.Line(room)+" "+remark, " ")
}

// more is how to see what the brief leaves out, beside its heading in w cells.
func (s *Screen) more(w int) string {
	more := phrase.MoreToSay(s.session.Book, s.is)
	if more == "" {
		return ""
	}
	th := s.session.Root.Theme()
	first, _, _ := strings.Cut(more, " · ")
	return th.Key.Render("w") + " " + th.Dim.Render(text.Longest(w-len("what the readings say  w "), more, first, "more"))
}

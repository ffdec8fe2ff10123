package water

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	physics "brine/wrasse/model/water"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/chart"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/tide"
	"brine/wrasse/ui/words"
)

// Heights of a chart: what it takes at least, and what makes it no clearer.
const (
	chartMin = 7
	chartMax = 18
)

// narrow is everything one below the other: what was read, the stages, what it means,
// and charts in what is left of h, one at least.
func (s *Screen) narrow(w, h int) []string {
	var lines []string
	lines = append(lines, s.values(s.foremost(), w)...)
	lines = append(lines, s.heading("stages", "", w))
	lines = append(lines, s.stages(w)...)
	lines = append(lines, s.heading("what the readings say", s.more(), w))
	lines = append(lines, s.brief(w)...)
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
		lines = append(lines, c.Draw(s.desk.Root.Theme(), w, min((room+i)/n, chartMax))...)
	}
	return lines
}

// one is the chart chosen, with its place among the others.
func (s *Screen) one(w, h int) []string {
	return s.headed(s.charts[s.chart], 1, w).Draw(s.desk.Root.Theme(), w, h)
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
		place = fmt.Sprintf("< %d from %d of %d >", shown, s.chart+1, len(s.charts))
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
	side = append(side, s.values(s.table(), right)...)
	side = append(side, "", s.heading("stages", "", right))
	side = append(side, s.cards(right)...)
	side = append(side, "", s.heading("what the readings say", "", right))
	side = append(side, s.said(right, h-len(side))...)
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
		rows[i] = text.Fit(l, left) + text.Fit(" "+s.desk.Root.Theme().Rule.Render("|"), gap) + text.Fit(r, right)
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
			drawn := shown.Draw(s.desk.Root.Theme(), each, height-1)
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
	th := s.desk.Root.Theme()
	room := w - text.Width(name) - 1
	if remark != "" {
		room -= text.Width(remark) + 1
	}
	return strings.TrimRight(th.Title.Render(name)+" "+th.Rule.Render(strings.Repeat("-", max(room, 0)))+" "+remark, " ")
}

// more is how to see what the brief leaves out.
func (s *Screen) more() string {
	more := words.MoreToSay(s.is)
	if more == "" {
		return ""
	}
	th := s.desk.Root.Theme()
	return th.Key.Render("w") + " " + th.Dim.Render(more)
}

// bar is the tide bar of a chore in w cells, with its look.
func (s *Screen) bar(st *schedule.Standing, w int) string {
	th := s.desk.Root.Theme()
	if !st.HasDue {
		return text.Fit("", w)
	}
	toLimit := 0
	if !st.Limit.IsZero() {
		toLimit = st.Limit.Sub(st.Due)
	}
	drawn := tide.Bar(w, tide.At(s.is.On.Sub(st.Start), st.Due.Sub(st.Start), max(toLimit, 0)))
	switch {
	case st.PastLimit:
		return th.Limit.Render(drawn)
	case st.State == schedule.StateLate:
		return th.Late.Render(drawn)
	case st.State == schedule.StateDue || st.State == schedule.StateSoon:
		return th.Soon.Render(drawn)
	}
	return th.Tide.Render(drawn)
}

// standing is the chore that renews a stage, the one to be done first of several.
func (s *Screen) standing(stage model.Stage) *schedule.Standing {
	r := s.desk.Round
	for i := range r.Standings {
		if st := &r.Standings[i]; st.Component.Stage == stage && st.Chore.Work == model.WorkRenew {
			return st
		}
	}
	return nil
}

// inUse tells whether the book has a component of a stage.
func (s *Screen) inUse(stage model.Stage) bool {
	for _, c := range s.desk.Book.Components() {
		if c.Stage == stage && c.Retired.IsZero() {
			return true
		}
	}
	return false
}

// verdict is the word on a stage, with its look.
func (s *Screen) verdict(v physics.Verdict) string {
	th := s.desk.Root.Theme()
	switch v {
	case physics.Act:
		return th.Late.Render("act")
	case physics.Watch:
		return th.Soon.Render("watch")
	case physics.Sound:
		return th.Good.Render("sound")
	}
	return th.Dim.Render(string(v))
}

const barWidth = 14

// stages is a line for each stage: its bar, when it is due, the verdict and why.
func (s *Screen) stages(w int) []string {
	var out []string
	for _, stage := range words.Stages() {
		if !s.inUse(stage) {
			continue
		}
		v := s.is.Verdict(stage)
		name, bar, when := text.Fit(words.StageName(stage), 8), "", ""
		if st := s.standing(stage); st != nil {
			bar, when = s.bar(st, barWidth), words.When(st, s.is.On)
		}
		row := name + " " + text.Fit(bar, barWidth) + " " + text.Fit(when, 11) + " " + s.verdict(v.Verdict)
		if room := w - text.Width(row) - 2; room >= 12 {
			row += ": " + text.Fit(text.Clean(v.Because), room)
		}
		out = append(out, text.Fit(row, w))
	}
	if out == nil {
		out = append(out, text.Fit("no stage in the book; view 3 adds them", w))
	}
	return out
}

// cards is a card for each stage: a line with its bar, and the reason in full.
func (s *Screen) cards(w int) []string {
	th := s.desk.Root.Theme()
	var out []string
	for _, stage := range words.Stages() {
		if !s.inUse(stage) {
			continue
		}
		v := s.is.Verdict(stage)
		bar, when := "", ""
		if st := s.standing(stage); st != nil {
			bar, when = s.bar(st, barWidth+6), words.When(st, s.is.On)
		}
		head := th.Title.Render(text.Fit(words.StageName(stage), 9)) + text.Fit(bar, barWidth+6) + "  " + text.Fit(when, 11) + " " + s.verdict(v.Verdict)
		out = append(out, text.Fit(head, w))
		because := v.Because
		if v.Verdict == physics.Act || v.Verdict == physics.Watch {
			because, _, _ = strings.Cut(because, ": ") // its readings stand with the causes
		}
		for _, line := range cut(text.Wrap(text.Clean(because), w-2), 2) {
			out = append(out, "  "+th.Dim.Render(line))
		}
	}
	if out == nil {
		out = append(out, text.Fit("no stage in the book; view 3 adds them", w))
	}
	return out
}

// cut is at most n lines, the last of them ending in an ellipsis where some were left out.
func cut(lines []string, n int) []string {
	if len(lines) <= n {
		return lines
	}
	out := append([]string{}, lines[:n]...)
	out[n-1] += text.Ellipsis
	return out
}

// brief is the likeliest cause and what to do, in two lines.
func (s *Screen) brief(w int) []string {
	th := s.desk.Root.Theme()
	c, ok := s.first()
	if !ok {
		return append(cut(text.Wrap(text.Clean(s.nothing()), w), 2), s.silent(w)...)
	}
	head := th.Title.Render(text.Clean(c.Cause)) + ", " + c.Sure.String()
	if room := w - text.Width(head) - 2; room > 16 {
		head += ": " + th.Dim.Render(text.Fit(text.Clean(c.Because), room))
	}
	return append([]string{text.Fit(head, w), text.Fit("next: "+text.Clean(c.Next), w)}, s.silent(w)...)
}

// silent names what has not been logged for long, which makes the dates above wrong.
func (s *Screen) silent(w int) []string {
	var out []string
	for _, say := range words.Silent(s.desk.Book, s.is.On) {
		for _, line := range text.Wrap(text.Clean(say), w) {
			out = append(out, s.desk.Root.Theme().Caution.Render(line))
		}
	}
	return out
}

func (s *Screen) first() (physics.Cause, bool) {
	if len(s.is.Diagnosis.Causes) == 0 {
		return physics.Cause{}, false
	}
	return s.is.Diagnosis.Causes[0], true
}

// nothing is what is said when the readings give no cause.
func (s *Screen) nothing() string {
	switch {
	case s.is.Refused != nil:
		return "a reading can't be true: " + s.is.Refused.Error() + "; amend it in the log"
	case len(s.is.Diagnosis.CannotTell) > 0:
		return s.is.Diagnosis.CannotTell[0]
	}
	return "nothing to say yet: r logs the first readings"
}

// said is as much of the diagnosis as goes into h lines.
func (s *Screen) said(w, h int) []string {
	lines := s.diagnosis(w)
	if len(lines) <= h || h < 1 {
		return lines
	}
	th := s.desk.Root.Theme()
	return append(lines[:h-1:h-1], th.Key.Render("w")+" "+th.Dim.Render("shows the rest"))
}

// diagnosis is all causes with what they rest on, and what can't be told.
func (s *Screen) diagnosis(w int) []string {
	th := s.desk.Root.Theme()
	var out []string
	for i, c := range s.is.Diagnosis.Causes {
		head := fmt.Sprintf("%d %s, %s", i+1, text.Clean(c.Cause), c.Sure)
		for j, line := range text.Wrap(head, w-2) {
			if j > 0 {
				line = "  " + line
			}
			out = append(out, th.Title.Render(line))
		}
		for _, line := range text.Wrap(text.Clean(c.Because), w-2) {
			out = append(out, "  "+th.Dim.Render(line))
		}
		for _, line := range text.Wrap("next: "+text.Clean(c.Next), w-2) {
			out = append(out, "  "+line)
		}
	}
	if len(s.is.Diagnosis.Causes) == 0 && len(s.is.Diagnosis.CannotTell) == 0 {
		out = append(out, text.Wrap(text.Clean(s.nothing()), w)...)
	}
	out = append(out, s.silent(w)...)
	for _, q := range append(append([]string{}, s.is.Diagnosis.CannotTell...), s.is.Cautions...) {
		for j, line := range text.Wrap("? "+text.Clean(q), w-2) {
			if j > 0 {
				line = "  " + line
			}
			out = append(out, line)
		}
	}
	return out
}

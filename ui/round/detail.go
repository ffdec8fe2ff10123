package round

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
)

// detail is what there is to say about a row.
func (s *Screen) detail(r *row, w, h int) []string {
	switch {
	case r.f != nil:
		return s.faultDetail(r.f, w)
	case r.b != nil:
		return s.breachDetail(r.b, w)
	case r.s != nil:
		return s.choreDetail(r.s, w, h)
	}
	return s.dayDetail(w)
}

// sheet gathers wrapped lines with a hanging head.
type sheet struct {
	th    theme.Theme
	w     int
	lines []string
}

// headWidth is the column in which the sentences of a detail begin.
const headWidth = 9

// title adds a heading: what it is about and how that stands, on one line where both fit.
func (t *sheet) title(what, stands string) {
	what, stands = text.Clean(what), text.Clean(stands)
	if one := what + " · " + stands; text.Width(one) <= t.w {
		t.lines = append(t.lines, t.th.Title.Render(one))
		return
	}
	t.lines = append(t.lines, t.th.Title.Render(text.Fit(what, t.w)), text.Fit(stands, t.w))
}

// say adds a sentence after a head; render may be nil.
func (t *sheet) say(head, s string, render func(...string) string) {
	if s == "" {
		return
	}
	if render == nil {
		render = t.th.Text.Render
	}
	t.lines = append(t.lines, text.Para(t.w, t.th.Dim.Render(text.Fit(head, headWidth)), text.Fit("", headWidth), render, s)...)
}

// lowPane is the height below which a detail keeps to the shortest of everything.
const lowPane = 12

// choreDetail explains a chore: why it has its date, what it risks, what to be careful
// about, then the figures of its clocks. In a low pane as much of that as there is room for.
func (s *Screen) choreDetail(st *schedule.Standing, w, h int) []string {
	th, b, on := s.session.Root.Theme(), s.session.Book, s.session.Round.On
	low := h < lowPane
	t := &sheet{th: th, w: w}
	if !low {
		t.title(st.Component.Name+": "+phrase.Name(b, st), phrase.Due(st, on))
	}
	t.put(phrase.Put(st, on), nil)
	t.put(phrase.Reason(b, st, on), th.Title.Render)
	t.say("risk", phrase.Risk(st), nil)
	care := phrase.Caution(b, st.Chore)
	if low {
		care = strings.TrimRight(text.Fit(text.Clean(care), w-headWidth), " ")
	}
	t.say("caution", care, th.Caution.Render)
	rows := phrase.ClockRows(b, st, on)
	if low {
		rows = rows[:min(len(rows), 2)]
	}
	t.figures(rows)
	for _, d := range phrase.Drift(b, st, on) {
		t.say("drift", d, th.Soon.Render)
	}
	if g := st.Governing(); !low || g != nil && g.Learns && g.Observations > 0 {
		t.say("learnt", phrase.Learnt(b, st), nil)
	}
	need, short := phrase.Needs(b, st)
	render := th.Text.Render
	if short {
		render = th.Soon.Render
	}
	t.say("needs", strings.TrimPrefix(need, "needs "), render)
	t.say("with it", s.meanwhile(st), nil)
	t.say("flag", flagged(b, st.Component.ID), nil)
	t.say("from", phrase.LearntFrom(b, st, on), th.Dim.Render)
	t.say("lead", phrase.LeadFigures(st), th.Dim.Render)
	t.reckoned(b, st, on)
	t.say("change", phrase.Change(b, st), th.Dim.Render)
	t.say("last", phrase.Last(st, on), th.Dim.Render)
	t.say("reach", reachOf(b, st), th.Dim.Render)
	for _, silent := range s.silentOf(st) {
		t.say("silent", silent, th.Soon.Render)
	}
	return t.lines
}

// put adds a sentence without a head; render may be nil.
func (t *sheet) put(s string, render func(...string) string) {
	if s != "" {
		t.lines = append(t.lines, text.Para(t.w, "", "", render, s)...)
	}
}

// figures adds clocks as a table: how far each has come, how fast it goes, its dates.
func (t *sheet) figures(rows []phrase.ClockRow) {
	come, pace, due, limit := 0, 0, len("due"), len("limit")
	for _, r := range rows {
		come, pace = max(come, text.Width(text.Clean(r.Come))), max(pace, text.Width(text.Clean(r.Pace)))
		due, limit = max(due, text.Width(r.Due)), max(limit, text.Width(r.Limit))
	}
	columns := []text.Column{{Width: headWidth - 1}, {Width: come}, {Width: pace}, {Width: due, Right: true}, {Width: limit, Right: true}}
	if text.RowWidth(1, columns) > t.w {
		columns[2].Width = 0 // how fast it goes is what can be done without
	}
	if text.RowWidth(1, columns) > t.w { // nor have the dates room beside the rest
		for _, r := range rows {
			t.say(r.Head, r.Come, nil)
			dates := ""
			if r.Due != "" {
				dates = "due " + strings.TrimSpace(r.Due)
			}
			if r.Limit != "" {
				dates += ", limit " + strings.TrimSpace(r.Limit)
			}
			t.say("", dates, nil)
		}
		return
	}
	if len(rows) > 0 {
		t.lines = append(t.lines, t.th.Dim.Render(text.Row(1, columns, "", "", "", "due", "limit")))
	}
	for _, r := range rows {
		line := text.Row(1, columns, text.Clean(r.Head), text.Clean(r.Come), text.Clean(r.Pace), r.Due, r.Limit)
		if r.Decides {
			line = t.th.Marked.Render(line)
		}
		t.lines = append(t.lines, line)
	}
}

// reckoned adds what a clock's life rests on where nobody logged or taught it.
func (t *sheet) reckoned(b *ledger.Book, st *schedule.Standing, on model.Date) {
	for _, l := range phrase.Clocks(b, st, on) {
		t.say(l.Head, l.Why, t.th.Dim.Render)
		t.say("", l.Guess, t.th.Dim.Render)
	}
}

// reachOf is how hard the component is to get at, and whether anybody has looked.
func reachOf(b *ledger.Book, s *schedule.Standing) string {
	out := fmt.Sprintf("grade %d, %d min to get at it", s.Component.Reach, s.Component.AccessMinutes)
	if with := s.Component.OpensWith; with != "" {
		leader, _ := b.Component(with)
		out = fmt.Sprintf("grade %d, opens with %s, %d min", s.Component.Reach, leader.Name, leader.AccessMinutes)
	}
	out += fmt.Sprintf(", %d min at %s", s.Place.Minutes, s.Place.Name)
	for _, g := range s.Component.Guess {
		if g == "reach" {
			return out + "; a guess, G grades it"
		}
	}
	return out
}

// meanwhileShown is how many suggestions are named.
const meanwhileShown = 2

// meanwhile is what could be done while one is there.
func (s *Screen) meanwhile(st *schedule.Standing) string {
	var out []string
	more := 0
	for _, w := range s.facts.while {
		switch {
		case w.Standing == st || w.Standing.Place.ID != st.Place.ID:
		case len(out) == meanwhileShown:
			more++
		default:
			out = append(out, fmt.Sprintf("%s, %s, saves %d min", w.Standing.Component.Name, phrase.When(w.Standing, s.session.Round.On), w.Saved))
		}
	}
	if more > 0 {
		out = append(out, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(out, "; ")
}

// silentOf is the counters of a chore that nobody has logged for long.
func (s *Screen) silentOf(st *schedule.Standing) []string {
	for _, c := range st.Clocks {
		if c.Clock.Counter != "" {
			return s.facts.silent
		}
	}
	return nil
}

// faultDetail says what is broken and how a fault ends.
func (s *Screen) faultDetail(f *schedule.OpenFault, w int) []string {
	th, on := s.session.Root.Theme(), s.session.Round.On
	t := &sheet{th: th, w: w}
	t.title(f.Component.Name, "broken since "+phrase.Day(f.Since, on))
	t.say("note", f.Note, nil)
	t.say("ends", "when it is repaired or one of its chores is ticked: enter or d asks which; or z, if it was a slip", nil)
	return t.lines
}

// breachDetail says what reads outside its safe range and how that ends.
func (s *Screen) breachDetail(v *schedule.Breach, w int) []string {
	th, on := s.session.Root.Theme(), s.session.Round.On
	t := &sheet{th: th, w: w}
	t.title(v.Gauge.Name, phrase.Amount(s.session.Book, v.Value, v.Gauge.Unit)+" on "+phrase.Day(v.On, on)+", outside since "+phrase.Day(v.Since, on))
	t.say("range", phrase.Safe(s.session.Book, v.Gauge)+"; view 3 edits it", nil)
	t.say("first", "read it again with a second instrument before anything is changed; then put it right slowly", nil)
	t.say("ends", "when a reading lies inside: r, enter or d logs one; or z, if it was a slip", nil)
	return t.lines
}

// dayDetail sums the day up, where the cursor is on no chore.
func (s *Screen) dayDetail(w int) []string {
	th := s.session.Root.Theme()
	t := &sheet{th: th, w: w}
	t.title(phrase.Today(s.session.Round.On), phrase.Counts(s.session.Round, false))
	t.say("ahead", "enter or right unfolds it", nil)
	for _, silent := range s.facts.silent {
		t.say("silent", silent, th.Soon.Render)
	}
	return t.lines
}

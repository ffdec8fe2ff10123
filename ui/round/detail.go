package round

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
	"brine/wrasse/ui/words"
)

// detail draws what there is to say about the current row.
func (s *Screen) detail(rows []row, at, w, h int) string {
	if at >= len(rows) {
		return text.Block(nil, w, h)
	}
	var lines []string
	switch r := rows[at]; {
	case r.f != nil:
		lines = s.faultDetail(r.f, w)
	case r.s != nil:
		lines = s.choreDetail(r.s, w, h)
	default:
		lines = s.dayDetail(w)
	}
	return text.Block(lines, w, h)
}

// sheet gathers wrapped lines with a hanging head.
type sheet struct {
	th    theme.Theme
	w     int
	lines []string
}

// headWidth is the column in which the sentences of a detail begin.
const headWidth = 9

// title adds a heading.
func (t *sheet) title(s string) {
	t.lines = append(t.lines, t.th.Title.Render(text.Fit(text.Clean(s), t.w)))
}

// say adds a sentence after a head; render may be nil.
func (t *sheet) say(head, s string, render func(...string) string) {
	if s == "" {
		return
	}
	if render == nil {
		render = t.th.Text.Render
	}
	for i, l := range text.Wrap(text.Clean(s), t.w-headWidth) {
		if i > 0 {
			head = ""
		}
		t.lines = append(t.lines, t.th.Dim.Render(text.Fit(head, headWidth))+render(l))
	}
}

// choreDetail explains a chore. In a low pane what decides comes first and the rest
// as far as there is room.
func (s *Screen) choreDetail(st *schedule.Standing, w, h int) []string {
	th, b, on := s.desk.Root.Theme(), s.desk.Book, s.desk.Round.On
	t := &sheet{th: th, w: w}
	t.title(st.Component.Name + ", " + st.Chore.Name + " · " + words.Due(st, on))
	if put := words.Put(st, on); put != "" {
		t.say("put off", put, nil)
	}
	for _, l := range ordered(words.Clocks(b, st, on)) {
		say := l.Text
		if l.Dates != "" {
			say += "; " + l.Dates
		}
		render := th.Text.Render
		if l.Decides && len(st.Clocks) > 1 {
			say += " - decides"
			render = th.Marked.Render
		}
		t.say(l.Head, say, render)
	}
	t.say("lead", words.Lead(b, st, on), nil)
	for _, d := range words.Drift(b, st, on) {
		t.say("drift", d, th.Soon.Render)
	}
	t.say("learnt", words.Learnt(b, st), nil)
	t.say("caution", caution(st.Chore), th.Caution.Render)
	need, short := words.Needs(b, st)
	render := th.Text.Render
	if short {
		render = th.Soon.Render
	}
	t.say("needs", strings.TrimPrefix(need, "needs "), render)
	t.say("with it", s.meanwhile(st), nil)
	t.say("flag", flagged(b, st.Component.ID), nil)
	t.say("change", words.Change(b, st), th.Dim.Render)
	t.say("last", words.Last(st, on), th.Dim.Render)
	t.say("reach", reachOf(st), th.Dim.Render)
	for _, silent := range s.silentOf(st) {
		t.say("silent", silent, th.Soon.Render)
	}
	return t.lines
}

// ordered puts the clock that decides first.
func ordered(lines []words.Line) []words.Line {
	var out, rest []words.Line
	for _, l := range lines {
		if l.Decides {
			out = append(out, l)
		} else {
			rest = append(rest, l)
		}
	}
	return append(out, rest...)
}

// caution is the first thing to be careful about; the page has them all.
func caution(c model.Chore) string {
	switch len(c.Cautions) {
	case 0:
		return ""
	case 1:
		return c.Cautions[0]
	}
	return fmt.Sprintf("%s (%d more on its page)", c.Cautions[0], len(c.Cautions)-1)
}

// reachOf is how hard the component is to get at, and whether anybody has looked.
func reachOf(s *schedule.Standing) string {
	out := fmt.Sprintf("grade %d, %d min to get at it, %d min at %s", s.Component.Reach, s.Component.AccessMinutes, s.Place.Minutes, s.Place.Name)
	for _, g := range s.Component.Guess {
		if g == "reach" {
			return out + "; a guess, G grades it"
		}
	}
	return out
}

// meanwhile is what could be done while one is there.
func (s *Screen) meanwhile(st *schedule.Standing) string {
	var out []string
	for _, w := range s.desk.Round.WhileThere(s.desk.Round.Today()) {
		if w.Standing.Place.ID == st.Place.ID {
			out = append(out, fmt.Sprintf("%s, %s, saves %d min of getting at it", w.Standing.Component.Name, words.When(w.Standing, s.desk.Round.On), w.Saved))
		}
	}
	return strings.Join(out, "; ")
}

// silentOf is the counters of a chore that nobody has logged for long.
func (s *Screen) silentOf(st *schedule.Standing) []string {
	for _, c := range st.Clocks {
		if c.Clock.Counter != "" {
			return words.Silent(s.desk.Book, s.desk.Round.On)
		}
	}
	return nil
}

// faultDetail says what is broken and how a fault ends.
func (s *Screen) faultDetail(f *schedule.OpenFault, w int) []string {
	th, on := s.desk.Root.Theme(), s.desk.Round.On
	t := &sheet{th: th, w: w}
	t.title(f.Component.Name + " · broken since " + words.Day(f.Since, on))
	t.say("note", f.Note, nil)
	t.say("ends", "when one of its chores is ticked: enter or d chooses which; or z, if it was a slip", nil)
	return t.lines
}

// dayDetail sums the day up, where the cursor is on no chore.
func (s *Screen) dayDetail(w int) []string {
	th := s.desk.Root.Theme()
	t := &sheet{th: th, w: w}
	t.title(words.Counts(s.desk.Round, false))
	t.say("ahead", "enter or right unfolds it", nil)
	for _, silent := range words.Silent(s.desk.Book, s.desk.Round.On) {
		t.say("silent", silent, th.Soon.Render)
	}
	return t.lines
}

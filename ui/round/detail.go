package round

import (
	"fmt"
	"strings"

	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"
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

// brief is why a row stands there, and what it risks.
func (s *Screen) brief(r *row) (first []string, rest string) {
	b, on := s.session.Book, s.session.Round.On
	switch {
	case r.f != nil:
		return []string{"broken since " + phrase.Day(r.f.Since, on) + "; enter or d asks how it ended"}, ""
	case r.b != nil:
		return []string{"read it again with a second instrument before anything is changed"}, ""
	case r.s == nil:
		return []string{"enter or right unfolds it"}, ""
	}
	if put := phrase.Put(r.s, on); put != "" {
		return []string{put}, phrase.Reason(b, r.s, on)
	}
	if failed := phrase.Failed(b, r.s, on); failed != "" {
		return []string{failed}, phrase.Reason(b, r.s, on)
	}
	return phrase.Reasons(b, r.s, on), phrase.Risk(r.s)
}

// lowPane is the height below which a detail keeps to the shortest of everything.
const lowPane = 12

// choreDetail explains a chore: why it has its date, what it risks, what to be careful
// about, then the figures of its clocks. In a low pane as much of that as there is room for.
func (s *Screen) choreDetail(st *schedule.Standing, w, h int) []string {
	th, b, on := s.session.Root.Theme(), s.session.Book, s.session.Round.On
	low := h < lowPane
	t := table.NewDetail(th, w)
	if !low {
		t.Title(st.Component.Name+": "+phrase.Name(b, st), phrase.Due(st, on))
	}
	t.Put(nil, phrase.Put(st, on))
	t.Put(th.Soon.Render, phrase.Failed(b, st, on))
	t.Put(th.Title.Render, phrase.Reason(b, st, on))
	t.Say("risk", phrase.Risk(st), nil)
	t.Say("caution", s.care(st, w-table.HeadWidth, low), th.Caution.Render)
	rows := phrase.ClockRows(b, st, on)
	if low {
		rows = rows[:min(len(rows), 2)]
	}
	t.Clocks(rows)
	for _, d := range phrase.Drift(b, st, on) {
		t.Say("drift", d, th.Soon.Render)
	}
	if g := st.Governing(); !low || g != nil && g.Learns && g.Observations > 0 {
		t.Say("learnt", phrase.Learnt(b, st), nil)
	}
	need, short := phrase.Needs(b, st)
	render := th.Text.Render
	if short {
		render = th.Soon.Render
	}
	t.Say("needs", strings.TrimPrefix(need, "needs "), render)
	t.Say("with it", s.meanwhile(st, w), nil)
	t.Say("flag", flagged(b, st.Component.ID), nil)
	t.Say("change", phrase.Change(b, st), th.Dim.Render)
	t.Say("last", strings.TrimPrefix(phrase.Last(st, on), "last "), th.Dim.Render)
	t.Say("reach", reachOf(b, st), th.Dim.Render)
	for _, silent := range s.silentOf(st) {
		t.Say("silent", silent, th.Soon.Render)
	}
	if w >= figuresWide {
		t.Say("from", phrase.LearntFrom(b, st, on), th.Dim.Render)
		t.Say("earlier", phrase.LeadFigures(st), th.Dim.Render)
		for _, l := range phrase.Clocks(b, st, on) {
			head := l.Head
			if t.Say(head, l.Why, th.Dim.Render); l.Why != "" {
				head = ""
			}
			t.Say(head, l.Guess, th.Dim.Render)
		}
	}
	s.comesNext(t, w, h)
	return t.Whole(h)
}

// figuresWide is the width of a pane from which it says what the dates rest on; a narrower one leaves that to the chore's
// page.
const figuresWide = 60

// careLines is the height that a whole caution takes in a pane at most.
const careLines = 3

// care is a chore's first caution, where that goes into a few lines of w cells, in a low pane into one; else its first
// clause, and where the rest stands.
func (s *Screen) care(st *schedule.Standing, w int, low bool) string {
	first, others := phrase.Caution(s.session.Book, st.Chore)
	first = text.Clean(first)
	lines, more := careLines, " (more on its page)"
	if low {
		lines, more = 1, " (more)"
	}
	whole := first
	if others {
		whole += more
	}
	if clause := phrase.FirstClause(first); len(text.Wrap(whole, w)) > lines && clause != first {
		return clause + more
	}
	return whole
}

// A pane this wide, with room for this many chores, shows what is ahead and folded away in the list.
const aheadWide, aheadLeast = 80, 5

// comesNext adds what comes due next below the rest of a detail, where there is room.
func (s *Screen) comesNext(t *table.Detail, w, h int) {
	room := min(h-len(t.Lines)-2, len(s.ahead)) // below a blank line and the heading
	if w < aheadWide || room < min(aheadLeast, len(s.ahead)) || s.Filtering() {
		return
	}
	var rows []table.Line
	for _, r := range s.ahead[:room] {
		rows = append(rows, table.Line{Cells: []string{phrase.Weekday(r.s.Due, s.session.Round.On), chore(s.session.Book, r.s)[0],
			minutesOf(r.s.Chore, true) + " min", r.s.Place.Name}})
	}
	if rows != nil {
		t.Lines = append(t.Lines, "", s.session.Root.Theme().Title.Render("ahead"))
		t.Table([]table.Col{{Right: true}, {}, {Right: true}, {}}, rows...)
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

// meanwhile is what could be done while one is there, the first two of it; in a narrow pane the first.
func (s *Screen) meanwhile(st *schedule.Standing, w int) string {
	var out []string
	more, shown := 0, 2
	if w < figuresWide {
		shown = 1
	}
	for _, w := range s.facts.while {
		switch {
		case w.Standing == st || w.Standing.Place.ID != st.Place.ID:
		case len(out) == shown:
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
	t := table.NewDetail(th, w)
	t.Title(f.Component.Name, "broken since "+phrase.Day(f.Since, on))
	t.Say("note", f.Note, nil)
	t.Say("ends", "when it is repaired or one of its chores is ticked: enter or d asks which; or z, if it was a slip", nil)
	return t.Lines
}

// breachDetail says what reads outside its safe range and how that ends.
func (s *Screen) breachDetail(v *schedule.Breach, w int) []string {
	th, on := s.session.Root.Theme(), s.session.Round.On
	t := table.NewDetail(th, w)
	t.Title(v.Gauge.Name, phrase.Amount(s.session.Book, v.Value, v.Gauge.Unit)+" on "+phrase.Day(v.On, on)+", outside since "+phrase.Day(v.Since, on))
	t.Say("range", phrase.Safe(s.session.Book, v.Gauge)+"; view 3 edits it", nil)
	t.Say("first", "read it again with a second instrument before anything is changed; then put it right slowly", nil)
	t.Say("ends", "when a reading lies inside: r, enter or d logs one; or z, if it was a slip", nil)
	return t.Lines
}

// dayDetail sums the day up, where the cursor is on no chore.
func (s *Screen) dayDetail(w int) []string {
	th := s.session.Root.Theme()
	t := table.NewDetail(th, w)
	t.Title(phrase.Today(s.session.Round.On), phrase.Counts(s.session.Round, false))
	t.Say("ahead", "enter or right unfolds it", nil)
	for _, silent := range s.facts.silent {
		t.Say("silent", silent, th.Soon.Render)
	}
	return t.Lines
}

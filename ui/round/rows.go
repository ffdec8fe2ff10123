package round

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"
)

// row is a line of the list: a fault, a value outside its safe range, a chore, or a folded section.
type row struct {
	section string // the heading it stands under
	f       *schedule.OpenFault
	b       *schedule.Breach
	s       *schedule.Standing
	fold    schedule.State
	line    string // what a folded section says
}

// key tells rows apart, across rounds.
type key struct {
	chore model.ID
	fault model.Seq
	gauge model.ID
	fold  schedule.State
}

func (r *row) key() key {
	switch {
	case r.f != nil:
		return key{fault: r.f.Seq}
	case r.b != nil:
		return key{gauge: r.b.Gauge.ID}
	case r.s != nil:
		return key{chore: r.s.Chore.ID}
	}
	return key{fold: r.fold}
}

// component is what the row is about; a gauge may hang on none.
func (r *row) component() model.ID {
	switch {
	case r.f != nil:
		return r.f.Component.ID
	case r.b != nil:
		return r.b.Gauge.Component
	}
	return r.s.Component.ID
}

// first is where a cursor begins: on the first chore, which d then ticks, below what is
// broken.
func first(rows []row) int {
	return max(slices.IndexFunc(rows, func(r row) bool { return r.s != nil }), 0)
}

// rows are the lines of the list that a filter leaves, and how wide they are.
func (s *Screen) rows(query string) []row {
	out := append(s.faults(query), s.breaches(query)...)
	if s.byPlace {
		out = append(out, s.places(query)...)
	} else {
		out = append(out, s.states(query)...)
	}
	s.want = wants{when: len("when"), short: len("when"), min: len("min")}
	for _, r := range out {
		s.want.take(&r, s)
	}
	return out
}

// take widens columns to the texts of a row.
func (want *wants) take(r *row, s *Screen) {
	what, _ := s.trouble(r)
	if r.s != nil {
		what = chore(s.session.Book, r.s)[0]
		want.when = max(want.when, text.Width(phrase.When(r.s, s.session.Round.On)))
		want.short = max(want.short, text.Width(phrase.WhenShort(r.s, s.session.Round.On)))
		want.min = max(want.min, len(minutesOf(r.s.Chore, true)))
	}
	want.name = max(want.name, text.Width(text.Clean(what)))
}

// faults are the rows of what is broken.
func (s *Screen) faults(query string) []row {
	var out []row
	for i := range s.session.Round.Faults {
		f := &s.session.Round.Faults[i]
		if table.Matches(query, f.Component.Name, f.Note, "fault broken") {
			out = append(out, row{section: "broken now", f: f})
		}
	}
	return out
}

// breaches are the rows of what reads outside its safe range.
func (s *Screen) breaches(query string) []row {
	var out []row
	for i := range s.session.Round.Breaches {
		b := &s.session.Round.Breaches[i]
		if table.Matches(query, b.Gauge.Name, "outside its safe range") {
			out = append(out, row{section: "outside its safe range", b: b})
		}
	}
	return out
}

// states are the rows by state. Without a filter what is far ahead is folded.
func (s *Screen) states(query string) []row {
	var out []row
	s.ahead = nil
	fits := s.fits(query)
	for _, sec := range s.facts.sections {
		folds := sec.Far && query == ""
		title := sec.Title
		if folds {
			title = ""
		}
		var found []row
		for _, i := range sec.Chores {
			if fits(i) {
				found = append(found, row{section: title, s: &s.session.Round.Standings[i]})
			}
		}
		if folds && len(found) > 0 {
			out = append(out, row{fold: sec.State, line: s.foldLine(sec, found)})
			if !s.open[sec.State] {
				if sec.State == schedule.StateAhead {
					s.ahead = found
				}
				continue
			}
		}
		out = append(out, found...)
	}
	return out
}

// foldLine heads a folded section: how many there are, and the first of them.
func (s *Screen) foldLine(sec phrase.Section, list []row) string {
	line := fmt.Sprintf("%s (%d)", sec.Title, len(list))
	if sec.State != schedule.StateAhead {
		return line
	}
	next := list[0].s
	return fmt.Sprintf("%s  next: %s, %s", line, next.Component.Name, phrase.Weekday(next.Due, s.session.Round.On))
}

// places are the rows by place, places by the first of their chores; what is far
// ahead is left out, as in the folded section.
func (s *Screen) places(query string) []row {
	var order []model.ID
	lists := map[model.ID][]row{}
	fits := s.fits(query)
	for i := range s.session.Round.Standings {
		st := &s.session.Round.Standings[i]
		if !fits(i) || s.facts.far[i] && query == "" {
			continue
		}
		if lists[st.Place.ID] == nil {
			order = append(order, st.Place.ID)
		}
		lists[st.Place.ID] = append(lists[st.Place.ID], row{section: fmt.Sprintf("%s, %d min to get set up", st.Place.Name, st.Place.Minutes), s: st})
	}
	var out []row
	for _, id := range order {
		out = append(out, lists[id]...)
	}
	return out
}

// fits tells of a place in the round whether the chore there passes a filter.
func (s *Screen) fits(query string) func(i int) bool {
	if query == "" {
		return func(int) bool { return true }
	}
	if s.facts.texts == nil {
		s.facts.texts = s.texts()
	}
	return func(i int) bool { return table.Matches(query, s.facts.texts[i]) }
}

// texts are what the filter looks at of each chore of the round, in lower case.
func (s *Screen) texts() []string {
	out := make([]string, len(s.session.Round.Standings))
	for i := range out {
		st := &s.session.Round.Standings[i]
		out[i] = strings.ToLower(strings.Join([]string{st.Component.Name, st.Chore.Name, st.Place.Name, string(st.Chore.Work),
			phrase.When(st, s.session.Round.On), flagged(s.session.Book, st.Component.ID)}, " "))
	}
	return out
}

// flagged is how a component stands on the list of what is to be rethought, or nothing.
func flagged(b *ledger.Book, component model.ID) string {
	last := phrase.Flagged(b, component)
	if last == nil {
		return ""
	}
	cause := last.What.Cause
	for _, f := range slices.Backward(b.Flags(component)) {
		cause = cmp.Or(cause, f.What.Cause) // a step along the list need not say it again
	}
	return string(last.What.State) + ", " + request.CauseText(cause)
}

package round

import (
	"cmp"
	"fmt"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/act"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/words"
)

// row is a line of the list: a heading, a fault, a chore, or a folded section.
type row struct {
	head string
	f    *schedule.OpenFault
	s    *schedule.Standing
	fold schedule.State
}

// key tells rows apart, across rounds.
type key struct {
	chore model.ID
	fault model.ID
	fold  schedule.State
}

func (r row) key() key {
	switch {
	case r.f != nil:
		return key{fault: r.f.Component.ID}
	case r.s != nil:
		return key{chore: r.s.Chore.ID}
	}
	return key{fold: r.fold}
}

// stop tells whether the cursor can stand on the row.
func (r row) stop() bool { return r.f != nil || r.s != nil || r.fold != "" }

// component is what the row is about.
func (r row) component() model.ID {
	if r.f != nil {
		return r.f.Component.ID
	}
	return r.s.Component.ID
}

// find is the row with a key; when it has gone, the one nearest to where it was that
// the cursor can stand on, rather below than above.
func find(rows []row, k key, at int) int {
	if k != (key{}) {
		for i, r := range rows {
			if r.stop() && r.key() == k {
				return i
			}
		}
	}
	if k == (key{}) {
		return first(rows)
	}
	for i := max(at, 0); i < len(rows); i++ {
		if rows[i].stop() {
			return i
		}
	}
	for i := min(at, len(rows)) - 1; i >= 0; i-- {
		if rows[i].stop() {
			return i
		}
	}
	return 0
}

// below is the rows a cursor at a row may go to once that is done, those below first,
// then those above from near to far; what is marked is done with it.
func below(rows []row, at int, marked map[model.ID]bool) []key {
	var out []key
	add := func(r row) {
		if r.stop() && (r.s == nil || !marked[r.s.Chore.ID]) {
			out = append(out, r.key())
		}
	}
	for i := at + 1; i < len(rows); i++ {
		add(rows[i])
	}
	for i := at - 1; i >= 0; i-- {
		add(rows[i])
	}
	return out
}

// first is where a cursor begins: on the first chore, which d then ticks, below what is
// broken.
func first(rows []row) int {
	for i, r := range rows {
		if r.s != nil {
			return i
		}
	}
	for i, r := range rows {
		if r.stop() {
			return i
		}
	}
	return 0
}

// sections are the states of the round in order, with their headings.
var sections = []struct {
	state schedule.State
	title string
	fold  bool // folded until it is asked for
}{
	{schedule.StateLate, "overdue, worst first", false},
	{schedule.StateDue, "today", false},
	{schedule.StateSoon, "this week", false},
	{schedule.StateDeferred, "put off", false},
	{schedule.StateAhead, "ahead", true},
	{schedule.StateIdle, "no date", true},
}

// made are the lines of the list, made anew.
func (s *Screen) made() []row {
	var out []row
	faults := s.faults()
	if len(faults) > 0 {
		out = append(out, row{head: "broken now"})
		out = append(out, faults...)
	}
	if s.byPlace {
		return append(out, s.places()...)
	}
	for _, sec := range sections {
		var found []row
		for i := range s.desk.Round.Standings {
			if st := &s.desk.Round.Standings[i]; st.State == sec.state && s.fits(i) {
				found = append(found, row{s: st})
			}
		}
		switch {
		case len(found) == 0:
		case sec.fold && s.Query() == "":
			out = append(out, row{head: s.foldLine(sec.title, found), fold: sec.state})
			if s.open[sec.state] {
				out = append(out, found...)
			}
		default:
			out = append(out, row{head: sec.title})
			out = append(out, found...)
		}
	}
	return out
}

// faults are the rows of what is broken.
func (s *Screen) faults() []row {
	var out []row
	for i := range s.desk.Round.Faults {
		f := &s.desk.Round.Faults[i]
		if list.Matches(s.Query(), f.Component.Name, f.Note, "fault broken") {
			out = append(out, row{f: f})
		}
	}
	return out
}

// foldLine heads a folded section: how many there are, and the first of them.
func (s *Screen) foldLine(title string, list []row) string {
	line := fmt.Sprintf("%s (%d)", title, len(list))
	if title != "ahead" {
		return line
	}
	next := slices.MinFunc(list, func(a, b row) int { return cmp.Compare(a.s.Due, b.s.Due) }).s
	return fmt.Sprintf("%s  next: %s, %s", line, next.Component.Name, words.Weekday(next.Due, s.desk.Round.On))
}

// places are the rows by place, places by the first of their chores; what is far
// ahead is left out, as in the folded section.
func (s *Screen) places() []row {
	var order []model.ID
	lists := map[model.ID][]row{}
	for i := range s.desk.Round.Standings {
		st := &s.desk.Round.Standings[i]
		far := st.State == schedule.StateAhead || st.State == schedule.StateIdle
		if !s.fits(i) || far && s.Query() == "" {
			continue
		}
		if lists[st.Place.ID] == nil {
			order = append(order, st.Place.ID)
		}
		lists[st.Place.ID] = append(lists[st.Place.ID], row{s: st})
	}
	var out []row
	for _, id := range order {
		p, _ := s.desk.Book.Place(id)
		out = append(out, row{head: fmt.Sprintf("%s, %d min to get set up", p.Name, p.Minutes)})
		out = append(out, lists[id]...)
	}
	return out
}

// fits tells whether the chore of a standing passes the filter.
func (s *Screen) fits(i int) bool {
	switch {
	case s.Query() == "":
		return true
	case s.extract.texts != nil && s.extract.from(s.desk.Round, s.desk.Book):
		return list.Matches(s.Query(), s.extract.texts[i])
	}
	return list.Matches(s.Query(), s.textOf(&s.desk.Round.Standings[i]))
}

// flagged is the state and cause of a component's standing flag, or nothing.
func flagged(b *model.Book, component model.ID) string {
	flags := b.Flags(component)
	if len(flags) == 0 {
		return ""
	}
	last := flags[len(flags)-1].What
	if last.State != model.FlagFlagged && last.State != model.FlagPlanned {
		return ""
	}
	cause := last.Cause
	for i := len(flags) - 1; i >= 0 && cause == ""; i-- {
		cause = flags[i].What.Cause
	}
	return string(last.State) + ", " + act.CauseText(cause)
}

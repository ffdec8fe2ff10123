package round

import (
	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/checklist"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/prompt"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// Screen is the round.
type Screen struct {
	// Begin, if set, puts the questions of a new book.
	Begin func()

	table.View[key, row]
	session *session.Session
	checks  *checklist.Checks

	facts   facts
	want    wants
	ahead   []row // folded away in the list
	marked  map[model.ID]bool
	open    map[schedule.State]bool // sections that begin folded and are unfolded
	byPlace bool
	offered model.ID // the component whose reach was asked about after its first tick
}

// New is the round of a session. Checklists opened from it run their timers on checks.
func New(d *session.Session, checks *checklist.Checks) *Screen {
	s := &Screen{session: d, checks: checks, marked: map[model.ID]bool{}, open: map[schedule.State]bool{}}
	s.View = table.New(d, keys.Round, table.Spec[key, row]{
		Rows: s.rows, Key: (*row).key, First: first,
		Section: func(r *row) string { return r.section }, Row: s.row, Sentence: s.sentence, Top: s.top, Nothing: s.nothing, Found: s.found,
		Detail: s.detail, Brief: s.brief, Width: func(int) int { return enough(s.want) }, Act: s.onRow,
	})
	return s
}

// Msg takes in a new round, and the filter's text.
func (s *Screen) Msg(msg tea.Msg) tea.Cmd {
	if _, ok := msg.(session.BookChanged); ok {
		s.facts = factsOf(s.session.Book, s.session.Round)
		for id := range s.marked {
			if s.session.Round.Of(id) == nil {
				delete(s.marked, id)
			}
		}
	}
	return s.View.Msg(msg)
}

// Close lets esc clear the filter and the marks before it goes anywhere.
func (s *Screen) Close() (tea.Cmd, bool) {
	if cmd, leave := s.View.Close(); !leave || len(s.marked) == 0 {
		return cmd, leave
	}
	clear(s.marked)
	return nil, false
}

// Act carries out an action of the round.
func (s *Screen) Act(a keys.Action) tea.Cmd {
	offered := s.offered
	s.offered = "" // the offer stood for the next key
	switch a {
	case keys.Use:
		return prompt.Usage(s.session, "")
	case keys.Read:
		return prompt.Readings(s.session, s.gauges())
	case keys.Away:
		return prompt.Away(s.session)
	case keys.Level:
		return prompt.Level(s.session)
	case keys.Need:
		return prompt.Need(s.session)
	case keys.TimeBox:
		s.session.Root.Push(newBox(s.session, s.checks))
	case keys.Year:
		s.session.Root.Push(newYear(s.session))
	case keys.Group:
		s.byPlace = !s.byPlace
		s.Renew()
		if s.session.Root.Theme().Plain {
			s.session.Root.Say(map[bool]string{true: "grouped by place", false: "grouped by how late they are"}[s.byPlace])
		}
	case keys.Reach:
		if offered != "" {
			return prompt.Reach(s.session, offered)
		}
		return s.View.Act(a)
	case keys.Open:
		if s.session.Book.Empty() && s.Begin != nil {
			s.Begin()
			return nil
		}
		return s.View.Act(a)
	default:
		return s.View.Act(a)
	}
	return nil
}

// onRow carries out the actions that are about a row.
func (s *Screen) onRow(a keys.Action, r *row) (cmd tea.Cmd, used bool) {
	if r.fold != "" {
		switch a {
		case keys.Open, keys.Right, keys.Left, keys.Mark:
			s.unfold(r.fold, a == keys.Right || a != keys.Left && !s.open[r.fold])
			return nil, true
		}
		return nil, false
	}
	if of := r.component(); of != "" {
		if cmd, used := prompt.About(s.session, a, of); used {
			return cmd, true
		}
	}
	switch {
	case r.b != nil:
		return s.onBreach(a, r)
	case r.f != nil:
		return s.onFault(a, r)
	}
	return s.onChore(a, r)
}

// unfold unfolds a section or folds it, and goes to its line.
func (s *Screen) unfold(section schedule.State, open bool) {
	s.open[section] = open
	s.Renew()
	s.Put(key{fold: section})
}

// onFault asks how a fault ended: by a repair, or by one of the component's chores.
func (s *Screen) onFault(a keys.Action, r *row) (cmd tea.Cmd, used bool) {
	switch a {
	case keys.Tick, keys.Open, keys.TickAsk:
		return prompt.Mended(s.session, *r.f, s.onward()), true
	}
	return nil, false
}

// onBreach asks for the next reading of a gauge that reads outside its safe range: one inside ends it.
func (s *Screen) onBreach(a keys.Action, r *row) (cmd tea.Cmd, used bool) {
	switch a {
	case keys.Tick, keys.Open, keys.TickAsk:
		return prompt.Readings(s.session, []model.ID{r.b.Gauge.ID}), true
	}
	return nil, false
}

// onChore ticks a chore, or those marked, and opens, marks and puts off.
func (s *Screen) onChore(a keys.Action, r *row) (cmd tea.Cmd, used bool) {
	switch a {
	case keys.Tick:
		return prompt.Tick(s.session, s.chosen(r), s.onward()), true
	case keys.TickAsk:
		return prompt.TickAsk(s.session, s.chosen(r), s.onward()), true
	case keys.PutOff:
		done := s.onward()
		return prompt.PutOff(s.session, s.chosen(r), func() { done("") }), true
	case keys.Mark:
		s.mark(r.s.Chore.ID)
		return nil, true
	case keys.Open:
		s.session.Root.Push(checklist.New(s.session, s.checks, s.chosen(r)))
		return nil, true
	case keys.Left:
		if s.open[r.s.State] {
			s.unfold(r.s.State, false)
		}
		return nil, true
	}
	return nil, false
}

// mark marks or unmarks a chore and goes on to the next row.
func (s *Screen) mark(id model.ID) {
	if s.marked[id] {
		delete(s.marked, id)
	} else {
		s.marked[id] = true
	}
	s.View.Act(keys.Down)
}

// onward is what is called once the row of the cursor, or what is marked, is done: it
// forgets the marks and remembers the component whose reach may be asked now. The cursor
// does not follow what was ticked but goes on to the rows that stand below it now, and
// then to those above, from near to far.
func (s *Screen) onward() func(first model.ID) {
	rows, at := s.Shown(), s.At()
	var next []key
	add := func(r *row) {
		if r.s == nil || !s.marked[r.s.Chore.ID] {
			next = append(next, r.key())
		}
	}
	for i := at + 1; i < len(rows); i++ {
		add(&rows[i])
	}
	for i := at - 1; i >= 0; i-- {
		add(&rows[i])
	}
	return func(first model.ID) {
		clear(s.marked)
		s.offered = first
		for _, k := range next {
			if s.Put(k) {
				return
			}
		}
	}
}

// gauges are what the row under the cursor asks to read, or none.
func (s *Screen) gauges() []model.ID {
	switch r := s.Current(); {
	case r == nil:
	case r.b != nil:
		return []model.ID{r.b.Gauge.ID}
	case r.s != nil:
		return r.s.Chore.DoneBy
	}
	return nil
}

// chosen is the marked chores in the order of the round or, when none is marked, the
// one of a row.
func (s *Screen) chosen(r *row) []model.ID {
	var out []model.ID
	for i := range s.session.Round.Standings {
		if id := s.session.Round.Standings[i].Chore.ID; s.marked[id] {
			out = append(out, id)
		}
	}
	if len(out) == 0 {
		out = append(out, r.s.Chore.ID)
	}
	return out
}

// Aside is the answer to the morning's question, at the right end of the view strip.
func (s *Screen) Aside(room int) string {
	if !s.session.Loaded() {
		return ""
	}
	return text.Longest(room, sayings(s.facts.now)...)
}

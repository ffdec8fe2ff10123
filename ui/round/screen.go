package round

import (
	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/ask"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/steps"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// Screen is the round.
type Screen struct {
	// Begin, if set, puts the questions of a new book.
	Begin func()

	list.View[key, row]
	desk  *desk.Desk
	bench *steps.Bench

	facts   facts
	widest  widest
	marked  map[model.ID]bool
	open    map[schedule.State]bool // sections that begin folded and are unfolded
	byPlace bool
	offered model.ID // the component whose reach was asked about after its first tick
}

// New is the round of a desk. Checklists opened from it run their timers on bench.
func New(d *desk.Desk, bench *steps.Bench) *Screen {
	s := &Screen{desk: d, bench: bench, marked: map[model.ID]bool{}, open: map[schedule.State]bool{}}
	s.View = list.New(d, keys.Round, list.Spec[key, row]{
		Rows: s.rows, Key: (*row).key, First: first,
		Section: func(r *row) string { return r.section }, Row: s.row, Sentence: s.sentence, Top: s.top, Nothing: s.nothing, Found: s.found,
		Detail: s.detail, Act: s.onRow,
	})
	return s
}

// Msg takes in a new round, and the filter's text.
func (s *Screen) Msg(msg tea.Msg) tea.Cmd {
	if _, ok := msg.(desk.Fresh); ok {
		s.facts = factsOf(s.desk.Book, s.desk.Round)
		for id := range s.marked {
			if s.desk.Round.Of(id) == nil {
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
		return ask.Usage(s.desk, "")
	case keys.Read:
		return ask.Readings(s.desk, s.gauges())
	case keys.Away:
		return ask.Away(s.desk)
	case keys.TimeBox:
		s.desk.Root.Push(newBox(s.desk, s.bench))
	case keys.Year:
		s.desk.Root.Push(newYear(s.desk))
	case keys.Group:
		s.byPlace = !s.byPlace
		s.Renew()
		if s.desk.Root.Theme().Plain {
			s.desk.Root.Say(map[bool]string{true: "grouped by place", false: "grouped by how late they are"}[s.byPlace])
		}
	case keys.Reach:
		if offered != "" {
			return ask.Reach(s.desk, offered)
		}
		return s.View.Act(a)
	case keys.Open:
		if s.desk.Book.Empty() && s.Begin != nil {
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
		if cmd, used := ask.About(s.desk, a, of); used {
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

// onFault opens the chores of a broken component: a fault is closed by ticking one.
func (s *Screen) onFault(a keys.Action, r *row) (cmd tea.Cmd, used bool) {
	switch a {
	case keys.Tick, keys.Open, keys.TickAsk:
		return ask.Repaired(s.desk, r.f.Component.ID, s.onward()), true
	}
	return nil, false
}

// onBreach asks for the next reading of a gauge that reads outside its safe range: one inside ends it.
func (s *Screen) onBreach(a keys.Action, r *row) (cmd tea.Cmd, used bool) {
	switch a {
	case keys.Tick, keys.Open, keys.TickAsk:
		return ask.Readings(s.desk, []model.ID{r.b.Gauge.ID}), true
	}
	return nil, false
}

// onChore ticks a chore, or those marked, and opens, marks and puts off.
func (s *Screen) onChore(a keys.Action, r *row) (cmd tea.Cmd, used bool) {
	switch a {
	case keys.Tick:
		return ask.Tick(s.desk, s.chosen(r), s.onward()), true
	case keys.TickAsk:
		return ask.TickAsk(s.desk, s.chosen(r), s.onward()), true
	case keys.PutOff:
		done := s.onward()
		return ask.PutOff(s.desk, s.chosen(r), func() { done("") }), true
	case keys.Mark:
		s.mark(r.s.Chore.ID)
		return nil, true
	case keys.Open:
		s.desk.Root.Push(steps.New(s.desk, s.bench, s.chosen(r)))
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
	for i := range s.desk.Round.Standings {
		if id := s.desk.Round.Standings[i].Chore.ID; s.marked[id] {
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
	if !s.desk.Loaded() {
		return ""
	}
	return text.Longest(room, sayings(s.facts.now)...)
}

package round

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
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

	list.State // of which the filter is used; the cursor is the screen's own
	desk       *desk.Desk
	bench      *steps.Bench

	at      int // row of rows() the cursor is on
	on      key // what that row is, to find it again; none until the keeper moves it
	shown   shown
	extract extract
	marked  map[model.ID]bool
	open    map[schedule.State]bool // sections that begin folded and are unfolded
	byPlace bool
	below   []key    // the rows a cursor goes to when its own is ticked, nearest first
	offered model.ID // the component whose reach was asked about after its first tick
}

// New is the round of a desk. Checklists opened from it run their timers on bench.
func New(d *desk.Desk, bench *steps.Bench) *Screen {
	return &Screen{State: list.New(d, keys.Round), desk: d, bench: bench, marked: map[model.ID]bool{}, open: map[schedule.State]bool{}}
}

// Msg takes the filter's text, and finds the cursor's chore again when the book has
// changed.
func (s *Screen) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		if s.Type(msg) {
			s.narrow()
		}
	case desk.Fresh:
		for id := range s.marked {
			if s.desk.Round.Of(id) == nil {
				delete(s.marked, id)
			}
		}
		s.settle()
	}
	return nil
}

// Close lets esc clear marks and the filter before it goes anywhere.
func (s *Screen) Close() (tea.Cmd, bool) {
	switch {
	case !s.State.Close():
		s.settle()
		return nil, false
	case len(s.marked) > 0:
		clear(s.marked)
		return nil, false
	}
	return nil, true
}

// Act carries out an action of the round.
func (s *Screen) Act(a keys.Action) tea.Cmd {
	rows := s.rows()
	s.at = find(rows, s.on, s.at)
	if a != keys.Reach {
		s.offered = "" // the offer stood for the next key
	}
	switch a {
	case keys.Up, keys.Down, keys.PageUp, keys.PageDown, keys.First, keys.Last:
		s.move(rows, a)
	case keys.Find, keys.Submit, keys.Undo, keys.Redo:
		return s.State.Act(a, 0, 0)
	case keys.Use:
		return ask.Usage(s.desk, "")
	case keys.Read:
		return ask.Readings(s.desk, s.gauges(rows))
	case keys.Away:
		return ask.Away(s.desk)
	case keys.TimeBox:
		s.desk.Root.Push(newBox(s.desk, s.bench))
	case keys.Reach:
		if id := s.offered; id != "" {
			s.offered = ""
			return ask.Reach(s.desk, id)
		}
		return s.onRow(rows, a)
	case keys.Year:
		s.desk.Root.Push(newYear(s.desk))
	case keys.Group:
		s.byPlace = !s.byPlace
		s.settle()
		if s.desk.Root.Theme().Plain {
			s.desk.Root.Say(map[bool]string{true: "grouped by place", false: "grouped by how late they are"}[s.byPlace])
		}
	default:
		return s.onRow(rows, a)
	}
	return nil
}

// onRow carries out the actions that are about the row the cursor is on.
func (s *Screen) onRow(rows []row, a keys.Action) tea.Cmd {
	if s.at >= len(rows) || !rows[s.at].stop() {
		if a == keys.Open && s.desk.Book.Empty() && s.Begin != nil {
			s.Begin()
		}
		return nil
	}
	r := rows[s.at]
	if r.fold != "" {
		switch a {
		case keys.Open, keys.Right, keys.Left, keys.Mark:
			s.open[r.fold] = a == keys.Right || (a != keys.Left && !s.open[r.fold])
			s.settle()
		}
		return nil
	}
	if a == keys.Left && r.s != nil && s.open[r.s.State] {
		delete(s.open, r.s.State)
		s.on = key{fold: r.s.State}
		s.settle()
		return nil
	}
	s.on, s.below = r.key(), below(rows, s.at, s.marked)
	comp := r.component()
	switch a {
	case keys.Flag:
		return ask.Flag(s.desk, comp)
	case keys.Fault:
		return ask.Fault(s.desk, comp)
	case keys.Reach:
		return ask.Reach(s.desk, comp)
	}
	if r.s == nil {
		return s.onFault(r, a)
	}
	switch a {
	case keys.Tick:
		return ask.Tick(s.desk, s.chosen(r), s.ticked)
	case keys.TickAsk:
		return ask.TickAsk(s.desk, s.chosen(r), s.ticked)
	case keys.PutOff:
		return ask.PutOff(s.desk, s.chosen(r), func() { s.ticked("") })
	case keys.Mark:
		s.mark(rows, r.s.Chore.ID)
	case keys.Open:
		s.desk.Root.Push(steps.New(s.desk, s.bench, s.chosen(r)))
	}
	return nil
}

// onFault opens the chores of a broken component: a fault is closed by ticking one.
func (s *Screen) onFault(r row, a keys.Action) tea.Cmd {
	switch a {
	case keys.Tick, keys.Open, keys.TickAsk:
		return ask.Repaired(s.desk, r.f.Component.ID, s.ticked)
	}
	return nil
}

// mark marks or unmarks a chore and goes on to the next row.
func (s *Screen) mark(rows []row, id model.ID) {
	if s.marked[id] {
		delete(s.marked, id)
	} else {
		s.marked[id] = true
	}
	s.move(rows, keys.Down)
}

// ticked forgets the marks once what they were for is done, and remembers the component
// whose reach may be asked now. The cursor goes on to the next row and does not follow
// what was ticked.
func (s *Screen) ticked(first model.ID) {
	clear(s.marked)
	s.offered = first
	rows := s.rows()
	for _, k := range s.below {
		if i := slices.IndexFunc(rows, func(r row) bool { return r.stop() && r.key() == k }); i >= 0 {
			s.at, s.on = i, k
			return
		}
	}
}

// gauges are what the chore under the cursor is done by reading, or none.
func (s *Screen) gauges(rows []row) []model.ID {
	if s.at < len(rows) && rows[s.at].s != nil {
		return rows[s.at].s.Chore.DoneBy
	}
	return nil
}

// chosen is the marked chores in the order of the round or, when none is marked, the
// one of a row.
func (s *Screen) chosen(r row) []model.ID {
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

// move moves the cursor among the rows it can stand on.
func (s *Screen) move(rows []row, a keys.Action) {
	w, h := s.desk.Root.Body()
	page := max(s.desk.Root.LayPanes(w, h).ListH-1, 1)
	var stops []int
	at := 0
	for i, r := range rows {
		if r.stop() {
			if i <= s.at {
				at = len(stops)
			}
			stops = append(stops, i)
		}
	}
	if len(stops) == 0 {
		return
	}
	s.at = stops[ui.Step(a, at, len(stops), page)]
	s.on = rows[s.at].key()
}

// narrow keeps the cursor on its row while the filter lets it through, and goes to the
// first one that passes otherwise.
func (s *Screen) narrow() {
	rows := s.rows()
	if i := find(rows, s.on, -1); i < len(rows) && rows[i].stop() && rows[i].key() == s.on {
		s.at = i
		return
	}
	s.on = key{}
	s.settle()
}

// settle finds the row the cursor was on among the rows as they are now.
func (s *Screen) settle() {
	rows := s.rows()
	s.at = find(rows, s.on, s.at)
	if s.on != (key{}) && s.at < len(rows) {
		s.on = rows[s.at].key()
	}
}

// Click puts the cursor on the row clicked on.
func (s *Screen) Click(x, y int) tea.Cmd {
	rows := s.rows()
	w, h := s.desk.Root.Body()
	p := s.desk.Root.LayPanes(w, h)
	top := len(s.top(rows, s.shown.columns(p.ListW), p.ListW))
	if x >= p.ListW || y < top || y >= p.ListH {
		return nil
	}
	i := ui.Window(s.at, len(rows), p.ListH-top) + y - top
	if s.desk.Root.Theme().Plain {
		stops, said := s.said(rows, s.at)
		if i = said.RowAt(w, h-top, y-top); i >= 0 {
			i = stops[i]
		}
	}
	if i >= 0 && i < len(rows) && rows[i].stop() {
		s.at, s.on = i, rows[i].key()
	}
	return nil
}

// Aside is the answer to the morning's question, at the right end of the view strip.
func (s *Screen) Aside(room int) string {
	if !s.desk.Loaded() {
		return ""
	}
	for _, say := range sayings(s.facts().now) {
		if text.Width(say) <= room {
			return say
		}
	}
	return ""
}

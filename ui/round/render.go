package round

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
	"brine/wrasse/ui/tide"
	"brine/wrasse/ui/words"
)

// Render draws the list and, where there is room, the detail of its current row.
func (s *Screen) Render(w, h int) string {
	if !s.desk.Loaded() {
		return text.Block(nil, w, h)
	}
	l := s.lay()
	rows := l.rows
	at := find(rows, s.on, s.at)
	if s.desk.Root.Theme().Plain && anyStop(rows) {
		return s.inWords(rows, at, w, h)
	}
	return s.desk.Root.LayPanes(w, h).Draw(s.desk.Root.Theme(),
		func(w, h int) string { return s.list(l, at, w, h) },
		func(w, h int) string { return s.detail(rows, at, w, h) })
}

// list draws the rows, below a line of column heads or the filter.
func (s *Screen) list(l shown, at, w, h int) string {
	rows := l.rows
	if len(rows) == 0 || !anyStop(rows) {
		return text.Block(s.nothing(w), w, h)
	}
	c := l.columns(w)
	lines := s.top(rows, c, w)
	room := max(h-len(lines), 1)
	from := ui.Window(at, len(rows), room)
	for i := from; i < len(rows) && i < from+room; i++ {
		lines = append(lines, s.line(rows[i], c, i == at, w))
	}
	return text.Block(lines, w, h)
}

// top is what stands above the rows and does not scroll: the column heads or the
// filter, and what a quiet day or the first days back have to say.
func (s *Screen) top(rows []row, c columns, w int) []string {
	th := s.desk.Root.Theme()
	var lines []string
	switch {
	case s.Filtering():
		lines = append(lines, s.FilterLine(th, words.Count(chores(rows), "row"), w))
	case !th.Plain:
		lines = append(lines, th.Dim.Render(c.heads(w)))
	}
	lines = append(lines, s.quiet(w)...)
	if back := words.Back(s.desk.Book, s.desk.Round.On); back != "" && !s.Filtering() {
		lines = append(lines, th.Good.Render(text.Fit("  "+back, w)))
	}
	return lines
}

// anyStop tells whether there is a row that the cursor can stand on.
func anyStop(rows []row) bool {
	for _, r := range rows {
		if r.stop() {
			return true
		}
	}
	return false
}

// chores is how many rows are chores or faults.
func chores(rows []row) int {
	n := 0
	for _, r := range rows {
		if r.s != nil || r.f != nil {
			n++
		}
	}
	return n
}

// nothing is what stands where there are no rows.
func (s *Screen) nothing(w int) []string {
	th := s.desk.Root.Theme()
	if s.Query() != "" {
		return append([]string{s.FilterLine(th, "no rows", w), ""}, text.Wrap("Nothing fits the filter; esc clears it.", w)...)
	}
	if s.desk.Book.Empty() {
		return text.Wrap(welcome, w)
	}
	return text.Wrap("No chores yet. The view Gear is where places, components and chores are added.", w)
}

// welcome is what stands above the questions of a new book.
const welcome = "wrasse keeps the upkeep of a reef aquarium's water station and tank: what is late and why, " +
	"what fits into the minutes at hand, and what was found. A few questions, and today's round is up.\n" +
	"enter puts the questions again, q leaves. Nothing is written before they are answered."

// quiet is what a day says on which nothing is due.
func (s *Screen) quiet(w int) []string {
	r := s.desk.Round
	if s.Query() != "" || s.byPlace || len(r.Today()) > 0 || len(r.Faults) > 0 {
		return nil
	}
	say := "Nothing due."
	if next := soonest(r); next != nil {
		say = fmt.Sprintf("Nothing due; next: %s, %s, on %s.", next.Component.Name, next.Chore.Name, words.Weekday(next.Due, r.On))
	}
	var out []string
	for _, l := range text.Wrap(text.Clean(say), w-2) {
		out = append(out, s.desk.Root.Theme().Good.Render("  "+l))
	}
	return append(out, "")
}

// soonest is the chore that comes due next.
func soonest(r *schedule.Round) *schedule.Standing {
	var best *schedule.Standing
	for i := range r.Standings {
		s := &r.Standings[i]
		if (s.State == schedule.StateSoon || s.State == schedule.StateAhead) && (best == nil || s.Due < best.Due) {
			best = s
		}
	}
	return best
}

// line draws a row.
func (s *Screen) line(r row, c columns, current bool, w int) string {
	th := s.desk.Root.Theme()
	mark := " "
	if current {
		mark = th.Mark
	}
	switch {
	case r.fold != "":
		sign := "+"
		if s.open[r.fold] {
			sign = "-"
		}
		line := text.Fit(mark+sign+" "+text.Clean(r.head), w)
		if current {
			return th.Cursor.Render(line)
		}
		return th.Dim.Render(line)
	case r.f != nil:
		return s.faultLine(r.f, mark, current, w)
	case r.s != nil:
		return s.choreLine(r.s, c, mark, current, w)
	}
	return th.Title.Render(text.Fit(text.Clean(r.head), w))
}

// faultLine draws what is broken.
func (s *Screen) faultLine(f *schedule.OpenFault, mark string, current bool, w int) string {
	th := s.desk.Root.Theme()
	line := text.Fit(mark+"! "+text.Clean(words.FaultSaid(f, s.desk.Round.On)), w)
	if current {
		return th.Cursor.Render(line)
	}
	return th.Fault.Render(line)
}

// choreLine draws a chore in its columns.
func (s *Screen) choreLine(st *schedule.Standing, c columns, mark string, current bool, w int) string {
	th := s.desk.Root.Theme()
	sign := " "
	marked := s.marked[st.Chore.ID]
	switch {
	case marked:
		sign = "*"
	case flagged(s.desk.Book, st.Component.ID) != "":
		sign = "f"
	}
	state := stateStyle(th, st)
	when := text.Fit(c.whenWord(st, s.desk.Round), c.when)
	bar := tide.Bar(c.bar, level(st, s.desk.Round.On))
	reach := text.Right(fmt.Sprint(st.Component.Reach), c.reach)
	minutes := text.Right(minutesOf(st.Chore, c.min > 3), c.min)
	name := c.name(st.Component.Name, verb(st))
	where := ""
	if c.where > 0 {
		where = " " + text.Fit(text.Clean(st.Place.Name), c.where)
	}
	if current {
		return th.Cursor.Render(text.Fit(mark+sign+name+" "+when+" "+bar+" "+reach+" "+minutes+where, w))
	}
	if marked {
		name = th.Marked.Render(name)
	}
	if sign != " " { // told from the name it touches
		sign = th.Marked.Render(sign)
	}
	return text.Fit(mark+sign+name+" "+state.Render(when)+" "+paintBar(th, bar, state, st)+" "+reach+" "+minutes+where, w)
}

// verb is what is to be done, and why it was put off where it was.
func verb(s *schedule.Standing) string {
	if s.State == schedule.StateDeferred && s.Deferred != nil && s.Deferred.What.Reason != "" {
		return s.Chore.Name + " - " + s.Deferred.What.Reason
	}
	return s.Chore.Name
}

// minutesOf is a chore's minutes, hands-on and, after a plus, waiting.
func minutesOf(c model.Chore, waiting bool) string {
	if w := c.WaitingMinutes(); waiting && w > 0 {
		return fmt.Sprintf("%d+%d", c.Minutes, w)
	}
	return fmt.Sprint(c.Minutes)
}

// stateStyle is the look of a chore's state.
func stateStyle(th theme.Theme, s *schedule.Standing) interface{ Render(...string) string } {
	switch {
	case s.PastLimit && s.State != schedule.StateDeferred:
		return th.Limit
	case s.State == schedule.StateLate:
		return th.Late
	case s.State == schedule.StateDue, s.State == schedule.StateSoon:
		return th.Soon
	case s.State == schedule.StateAhead:
		return th.Text
	}
	return th.Dim
}

// paintBar colours the water of a bar: as the tide up to due, as the state beyond.
func paintBar(th theme.Theme, bar string, state interface{ Render(...string) string }, s *schedule.Standing) string {
	i := strings.IndexByte(bar, tide.Due)
	if i < 0 {
		return bar
	}
	return th.Tide.Render(bar[:i]) + state.Render(bar[i:])
}

// level is how far a chore has come through its life on a date.
func level(s *schedule.Standing, on model.Date) tide.Level {
	if !s.HasDue {
		return tide.Level{}
	}
	toDue := max(s.Due.Sub(s.Start), 0)
	toLimit := max(toDue, 1)
	if !s.Limit.IsZero() {
		toLimit = max(s.Limit.Sub(s.Due), 0)
	}
	return tide.At(on.Sub(s.Start), toDue, toLimit)
}

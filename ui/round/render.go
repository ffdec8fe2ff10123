package round

import (
	"cmp"
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/lifebar"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	"github.com/charmbracelet/lipgloss"
)

// top is what stands above the rows and does not scroll: the column heads, in whose place
// the filter stands, and what a quiet day or the first days back have to say.
func (s *Screen) top(w int) []string {
	th := s.session.Root.Theme()
	var lines []string
	if !s.Filtering() && !th.Plain {
		lines = append(lines, th.Dim.Render(layColumns(w, s.want).heads(w)))
	}
	lines = append(lines, s.quiet(w)...)
	if away := s.away(); away != "" && !s.Filtering() {
		lines = append(lines, text.Para(w, "  ", "  ", th.Marked.Render, away)...)
	}
	if wanted := phrase.Wanted(s.session.Book, s.session.Round); wanted != "" && !s.Filtering() {
		lines = append(lines, text.Para(w, "  ", "  ", th.Marked.Render, wanted)...)
	}
	if back := phrase.Back(s.session.Book, s.session.Round.On); back != "" && !s.Filtering() {
		lines = append(lines, th.Good.Render(text.Fit("  "+back, w)))
	}
	return lines
}

// away says who is away until when, or goes when.
func (s *Screen) away() string {
	r := s.session.Round
	switch a := r.Absence; {
	case r.Leaving() != nil:
		return phrase.Leaving(r, *a)
	case a != nil:
		return phrase.Gone(r, *a)
	}
	return ""
}

// found is how many rows the filter leaves.
func (s *Screen) found() string {
	n := 0
	for _, r := range s.Shown() {
		if r.fold == "" {
			n++
		}
	}
	return phrase.Count(n, "row")
}

// nothing is what stands where there are no rows.
func (s *Screen) nothing(w int) []string {
	switch {
	case s.Query() != "":
		return append([]string{""}, text.Wrap("Nothing fits the filter; esc clears it.", w)...)
	case s.session.Book.Empty():
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
	r := s.session.Round
	if s.Query() != "" || s.byPlace || len(r.Today()) > 0 || len(r.Faults) > 0 || len(r.Breaches) > 0 {
		return nil
	}
	say := "Nothing due."
	if next := soonest(r); next != nil {
		say = fmt.Sprintf("Nothing due; next: %s, %s, on %s.", next.Component.Name, next.Chore.Name, phrase.Weekday(next.Due, r.On))
	}
	return append(text.Para(w, "  ", "  ", s.session.Root.Theme().Good.Render, say), "")
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

// row draws rows in a list w cells wide.
func (s *Screen) row(w int) func(*row) string {
	th, c, current := s.session.Root.Theme(), layColumns(w, s.want), s.Current()
	return func(r *row) string {
		if r.s != nil {
			return s.choreLine(r.s, c, r == current)
		}
		if what, since := s.trouble(r); what != "" {
			day := "since " + phrase.Day(since, s.session.Round.On)
			room := c.name - 1
			if what = text.Clean(what); text.Width(what) > room { // it is read before the day is
				room = w - 1 - marks - gap - text.Width(day)
			}
			what = text.Fit(what, room)
			if r == current {
				return "! " + what + " " + day
			}
			return th.Past.Render("!") + " " + th.Fault.Render(what) + " " + day
		}
		line := map[bool]string{true: "-", false: "+"}[s.open[r.fold]] + " " + text.Clean(r.line)
		if r == current {
			return line
		}
		return th.Dim.Render(text.Fit(line, w-1))
	}
}

// trouble is what is broken or outside its safe range, and since when; "" of other rows.
func (s *Screen) trouble(r *row) (what string, since model.Date) {
	switch {
	case r.f != nil && r.f.Note != "":
		return r.f.Component.Name + ": " + r.f.Note, r.f.Since
	case r.f != nil:
		return r.f.Component.Name + ": broken", r.f.Since
	case r.b != nil:
		b := s.session.Book
		return r.b.Gauge.Name + ": " + phrase.Amount(b, r.b.Value, r.b.Gauge.Unit) + ", " + phrase.Safe(b, r.b.Gauge), r.b.Since
	}
	return "", 0
}

// choreLine draws a chore in its columns. The cursor's row is of one look.
func (s *Screen) choreLine(st *schedule.Standing, c columns, current bool) string {
	th := s.session.Root.Theme()
	sign, flag := " ", " "
	marked := s.marked[st.Chore.ID]
	room := c.name
	if marked {
		sign = "* "
		room-- // for the blank
	}
	isFlagged := phrase.Flagged(s.session.Book, st.Component.ID) != nil
	if isFlagged {
		flag = "f"
	}
	state := stateStyle(th, st)
	when := text.Fit(c.whenWord(st, s.session.Round), c.when)
	level := lifebar.Of(st, s.session.Round.On)
	bar := lifebar.Bar(c.bar, level)
	reach := text.Right(fmt.Sprint(st.Component.Reach), c.reach)
	minutes := text.Right(minutesOf(st.Chore, c.min > 3), c.min)
	names := chore(s.session.Book, st)
	name := text.Fit(cmp.Or(text.Longest(room, names...), names[0]), room)
	if !current {
		when, bar = state.Render(when), lifebar.Draw(th, c.bar, level)
		if marked {
			sign, name = th.Marked.Render(sign), th.Marked.Render(name)
		}
		if isFlagged {
			flag = th.Marked.Render(flag)
		}
	}
	return sign + name + " " + when + " " + bar + " " + reach + flag + minutes
}

// chore is what is to be done to what, and why it was put off where it was; then what can stand for it in fewer cells.
func chore(b *ledger.Book, s *schedule.Standing) []string {
	name := text.Clean(s.Component.Name + ": " + phrase.Name(b, s))
	if s.State == schedule.StateDeferred && s.Deferred != nil && s.Deferred.What.Reason != "" {
		reason := text.Clean(s.Deferred.What.Reason)
		return []string{name + ", " + reason, text.Clean(s.Component.Name) + ": " + reason, name}
	}
	return []string{name}
}

// minutesOf is a chore's minutes, hands-on and, after a plus, waiting.
func minutesOf(c model.Chore, waiting bool) string {
	if w := c.WaitingMinutes(); waiting && w > 0 {
		return fmt.Sprintf("%d+%d", c.Minutes, w)
	}
	return fmt.Sprint(c.Minutes)
}

// stateStyle is the look of a chore's state.
func stateStyle(th theme.Theme, s *schedule.Standing) lipgloss.Style {
	if s.State == schedule.StateAhead {
		return lifebar.Look(th, s, th.Text)
	}
	return lifebar.Look(th, s, th.Dim)
}

package round

import (
	"fmt"

	"brine/wrasse/model"
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
		lines = append(lines, th.Dim.Render(layColumns(w, s.widest).heads(w)))
	}
	lines = append(lines, s.quiet(w)...)
	if away := s.away(); away != "" && !s.Filtering() {
		lines = append(lines, text.Para(w, "  ", "  ", th.Marked.Render, away)...)
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
	th, c, current := s.session.Root.Theme(), layColumns(w, s.widest), s.Current()
	return func(r *row) string {
		if r.s != nil {
			return s.choreLine(r.s, c, r == current)
		}
		line, style := map[bool]string{true: "-", false: "+"}[s.open[r.fold]]+" "+text.Clean(r.line), th.Dim
		switch {
		case r.f != nil:
			line, style = "! "+text.Clean(phrase.FaultSaid(r.f, s.session.Round.On)), th.Fault
		case r.b != nil:
			line, style = "! "+text.Clean(phrase.BreachSaid(s.session.Book, r.b, s.session.Round.On)), th.Fault
		}
		if r == current {
			return line
		}
		return style.Render(text.Fit(line, w-1))
	}
}

// choreLine draws a chore in its columns. The cursor's row is of one look.
func (s *Screen) choreLine(st *schedule.Standing, c columns, current bool) string {
	th := s.session.Root.Theme()
	sign, flag := " ", " "
	marked := s.marked[st.Chore.ID]
	names := c
	if marked {
		sign = "* "
		names.thing-- // for the blank
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
	name := names.name(st.Component.Name, verb(s.session.Book, st))
	where := ""
	if c.where > 0 {
		where = " " + text.Fit(text.Clean(st.Place.Name), c.where)
	}
	if !current {
		when, bar = state.Render(when), lifebar.Draw(th, c.bar, level)
		if marked {
			sign, name = th.Marked.Render(sign), th.Marked.Render(name)
		}
		if isFlagged {
			flag = th.Marked.Render(flag)
		}
	}
	return sign + name + " " + when + " " + bar + " " + reach + flag + minutes + where
}

// verb is what is to be done, and why it was put off where it was.
func verb(b *model.Book, s *schedule.Standing) string {
	if s.State == schedule.StateDeferred && s.Deferred != nil && s.Deferred.What.Reason != "" {
		return phrase.Name(b, s) + " - " + s.Deferred.What.Reason
	}
	return phrase.Name(b, s)
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

package checklist

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	"github.com/charmbracelet/x/ansi"
)

// line is a line of the page. Those that can be stood on are steps and the rows of
// the history.
type line struct {
	text  string
	stop  bool
	more  bool // goes on from the line before
	chore model.ID
	step  int // of the chore, or -1
}

// plain are lines nobody can stand on.
func plain(texts ...string) []line {
	out := make([]line, len(texts))
	for i, s := range texts {
		out[i] = line{text: s, step: -1}
	}
	return out
}

func stopsOf(lines []line) []int {
	var out []int
	for i, l := range lines {
		if l.stop {
			out = append(out, i)
		}
	}
	return out
}

// Render draws the part of the page around the cursor.
func (p *Page) Render(w, h int) string {
	th := p.session.Root.Theme()
	lines := p.lines(w)
	stops := stopsOf(lines)
	at := -1
	from := 0
	if len(stops) > 0 {
		k := min(p.at, len(stops)-1)
		at = stops[k]
		if k > 0 || p.moved && at >= h {
			from = ui.Window(at, len(lines), h)
		}
	}
	out := make([]string, 0, h)
	for i := from; i < len(lines) && len(out) < h; i++ {
		out = append(out, p.draw(th, lines[i], i == at || (lines[i].more && ownerOf(lines, i) == at), w))
	}
	return text.Block(out, w, h)
}

// ownerOf is the line a continued one begins with.
func ownerOf(lines []line, i int) int {
	for lines[i].more {
		i--
	}
	return i
}

func (p *Page) draw(th theme.Theme, l line, current bool, w int) string {
	if !current {
		return text.Fit(l.text, w)
	}
	if !l.more {
		l.text = th.Mark + l.text[1:]
	}
	return th.Cursor.Render(text.Fit(ansi.Strip(l.text), w)) // hues would stand as blocks in the bar
}

// lines are the whole page.
func (p *Page) lines(w int) []line {
	th := p.session.Root.Theme()
	chores := p.chores()
	if len(chores) == 0 {
		return plain(text.Wrap("This chore is not in the book any more; esc goes back.", w)...)
	}
	out := p.heading(chores, w)
	out = append(out, p.cautions(chores, w)...)
	for _, c := range chores {
		out = append(out, plain("")...)
		if len(chores) > 1 {
			out = append(out, plain(text.Para(w, "", "", th.Title.Render, parse.ChoreLabel(p.session.Book, c))...)...)
		}
		out = append(out, p.needs(c, w)...)
		out = append(out, p.steps(c, w)...)
	}
	if len(chores) == 1 {
		out = append(out, p.why(chores[0], w)...)
	}
	for _, c := range chores {
		out = append(out, p.history(c, w, len(chores) > 1)...)
	}
	return out
}

// heading is what is to be done and what it takes.
func (p *Page) heading(chores []model.Chore, w int) []line {
	th, on := p.session.Root.Theme(), p.session.Round.On
	hands, waiting := 0, 0
	for _, c := range chores {
		hands += c.Minutes
		waiting += c.WaitingMinutes()
	}
	takes := fmt.Sprintf("%d min", hands)
	if waiting > 0 {
		takes += fmt.Sprintf(" + %d waiting", waiting)
	}
	title := fmt.Sprintf("%d chores as one job", len(chores))
	state := ""
	if len(chores) == 1 {
		title = parse.ChoreLabel(p.session.Book, chores[0])
		if s := p.session.Round.Of(chores[0].ID); s != nil {
			state = phrase.Due(s, on) + " · "
		}
	}
	right := state + takes
	if title := text.Clean(title); text.Width(title)+2+text.Width(right) <= w && !th.Plain {
		return plain(text.Spread(th.Title.Render(title), th.Dim.Render(right), w))
	}
	return append(plain(text.Para(w, "", "", th.Title.Render, title)...), plain(text.Para(w, "", "", th.Dim.Render, right)...)...)
}

// cautions are all there are, each once, and the line that closes them.
func (p *Page) cautions(chores []model.Chore, w int) []line {
	th := p.session.Root.Theme()
	var out []line
	for _, caution := range phrase.Cautions(p.session.Book, chores...) {
		head, look := "  ! ", th.Caution.Render
		switch {
		case caution == phrase.Closing:
			head, look = "    ", th.Dim.Render
		case th.Plain:
			head = "  caution: "
		}
		out = append(out, plain(text.Para(w, head, "    ", look, th.Words(caution))...)...)
	}
	return out
}

// needs is what a chore takes off the shelf.
func (p *Page) needs(c model.Chore, w int) []line {
	s := p.session.Round.Of(c.ID)
	if s == nil {
		return nil
	}
	say, short := phrase.Needs(p.session.Book, s)
	if say == "" {
		return nil
	}
	th := p.session.Root.Theme()
	render := th.Dim.Render
	if short {
		render = th.Soon.Render
	}
	return plain(text.Para(w, "  ", "  ", render, say)...)
}

// steps are the checklist of a chore. A chore without steps is one step.
func (p *Page) steps(c model.Chore, w int) []line {
	th := p.session.Root.Theme()
	var out []line
	for i, s := range c.Steps {
		key := stepKey(c.ID, i)
		box, done := "[ ]", "[x]"
		if th.Plain {
			box, done = "to do:", "done:"
		}
		render := th.Text.Render
		if p.checks.checked[key] {
			box, render = done, th.Dim.Render
		}
		say := text.Clean(th.Words(parse.Wording(s.Text, p.session.Book.Def().Units)))
		timer, lit := p.countdown(key, s)
		room := w - len("  ") - len(box) - len(" ")
		for j, l := range text.Wrap(say+timer, room) {
			if j == 0 {
				out = append(out, line{text: "  " + box + " " + p.lit(render, l, lit), stop: true, chore: c.ID, step: i})
				continue
			}
			out = append(out, line{text: "      " + p.lit(render, l, lit), more: true, chore: c.ID, step: i})
		}
	}
	if len(c.Steps) == 0 {
		out = plain("  " + th.Dim.Render("no steps written down; d ticks it off"))
	}
	return out
}

// lit draws a step whose countdown wants attention.
func (p *Page) lit(render func(...string) string, s string, lit bool) string {
	if lit {
		return p.session.Root.Theme().Soon.Render(s)
	}
	return render(s)
}

// countdown is what a step's timer says.
func (p *Page) countdown(key string, s model.Step) (say string, lit bool) {
	if s.TimerMinutes == 0 {
		return "", false
	}
	t, ok := p.session.Timer(key)
	switch {
	case !ok:
		return fmt.Sprintf(" - %s, s starts the clock", parse.Duration(float64(s.TimerMinutes))), false
	case p.session.Left(t) > 0 && p.session.Root.Theme().Plain:
		return fmt.Sprintf(" - until %s", t.Ends.Format("15:04")), false
	case p.session.Left(t) == 0:
		return fmt.Sprintf(" - the time is up, since %s", t.Ends.Format("15:04")), true
	}
	return fmt.Sprintf(" - %s left, until %s", session.Clock(p.session.Left(t)), t.Ends.Format("15:04")), true
}

// why is what makes the chore due, and what its log has taught.
func (p *Page) why(c model.Chore, w int) []line {
	s := p.session.Round.Of(c.ID)
	if s == nil {
		return nil
	}
	th, b, on := p.session.Root.Theme(), p.session.Book, p.session.Round.On
	out := plain("", th.Title.Render("why "+whenIn(s, on)))
	say := func(s string, look func(...string) string) {
		out = append(out, plain(text.Para(w, "  ", "    ", look, s)...)...)
	}
	for _, l := range phrase.Clocks(b, s, on) {
		sentence := l.Head + ": " + l.Text
		if l.Why != "" {
			sentence += "; " + l.Why
		}
		if l.Dates != "" {
			sentence += "; " + strings.ReplaceAll(l.Dates, "  lim", ", limit")
		}
		if l.Decides && len(s.Clocks) > 1 {
			sentence += " - decides"
		}
		say(sentence, th.Text.Render)
		if l.Guess != "" {
			say(l.Guess, th.Dim.Render)
		}
	}
	for _, more := range []string{phrase.Put(s, on), phrase.Lead(s, on), phrase.LeadFigures(s), phrase.Risk(s), phrase.Learnt(b, s),
		phrase.LearntFrom(b, s, on), phrase.Change(b, s)} {
		if more != "" {
			say(more, th.Text.Render)
		}
	}
	for _, told := range append(phrase.Drift(b, s, on), phrase.Failed(b, s, on)) {
		if told != "" {
			say(told, th.Soon.Render)
		}
	}
	return out
}

// whenIn is when a chore is due, in the middle of a sentence.
func whenIn(s *schedule.Standing, on model.Date) string {
	if !s.HasDue {
		return "it has no date"
	}
	if s.State == schedule.StateLate || s.State == schedule.StateDue {
		return "today"
	}
	return "on " + phrase.Day(s.Due, on)
}

// historyShown is how many earlier ticks of a chore the page lists.
const historyShown = 20

// history is the earlier ticks of a chore, newest first.
func (p *Page) history(c model.Chore, w int, named bool) []line {
	th := p.session.Root.Theme()
	ticks := p.session.Book.Done(c.ID)
	title := "before"
	if named {
		title += ": " + parse.ChoreLabel(p.session.Book, c)
	}
	out := append(plain(""), plain(text.Para(w, "", "", th.Title.Render, title)...)...)
	if len(ticks) == 0 {
		return append(out, plain("  "+th.Dim.Render("never ticked yet"))...)
	}
	for i := len(ticks) - 1; i >= 0 && i >= len(ticks)-historyShown; i-- {
		t := ticks[i]
		before := model.Date(0)
		if i > 0 {
			before = ticks[i-1].On
		}
		for j, l := range tickLines(c, t, before, w, th.Plain) {
			out = append(out, line{text: l, stop: j == 0, more: j > 0, chore: c.ID, step: -1})
		}
	}
	return out
}

// saidLeast is the least width, in cells, at which the words of an earlier tick stand beside its date.
const saidLeast = 26

// tickLines is one earlier tick: "22 Nov 2025  heavy   after 163 d, 11 d late, 35 min, note".
func tickLines(c model.Chore, t ledger.TickRecord, before model.Date, w int, plain bool) []string {
	found := parse.FoundText(c.Work, t.Found)
	switch {
	case t.About:
		found = "about"
	case found == "" && c.Work == model.WorkRead:
		found = "read"
	case found == "":
		found = "-"
	}
	var parts []string
	if !before.IsZero() {
		parts = append(parts, fmt.Sprintf("after %d d", t.On.Sub(before)))
	}
	if !t.Planned.IsZero() {
		switch late := t.On.Sub(t.Planned); {
		case late > 0:
			parts = append(parts, fmt.Sprintf("%d d late", late))
		case late < 0:
			parts = append(parts, fmt.Sprintf("%d d early", -late))
		}
	}
	if t.Minutes != nil {
		parts = append(parts, fmt.Sprintf("%d min", *t.Minutes))
	}
	if t.By != "" {
		parts = append(parts, "by "+t.By)
	}
	if t.Note != "" {
		parts = append(parts, t.Note)
	}
	on := t.On.Format("2 Jan 2006")
	head := "  " + text.Fit(on, 13) + text.Fit(found, 11) + " "
	if plain || w-len(head) < saidLeast {
		return text.Para(w, "  ", "    ", nil, strings.Join(append([]string{on, found}, parts...), ", "))
	}
	return text.Para(w, head, text.Fit("", len(head)), nil, strings.Join(parts, ", "))
}

package checklist

import (
	"time"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/gear"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/prompt"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// Page is the page of one chore, or of several as one job.
type Page struct {
	session *session.Session
	checks  *Checks
	ids     []model.ID
	at      int  // which of the lines that can be stood on
	moved   bool // the cursor was sought: until then the top of the page is shown
}

// New is the page of chores.
func New(d *session.Session, checks *Checks, chores []model.ID) *Page {
	return &Page{session: d, checks: checks, ids: chores}
}

// Scope is a chore's.
func (p *Page) Scope() keys.Scope { return keys.Chore }

// TextEntry is false.
func (p *Page) TextEntry() bool { return false }

// Msg takes nothing: the page draws from the session's book.
func (p *Page) Msg(tea.Msg) tea.Cmd { return nil }

// chores are the page's chores as the book has them now, in the order of the water.
func (p *Page) chores() []model.Chore {
	var out []model.Chore
	for _, id := range p.ids {
		if c, ok := p.session.Book.Chore(id); ok {
			out = append(out, c)
		}
	}
	return flowOrder(p.session.Book, out)
}

// Act checks steps, runs their timers and ticks.
func (p *Page) Act(a keys.Action) tea.Cmd {
	w, h := p.session.Root.Body()
	lines := p.lines(w)
	stops := stopsOf(lines)
	if len(stops) == 0 {
		return p.acts(a, line{})
	}
	p.at = min(p.at, len(stops)-1)
	current := lines[stops[p.at]]
	if !p.moved && stops[p.at] >= h && (a == keys.Down || a == keys.PageDown || a == keys.Mark || a == keys.Open || a == keys.Timer) {
		p.moved = true // a step nobody has seen yet is not acted on
		return nil
	}
	p.moved = true
	switch a {
	case keys.Up, keys.Down, keys.PageUp, keys.PageDown, keys.First, keys.Last:
		p.moved = a != keys.First
		p.at = ui.Step(a, p.at, len(stops), max(h-2, 1))
	case keys.Mark, keys.Open:
		return p.check(current, stops)
	case keys.Timer:
		return p.timer(current)
	default:
		return p.acts(a, current)
	}
	return nil
}

// acts carries out what is about the chores and not about a step.
func (p *Page) acts(a keys.Action, current line) tea.Cmd {
	chore := current.chore
	if chore == "" && len(p.ids) > 0 {
		chore = p.ids[0]
	}
	c, _ := p.session.Book.Chore(chore)
	switch a {
	case keys.Undo:
		return p.session.Undo()
	case keys.Redo:
		return p.session.Redo()
	case keys.Tick:
		return prompt.Tick(p.session, p.order(), p.ticked)
	case keys.TickAsk:
		return prompt.TickAsk(p.session, p.order(), p.ticked)
	case keys.Use:
		return prompt.Usage(p.session, "")
	case keys.Read:
		return prompt.Readings(p.session, c.DoneBy)
	case keys.PutOff:
		return prompt.PutOff(p.session, p.order(), func() { p.session.Root.Drop(p) })
	case keys.Edit:
		gear.EditChore(p.session, chore)
		return nil
	}
	cmd, _ := prompt.About(p.session, a, c.Component)
	return cmd
}

// order is the chores in the order of the page.
func (p *Page) order() []model.ID {
	var out []model.ID
	for _, c := range p.chores() {
		out = append(out, c.ID)
	}
	return out
}

// ticked clears the checks and leaves the page: the job is done.
func (p *Page) ticked(model.ID) {
	for _, c := range p.chores() {
		p.checks.clear(c)
		for i := range c.Steps {
			p.session.StopTimer(stepKey(c.ID, i))
		}
	}
	p.session.Root.Drop(p)
}

// check checks a step, or takes the check away, and goes on to the next. The last one
// offers the tick.
func (p *Page) check(l line, stops []int) tea.Cmd {
	if l.step < 0 {
		return nil
	}
	key := stepKey(l.chore, l.step)
	if p.checks.checked[key] {
		delete(p.checks.checked, key)
		return nil
	}
	p.checks.checked[key] = true
	if t, ok := p.session.Timer(key); ok && t.Rang {
		p.session.StopTimer(key)
	}
	if p.complete() {
		return prompt.Tick(p.session, p.order(), p.ticked)
	}
	p.at = min(p.at+1, len(stops)-1)
	return nil
}

// complete reports whether every step is checked.
func (p *Page) complete() bool {
	for _, c := range p.chores() {
		for i := range c.Steps {
			if !p.checks.checked[stepKey(c.ID, i)] {
				return false
			}
		}
	}
	return true
}

// timer starts the countdown of a step, or stops it.
func (p *Page) timer(l line) tea.Cmd {
	if l.step < 0 {
		return nil
	}
	c, _ := p.session.Book.Chore(l.chore)
	key := stepKey(l.chore, l.step)
	step := c.Steps[l.step]
	if _, runs := p.session.Timer(key); runs {
		p.session.StopTimer(key)
		return nil
	}
	if step.TimerMinutes == 0 {
		p.session.Root.Say("no timer on this step")
		return nil
	}
	return p.session.StartTimer(key, parse.Wording(step.Text, p.session.Book.Def().Units), time.Duration(step.TimerMinutes)*time.Minute)
}

package gear

import (
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/preview"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// definition is the page of a chore's definition: every line of it is edited by
// itself, and written at once.
type definition struct {
	table.View[partAt, line]
	*editor
	id model.ID
}

func (e *editor) openChore(id model.ID) {
	d := &definition{editor: e, id: id}
	d.View = table.New(e.session, keys.Definition, table.Spec[partAt, line]{
		Rows: d.lines, Key: func(l *line) partAt { return l.partAt },
		Section: func(l *line) string { return sections[l.part] }, Row: d.row, Sentence: func(l *line) string { return l.text }, Top: d.title,
		Nothing: func(int) []string { return nil }, Act: d.act,
	})
	d.Renew()
	e.session.Root.Push(d)
}

// part says what a line of the definition is about.
type part int

const (
	partBasics part = iota
	partClock
	partSpare
	partGauge
	partTake
	partCall
	partStep
	partHazards
	partCaution
)

// sections are the headings of the parts.
var sections = [...]string{"the chore", "clocks: the first to come decides", "takes off the shelf", "is done by reading", "takes water", "calls for, once ticked", "steps", "hazards", "cautions"}

// partAt is what a line of the definition is about, and which one of those.
type partAt struct {
	part part
	at   int
}

// line is a line of the definition: how it reads, the form of it, and how it is taken out.
type line struct {
	partAt
	text    string
	edit    func() tea.Cmd
	takeOut func(*model.Chore) // nil of a line that stays
}

// chore is the definition as the book has it; ok is false when it is gone, because
// another book was opened.
func (d *definition) chore() (model.Chore, bool) { return d.session.Book.Chore(d.id) }

// lines are everything the definition holds.
func (d *definition) lines(string) []line {
	c, ok := d.chore()
	if !ok {
		return nil
	}
	b, today := d.session.Book, d.session.Today()
	var out []line
	add := func(part part, at int, text string, edit func() tea.Cmd, takeOut func(*model.Chore)) {
		out = append(out, line{partAt{part, at}, text, edit, takeOut})
	}
	basics := sayBasics(c)
	if !c.Retired.IsZero() {
		basics = "retired " + phrase.Day(c.Retired, today) + "; " + basics
	}
	add(partBasics, 0, basics, func() tea.Cmd { return d.editBasics(c) }, nil)
	st := d.session.Round.Of(c.ID)
	for i, k := range c.Clocks {
		s := d.sayClock(k)
		if st != nil && i < len(st.Clocks) {
			switch l := inWords(b, st, i, today); {
			case l.Dates != "":
				s += ": " + l.Dates
			case st.Clocks[i].Crossed:
				s += ": so since " + phrase.Day(st.Clocks[i].Since, today)
			}
		}
		add(partClock, i, s, func() tea.Cmd { return d.clock(c, i, k) }, func(c *model.Chore) { c.Clocks = without(c.Clocks, i) })
	}
	for i, u := range c.Spares {
		s, _ := b.Spare(u.Spare)
		add(partSpare, i, phrase.Amount(b, u.Quantity, s.Unit)+" "+s.Name,
			func() tea.Cmd { return d.spare(c, i, u) }, func(c *model.Chore) { c.Spares = without(c.Spares, i) })
	}
	for i, g := range c.DoneBy {
		add(partGauge, i, d.gaugeOf(g).Name,
			func() tea.Cmd { return d.reading(c, i, g) }, func(c *model.Chore) { c.DoneBy = without(c.DoneBy, i) })
	}
	for i, t := range c.Takes {
		v, _ := b.Vessel(t.Vessel)
		add(partTake, i, phrase.Amount(b, t.Litres, "L")+" from "+v.Name,
			func() tea.Cmd { return d.take(c, i, t) }, func(c *model.Chore) { c.Takes = without(c.Takes, i) })
	}
	for i, call := range c.Then {
		other, _ := b.Chore(call.Chore)
		add(partCall, i, parse.ChoreLabel(b, other)+", within "+phrase.Span(call.After),
			func() tea.Cmd { return d.call(c, i, call) }, func(c *model.Chore) { c.Then = without(c.Then, i) })
	}
	for i, s := range c.Steps {
		text := fmt.Sprintf("%d. %s", i+1, parse.Wording(s.Text, b.Def().Units))
		if s.TimerMinutes > 0 {
			text += " (wait " + parse.Duration(float64(s.TimerMinutes)) + ")"
		}
		add(partStep, i, text, func() tea.Cmd { return d.step(c, i, s) }, func(c *model.Chore) { c.Steps = without(c.Steps, i) })
	}
	if len(c.Hazards) > 0 {
		add(partHazards, 0, model.Joined(c.Hazards...), func() tea.Cmd { return d.hazards(c) }, func(c *model.Chore) { c.Hazards = nil })
	}
	for i, s := range c.Cautions {
		add(partCaution, i, parse.Wording(s, b.Def().Units),
			func() tea.Cmd { return d.caution(c, i, s) }, func(c *model.Chore) { c.Cautions = without(c.Cautions, i) })
	}
	return out
}

// sayBasics is the plain facts of a chore in one line.
func sayBasics(c model.Chore) string {
	parts := []string{string(c.Work), fmt.Sprintf("%d min hands-on", c.Minutes)}
	for _, o := range harmOptions {
		if o[1] == fmt.Sprint(c.Consequence) {
			parts = append(parts, "left undone it "+o[2])
		}
	}
	if c.Hidden {
		parts = append(parts, "its wear is hidden")
	}
	if c.Sitter {
		parts = append(parts, "for a sitter")
	}
	if c.Fixed {
		parts = append(parts, "its dates are fixed")
	}
	if c.Cost != nil {
		parts = append(parts, fmt.Sprintf("costs %s planned, %s too late", parse.Number(c.Cost.Planned), parse.Number(c.Cost.Failure)))
	}
	return strings.Join(parts, ", ")
}

// sayClocks is what a chore goes by.
func (e *editor) sayClocks(c model.Chore) string {
	var out []string
	for _, k := range c.Clocks {
		out = append(out, e.sayClock(k))
	}
	return strings.Join(out, "; ")
}

// one leaves the 1 out behind "every".
func one(rule model.Rule, life string) string {
	if rule == model.RuleEvery {
		return strings.TrimPrefix(life, "1 ")
	}
	return life
}

// sayClock is what a clock goes by.
func (e *editor) sayClock(k model.Clock) string {
	b := e.session.Book
	rule := string(k.Rule) + " "
	counter, _ := b.Counter(k.Counter)
	switch k.Kind {
	case model.ClockCalendar:
		return rule + one(k.Rule, phrase.Span(k.Every))
	case model.ClockUsage:
		return rule + one(k.Rule, phrase.Amount(b, k.Amount, counter.Unit)) + " of " + counter.Name
	case model.ClockLoad:
		s := rule + parse.Number(k.Amount) + " " + k.LoadUnit() + " taken up from " + e.gaugeOf(k.Inlet).Name
		if k.Outlet != "" {
			s += " to " + e.gaugeOf(k.Outlet).Name
		}
		return s
	case model.ClockLevel:
		v, _ := b.Vessel(k.Vessel)
		return "before " + v.Name + " runs short"
	}
	g := e.gaugeOf(k.Gauge)
	return g.Name + " " + string(k.Bad) + " " + phrase.Amount(b, k.Limit, g.Unit)
}

// Msg takes in what was foreseen, and another book.
func (d *definition) Msg(msg tea.Msg) tea.Cmd {
	if seen, ok := msg.(preview.Ready); ok {
		seen.Deliver()
	}
	return d.View.Msg(msg)
}

// act edits a line, takes it out or adds one.
func (d *definition) act(a keys.Action, l *line) (cmd tea.Cmd, used bool) {
	c, ok := d.chore()
	if !ok {
		return nil, false
	}
	switch a {
	case keys.Open, keys.Edit:
		return l.edit(), true
	case keys.Add:
		return d.addLine(c), true
	case keys.Strike:
		if l.takeOut == nil {
			d.session.Root.Say("this line stays; e edits it, R retires the chore")
			return nil, true
		}
		return d.session.Do("taking a line out", request.EditChore(d.session.Stamp(), d.id, l.takeOut)), true
	case keys.Retire:
		return d.retire(key{model.KindChore, c.ID}), true
	}
	return nil, false
}

// addLine asks what to add.
func (d *definition) addLine(c model.Chore) tea.Cmd {
	all := []addition{
		{ui.Answer{Letter: 's', Label: "a step", Note: "with a timer where it waits"}, func() tea.Cmd { return d.step(c, len(c.Steps), model.Step{}) }},
		{ui.Answer{Letter: 'c', Label: "a calendar clock", Note: "every so often"}, d.newClock(c, model.Clock{Kind: model.ClockCalendar, Rule: model.RuleEvery})},
		{ui.Answer{Letter: 'u', Label: "a usage clock", Note: "litres, batches, hours"}, d.newClock(c, model.Clock{Kind: model.ClockUsage, Rule: model.RuleLasts})},
		{ui.Answer{Letter: 'l', Label: "a load clock", Note: "what the water carried"}, d.newClock(c, model.Clock{Kind: model.ClockLoad, Rule: model.RuleLasts})},
		{ui.Answer{Letter: 'r', Label: "a reading clock", Note: "a gauge past a threshold"}, d.newClock(c, model.Clock{Kind: model.ClockReading, Bad: model.SideAbove})},
		{ui.Answer{Letter: 'v', Label: "a level clock", Note: "before a vessel runs short"}, d.newClock(c, model.Clock{Kind: model.ClockLevel})},
		{ui.Answer{Letter: 't', Label: "water it takes", Note: "from a vessel, each time"}, func() tea.Cmd { return d.take(c, len(c.Takes), model.Take{}) }},
		{ui.Answer{Letter: 'p', Label: "a spare it uses"}, func() tea.Cmd { return d.spare(c, len(c.Spares), model.SpareUse{Quantity: 1}) }},
		{ui.Answer{Letter: 'f', Label: "a follow-up", Note: "another chore, some days after"}, func() tea.Cmd { return d.call(c, len(c.Then), model.Call{After: nextDay}) }},
		{ui.Answer{Letter: 'w', Label: "a caution"}, func() tea.Cmd { return d.caution(c, len(c.Cautions), "") }},
		{ui.Answer{Letter: 'h', Label: "a hazard"}, func() tea.Cmd { return d.hazards(c) }},
	}
	if c.Work == model.WorkRead {
		all = append(all, addition{ui.Answer{Letter: 'g', Label: "a gauge it logs"}, func() tea.Cmd { return d.reading(c, len(c.DoneBy), "") }})
	}
	d.offer("Add to "+parse.ChoreLabel(d.session.Book, c), all)
	return nil
}

func (d *definition) newClock(c model.Chore, k model.Clock) func() tea.Cmd {
	return func() tea.Cmd {
		if len(c.Clocks) == model.MaxClocks {
			d.session.Root.Say(fmt.Sprintf("a chore has at most %d clocks; edit one, or take one out with x", model.MaxClocks))
			return nil
		}
		return d.clock(c, len(c.Clocks), k)
	}
}

// without is a list without its i-th element, in a slice of its own.
func without[E any](all []E, i int) []E {
	if i >= len(all) {
		return all
	}
	return slices.Delete(slices.Clone(all), i, i+1)
}

// with is a list with v in its i-th place, in a slice of its own; past the end it is
// appended.
func with[E any](all []E, i int, v E) []E {
	all = slices.Clone(all)
	if i >= len(all) {
		return append(all, v)
	}
	all[i] = v
	return all
}

// title is the chore and when it is due.
func (d *definition) title(w int) []string {
	th := d.session.Root.Theme()
	c, _ := d.chore()
	name, due := parse.ChoreLabel(d.session.Book, c), ""
	if s := d.session.Round.Of(c.ID); s != nil {
		due = phrase.Due(s, d.session.Today())
	}
	if th.Plain {
		return []string{th.Title.Render(text.Fit(text.Clean(name+", "+due), w))}
	}
	return []string{text.Spread(th.Title.Render(text.Clean(name)), due, w)}
}

// row draws lines in a page of w cells.
func (d *definition) row(w int) func(*line) string {
	th := d.session.Root.Theme()
	return func(l *line) string {
		if l.part == partCaution || l.part == partHazards {
			return table.Wrapped(th.Caution.Render, l.text, w)
		}
		return table.Wrapped(th.Text.Render, l.text, w)
	}
}

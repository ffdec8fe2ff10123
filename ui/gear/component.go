package gear

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/lifebar"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/preview"
	"brine/wrasse/ui/prompt"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// page is the page of a component: its chores to go to, and below them its flag, the
// spares it takes and what was done to it.
type page struct {
	table.View[entry, entry]
	*editor
	id   model.ID
	done history
}

// history is what was done to a component, newest first, kept for the frames to come: in a long book that is thousands of
// ticks.
type history struct {
	book  *ledger.Book
	on    model.Date
	lines []string
}

func (e *editor) openComponent(id model.ID) {
	p := &page{editor: e, id: id}
	p.View = table.New(e.session, keys.Part, table.Spec[entry, entry]{
		Rows: p.entries, Key: func(e *entry) entry { return *e },
		Section: func(e *entry) string { return e.section }, Row: p.row, Sentence: p.sentence, Top: p.title,
		Nothing: func(int) []string { return nil }, Act: p.act,
	})
	p.keep()
	p.Renew()
	e.session.Root.Push(p)
}

// entry is a line of the page: a chore to open, or a text.
type entry struct {
	section string
	chore   model.ID
	text    string
}

// entries are the lines of the page; none when the component is gone, because another
// book was opened.
func (p *page) entries(string) []entry {
	b, today := p.session.Book, p.session.Today()
	c, ok := b.Component(p.id)
	if !ok {
		return nil
	}
	var out []entry
	for _, ch := range choresOf(b, p.session.Round, c.ID) {
		out = append(out, entry{section: "chores", chore: ch.ID})
	}
	if len(out) == 0 {
		out = append(out, entry{"chores", "", "none yet; a adds one"})
	}
	for _, s := range sayState(b, p.session.Round, c, today) {
		out = append(out, entry{"how it stands", "", s})
	}
	for _, s := range spareLines(p.session.Book, c.ID, today) {
		out = append(out, entry{"takes off the shelf", "", s})
	}
	for _, s := range p.done.lines {
		out = append(out, entry{"history", "", s})
	}
	return out
}

// keep works out what was done, if that was not worked out before.
func (p *page) keep() {
	b, today := p.session.Book, p.session.Today()
	c, ok := b.Component(p.id)
	switch {
	case !ok:
		p.done = history{}
	case p.done.book != b || p.done.on != today:
		p.done = history{book: b, on: today}
		for _, t := range historyOf(b, c, 0) {
			p.done.lines = append(p.done.lines, sayTick(t.chore, t.TickRecord, today))
		}
	}
}

// Msg takes in what was foreseen, and another book.
func (p *page) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case preview.Ready:
		msg.Deliver()
	case session.BookChanged:
		p.keep()
		p.Renew()
	}
	return nil
}

// act opens a chore, and acts on the component.
func (p *page) act(a keys.Action, e *entry) (cmd tea.Cmd, used bool) {
	c, ok := p.session.Book.Component(p.id)
	if !ok {
		return nil, false
	}
	switch a {
	case keys.Open:
		if e.chore != "" {
			p.openChore(e.chore)
		}
		return nil, true
	case keys.Edit:
		return p.component(c), true
	case keys.Add:
		return p.newChore(c), true
	case keys.Retire:
		return p.retire(key{model.KindComponent, c.ID}), true
	}
	return prompt.About(p.session, a, c.ID)
}

// title is the component and its place.
func (p *page) title(w int) []string {
	th := p.session.Root.Theme()
	c, _ := p.session.Book.Component(p.id)
	place, _ := p.session.Book.Place(c.Place)
	if th.Plain {
		return []string{th.Title.Render(text.Fit(text.Clean(c.Name+", "+place.Name), w))}
	}
	return []string{text.Spread(th.Title.Render(text.Clean(c.Name)), text.Clean(place.Name), w)}
}

// row draws entries in a page of w cells.
func (p *page) row(w int) func(*entry) string {
	th, widest := p.session.Root.Theme(), 0
	for _, e := range p.Shown() {
		if c, ok := p.session.Book.Chore(e.chore); ok {
			widest = max(widest, text.Width(text.Clean(c.Name)))
		}
	}
	return func(e *entry) string {
		if e.chore == "" {
			return table.Wrapped(th.Text.Render, e.text, w)
		}
		c, _ := p.session.Book.Chore(e.chore)
		return " " + choreRow(p.editor, c, widest, w-2)
	}
}

// choreRow is a chore in w cells: what it is, in a column for names of widest cells, how often, when.
func choreRow(e *editor, c model.Chore, widest, w int) string {
	th := e.session.Root.Theme()
	when, look := "-", th.Dim
	s := e.session.Round.Of(c.ID)
	switch {
	case !c.Retired.IsZero():
		when = "retired"
	case s != nil:
		when, look = phrase.When(s, e.session.Today()), lifebar.Look(th, s, th.Text)
	}
	clocks := e.sayClocks(c)
	const gap, whenWidth, leastClocks = 1, 12, 14
	name := max((w-whenWidth)*2/5, min(widest, w-whenWidth-leastClocks-2*gap), 8)
	cols := []text.Column{{Width: name}, {Width: whenWidth}, {Width: max(w-name-whenWidth-2*gap, 1)}}
	return text.Row(gap, cols, text.Clean(c.Name), look.Render(when), text.Clean(clocks))
}

// spareLines are what the chores of a component take off the shelf.
func spareLines(b *ledger.Book, component model.ID, today model.Date) []string {
	var out []string
	for _, c := range b.Chores() {
		if c.Component != component || !c.Retired.IsZero() {
			continue
		}
		for _, u := range c.Spares {
			s, _ := b.Spare(u.Spare)
			shelf := "not counted yet"
			if b.Counted(u.Spare, today) {
				shelf = phrase.Amount(b, b.OnHand(u.Spare, today), s.Unit)
			}
			out = append(out, phrase.Amount(b, u.Quantity, s.Unit)+" "+s.Name+" to "+c.Name+", shelf "+shelf)
		}
	}
	return out
}

// tick is a tick of one of a component's chores.
type tick struct {
	ledger.TickRecord
	chore model.Chore
}

// historyOf is what was done to a component, newest first; at most most of it, unless that is 0.
func historyOf(b *ledger.Book, c model.Component, most int) []tick {
	var all []tick
	for _, ch := range b.Chores() {
		if ch.Component != c.ID {
			continue
		}
		for _, t := range b.Done(ch.ID) {
			all = append(all, tick{t, ch})
		}
	}
	slices.SortFunc(all, func(a, b tick) int { return cmp.Or(cmp.Compare(b.On, a.On), cmp.Compare(b.Seq, a.Seq)) })
	if most > 0 && len(all) > most {
		all = all[:most]
	}
	return all
}

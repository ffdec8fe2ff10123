package table

import (
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// Page is a page of lines to scroll through, such as the detail of a row in windows
// without room beside the list. Show it with Root.Push.
type Page struct {
	session *session.Session
	scope   keys.Scope
	lines   func(w int) []string
	act     func(keys.Action) (tea.Cmd, bool)
	from    int
}

// NewPage is a page of lines. act, if any, is offered every action first, and reports
// whether it used it; what it leaves scrolls.
func NewPage(d *session.Session, scope keys.Scope, lines func(w int) []string, act func(keys.Action) (tea.Cmd, bool)) *Page {
	return &Page{session: d, scope: scope, lines: lines, act: act}
}

// Scope is the page's, which for a row is that of its view: it is acted on here too.
func (p *Page) Scope() keys.Scope { return p.scope }

// TextEntry is false.
func (p *Page) TextEntry() bool { return false }

// Msg takes nothing: lines are asked for whenever the page is drawn.
func (p *Page) Msg(tea.Msg) tea.Cmd { return nil }

// ToTop scrolls to the first line.
func (p *Page) ToTop() { p.from = 0 }

// Act carries out an action of the page, or scrolls.
func (p *Page) Act(a keys.Action) tea.Cmd {
	if p.act != nil {
		if cmd, used := p.act(a); used {
			return cmd
		}
	}
	switch a {
	case keys.Undo:
		return p.session.Undo()
	case keys.Redo:
		return p.session.Redo()
	}
	w, h := p.session.Root.Body()
	p.from = ui.Scroll(a, p.from, len(p.lines(w)), h)
	return nil
}

// Render draws the part scrolled to.
func (p *Page) Render(w, h int) string {
	lines := p.lines(w)
	return text.Block(lines[min(p.from, max(len(lines)-h, 0)):], w, h)
}

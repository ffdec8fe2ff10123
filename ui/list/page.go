package list

import (
	"brine/wrasse/ui"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// Page is the detail of a row on a page of its own, for windows without room beside
// the list and texts that are long. Show it with Root.Push.
type Page struct {
	desk  *desk.Desk
	scope keys.Scope
	lines func(w int) []string
	act   func(keys.Action) (tea.Cmd, bool)
	from  int
}

// NewPage is a page of lines. act is offered every action first, and reports
// whether it used it; what it leaves scrolls.
func NewPage(d *desk.Desk, scope keys.Scope, lines func(w int) []string, act func(keys.Action) (tea.Cmd, bool)) *Page {
	return &Page{desk: d, scope: scope, lines: lines, act: act}
}

// Scope is that of the view it belongs to: a row is acted on here too.
func (p *Page) Scope() keys.Scope { return p.scope }

// TextEntry is false.
func (p *Page) TextEntry() bool { return false }

// Msg takes nothing; the view keeps the row in step.
func (p *Page) Msg(tea.Msg) tea.Cmd { return nil }

// Act acts on the row, or scrolls.
func (p *Page) Act(a keys.Action) tea.Cmd {
	if cmd, used := p.act(a); used {
		return cmd
	}
	switch a {
	case keys.Undo:
		return p.desk.Undo()
	case keys.Redo:
		return p.desk.Redo()
	}
	w, h := p.desk.Root.Body()
	p.from = ui.Scroll(a, p.from, len(p.lines(w)), h)
	return nil
}

// Render draws the part scrolled to.
func (p *Page) Render(w, h int) string {
	lines := p.lines(w)
	return text.Block(lines[min(p.from, max(len(lines)-h, 0)):], w, h)
}

package logbook

import (
	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// page is one entry in full, for windows without room beside the list and notes
// that are long.
type page struct {
	view *View
	seq  model.Seq
	from int
}

// Scope is that of the Log: an entry is amended and struck here too.
func (p *page) Scope() keys.Scope { return keys.Log }

// TextEntry is false.
func (p *page) TextEntry() bool { return false }

// Msg takes nothing; the view keeps the book in step.
func (p *page) Msg(tea.Msg) tea.Cmd { return nil }

// Act scrolls, amends and strikes.
func (p *page) Act(a keys.Action) tea.Cmd {
	switch a {
	case keys.Strike:
		return p.view.strike(p.seq)
	case keys.Amend:
		return p.view.amend(p.seq)
	case keys.Undo:
		return p.view.desk.Undo()
	case keys.Redo:
		return p.view.desk.Redo()
	}
	w, h := p.view.desk.Root.Body()
	p.from = ui.Scroll(a, p.from, len(p.lines(w)), h)
	return nil
}

// lines is the entry, if it is still there.
func (p *page) lines(w int) []string {
	if p.seq > p.view.index.book.Last() {
		return nil
	}
	return p.view.detail(p.seq, w)
}

// Render draws the part scrolled to.
func (p *page) Render(w, h int) string {
	lines := p.lines(w)
	return text.Block(lines[min(p.from, max(len(lines)-h, 0)):], w, h)
}

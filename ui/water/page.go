package water

import (
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/words"

	tea "github.com/charmbracelet/bubbletea"
)

// page is what the readings say in full, and what keepers most often get wrong.
type page struct {
	screen *Screen
	from   int
}

// Scope is that of pages to scroll.
func (p *page) Scope() keys.Scope { return keys.Reading }

// TextEntry is false.
func (p *page) TextEntry() bool { return false }

// Msg takes nothing: the view below takes in a new book.
func (p *page) Msg(tea.Msg) tea.Cmd { return nil }

// Act scrolls.
func (p *page) Act(a keys.Action) tea.Cmd {
	w, h := p.screen.desk.Root.Body()
	p.from = ui.Scroll(a, p.from, len(p.lines(w)), h)
	return nil
}

// Render draws the page from the line scrolled to.
func (p *page) Render(w, h int) string {
	lines := p.lines(w)
	from := min(max(p.from, 0), max(len(lines)-h, 0))
	return text.Block(lines[from:], w, h)
}

// readable is the longest line that is pleasant to read.
const readable = 92

func (p *page) lines(w int) []string {
	s := p.screen
	if s.is == nil {
		return s.desk.Reading(w)
	}
	th := s.desk.Root.Theme()
	measure := min(w, readable)
	lines := []string{s.heading("what the readings say", "", w)}
	lines = append(lines, s.diagnosis(measure)...)
	lines = append(lines, "", s.heading("stages", "", w))
	lines = append(lines, s.cards(measure)...)
	if n := s.is.NormalFlow; !n.Known() && n.Why != "" {
		lines = append(lines, "", th.Title.Render("normalised flow: no value"))
		lines = append(lines, text.Para(measure, "  ", "  ", th.Dim.Render, n.Why)...)
	}
	if f := s.is.FirstWeeks; f.From != 0 {
		lines = append(lines, "")
		lines = append(lines, text.Para(measure, "", "", th.Dim.Render,
			"First weeks, against which readings are held: "+words.Day(f.From, s.is.On)+" to "+words.Day(f.Through, s.is.On)+".")...)
	}
	lines = append(lines, "", s.heading("easily got wrong", "", w))
	first, rest := "· ", "  "
	if th.Plain {
		first, rest = "", ""
	}
	for _, fact := range words.Facts(s.book, s.is) {
		lines = append(lines, text.Para(measure, first, rest, nil, fact)...)
	}
	return lines
}

package ui

import (
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// helpPage lists the keys that work on the screen it was opened from.
type helpPage struct {
	root *Root
	of   keys.Scope
	from int // first line shown
}

func (p *helpPage) Scope() keys.Scope   { return keys.HelpPage }
func (p *helpPage) TextEntry() bool     { return false }
func (p *helpPage) Msg(tea.Msg) tea.Cmd { return nil }

// Act scrolls.
func (p *helpPage) Act(a keys.Action) tea.Cmd {
	w, h := p.root.Body()
	p.from = Scroll(a, p.from, len(p.lines(w)), h)
	return nil
}

func (p *helpPage) Render(w, h int) string {
	lines := p.lines(w)
	from := min(p.from, max(len(lines)-h, 0))
	return text.Block(lines[from:], w, h)
}

// lines draws everything there is to say.
func (p *helpPage) lines(w int) []string {
	const labels = 10
	th := p.root.theme
	var out []string
	for i, sec := range keys.Help(p.of) {
		if i > 0 {
			out = append(out, "")
		}
		out = append(out, th.Title.Render(sec.Name))
		for _, b := range sec.Binds {
			if th.Plain {
				out = append(out, text.Wrap(b.Label+": "+b.Desc, w)...)
				continue
			}
			head := "  " + th.Key.Render(text.Fit(b.Label, labels)) + " "
			for j, line := range text.Wrap(b.Desc, w-labels-3) {
				if j > 0 {
					head = text.Fit("", labels+3)
				}
				out = append(out, head+line)
			}
		}
	}
	return out
}

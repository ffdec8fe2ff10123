package ui

import (
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/ui/form"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// helpPage lists the keys that work on the screen it was opened from.
type helpPage struct {
	root  *Root
	of    keys.Scope
	from  int       // first line shown
	query form.Line // what a key is looked for by
}

// maxHelpQuery is the longest query, in characters: more than any key's words.
const maxHelpQuery = 80

func newHelpPage(r *Root, of keys.Scope) *helpPage {
	return &helpPage{root: r, of: of, query: form.NewLine(maxHelpQuery)}
}

// Scope is that of a filter while the query is typed.
func (p *helpPage) Scope() keys.Scope {
	if p.query.Focused() {
		return keys.Filter
	}
	return keys.HelpPage
}

// TextEntry reports whether the query is being typed.
func (p *helpPage) TextEntry() bool { return p.query.Focused() }

// Msg takes the query's text.
func (p *helpPage) Msg(msg tea.Msg) tea.Cmd {
	if k, ok := msg.(tea.KeyMsg); ok {
		p.query.Type(k)
		p.from = 0
	}
	return nil
}

// Act scrolls, and begins and ends a query.
func (p *helpPage) Act(a keys.Action) tea.Cmd {
	switch a {
	case keys.Find:
		p.query.Focus()
	case keys.Submit:
		p.query.Blur()
	}
	w, h := p.root.Body()
	p.from = Scroll(a, p.from, len(p.lines(w)), h-len(p.head(w)))
	return nil
}

// Close lets esc take the query away first.
func (p *helpPage) Close() (tea.Cmd, bool) {
	if !p.query.Focused() && p.query.Value() == "" {
		return nil, true
	}
	p.query.Blur()
	p.query.Set("")
	p.from = 0
	return nil, false
}

func (p *helpPage) Render(w, h int) string {
	head, lines := p.head(w), p.lines(w)
	from := min(p.from, max(len(lines)-(h-len(head)), 0))
	return text.Block(append(head, lines[from:]...), w, h)
}

// head is the line of the query, with how many keys it finds.
func (p *helpPage) head(w int) []string {
	if !p.query.Focused() && p.query.Value() == "" {
		return nil
	}
	n := 0
	for _, sec := range p.found() {
		n += len(sec.Binds)
	}
	found := fmt.Sprintf("%d found", n)
	th, lead, sep := p.root.theme, p.root.theme.Key.Render("/")+" ", "  "
	if th.Plain {
		lead, sep = "find: ", ", "
	}
	room := max(w-text.Width(lead)-text.Width(found)-2, 9)
	return []string{text.Fit(lead+p.query.Draw(th, min(text.Width(p.query.Value())+1, room))+sep+found, w)}
}

// found is the keys that fit every word of the query, by what they are for.
func (p *helpPage) found() []keys.Section {
	words := strings.Fields(strings.ToLower(p.query.Value()))
	all := keys.Help(p.of)
	for i, sec := range all {
		all[i].Binds = slices.DeleteFunc(sec.Binds, func(b keys.Bind) bool {
			what := strings.ToLower(b.Label + " " + b.Desc)
			return slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(what, w) })
		})
	}
	return slices.DeleteFunc(all, func(sec keys.Section) bool { return len(sec.Binds) == 0 })
}

// lines draws the keys, section by section.
func (p *helpPage) lines(w int) []string {
	const labels = 10
	th := p.root.theme
	var out []string
	for i, sec := range p.found() {
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

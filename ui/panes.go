package ui

import (
	"strings"

	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
)

// Draw puts a list and its detail together as planned: each is drawn at its own
// size, with a rule between them unless the detail is one line below the list. Without
// room for detail it is not drawn.
func (p Panes) Draw(th theme.Theme, list, detail func(w, h int) string) string {
	left := list(p.ListW, p.ListH)
	switch {
	case p.DetailW == 0:
		return left
	case !p.Beside && p.DetailH == 1:
		return left + "\n" + detail(p.DetailW, p.DetailH)
	case !p.Beside:
		rule := th.Line(p.ListW)
		return left + "\n" + rule + "\n" + detail(p.DetailW, p.DetailH)
	}
	rule := text.Fit(" "+th.Rule.Render(theme.Upright), sideRule)
	rows := strings.Split(left, "\n")
	side := strings.Split(detail(p.DetailW, p.DetailH), "\n")
	for i := range rows {
		if i < len(side) {
			rows[i] += rule + side[i]
		}
	}
	return strings.Join(rows, "\n")
}

// Package gear is the Gear view: places, the components that stand there, and
// their chores, as a tree to add to, edit and retire.
package gear

import (
	"fmt"

	"brine/wrasse/ui"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Gear tree. Make one with New.
type View struct {
	list.State
	desk *desk.Desk
}

// New is the Gear of a window.
func New(d *desk.Desk) ui.Screen { return &View{State: list.New(d, keys.Gear), desk: d} }

// Act moves.
func (v *View) Act(a keys.Action) tea.Cmd {
	_, h := v.desk.Root.Body()
	return v.State.Act(a, len(v.rows()), h)
}

// Msg types the filter.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	v.Type(msg)
	return nil
}

// Close gives up the filter first.
func (v *View) Close() (tea.Cmd, bool) { return nil, v.State.Close() }

func (v *View) rows() []string {
	var out []string
	b := v.desk.Book
	for _, p := range b.Places() {
		out = append(out, text.Clean(p.Name))
		for _, c := range b.Components() {
			if c.Place != p.ID {
				continue
			}
			out = append(out, fmt.Sprintf("  %s  reach %d", text.Clean(c.Name), c.Reach))
			for _, ch := range b.Chores() {
				if ch.Component == c.ID {
					out = append(out, "    "+text.Clean(ch.Name))
				}
			}
		}
	}
	return out
}

// Render draws the tree around the cursor.
func (v *View) Render(w, h int) string {
	all := v.rows()
	from := ui.Window(v.At(), len(all), h)
	var lines []string
	for i, row := range all[from:] {
		lines = append(lines, list.Row(v.desk.Root.Theme(), from+i == v.At(), row, w))
	}
	return text.Block(lines, w, h)
}

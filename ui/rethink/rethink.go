// Package rethink is the Rethink view: the components whose placing costs most
// time, those flagged first, with what is to be done about them and what a
// rebuilding has saved.
package rethink

import (
	"fmt"

	"brine/wrasse/ui"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Rethink list. Make one with New.
type View struct {
	list.State
	desk *desk.Desk
}

// New is the Rethink list of a window.
func New(d *desk.Desk) ui.Screen { return &View{State: list.New(d, keys.Rethink), desk: d} }

// Act moves.
func (v *View) Act(a keys.Action) tea.Cmd {
	_, h := v.desk.Root.Body()
	return v.State.Act(a, len(v.desk.Book.Components()), h)
}

// Msg types the filter.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	v.Type(msg)
	return nil
}

// Close gives up the filter first.
func (v *View) Close() (tea.Cmd, bool) { return nil, v.State.Close() }

// Render draws the components around the cursor.
func (v *View) Render(w, h int) string {
	b, th := v.desk.Book, v.desk.Root.Theme()
	all := b.Components()
	from := ui.Window(v.At(), len(all), h)
	var lines []string
	for i, c := range all[from:] {
		state := ""
		if flags := b.Flags(c.ID); len(flags) > 0 {
			state = string(flags[len(flags)-1].What.State)
		}
		row := fmt.Sprintf("%s  reach %d  %d min  %s", text.Clean(c.Name), c.Reach, c.AccessMinutes, state)
		lines = append(lines, list.Row(th, from+i == v.At(), row, w))
	}
	return text.Block(lines, w, h)
}

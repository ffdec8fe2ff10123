// Package logbook is the Log view: everything that was ever written in the book,
// newest first, with what was struck or amended shown as such.
package logbook

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/act"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Log. Make one with New.
type View struct {
	list.State
	desk *desk.Desk
}

// New is the Log of a window.
func New(d *desk.Desk) ui.Screen { return &View{State: list.New(d, keys.Log), desk: d} }

// Act moves.
func (v *View) Act(a keys.Action) tea.Cmd {
	_, h := v.desk.Root.Body()
	cmd, _ := v.State.Act(a, int(v.desk.Book.Last()), h)
	return cmd
}

// Msg types the filter.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	v.Type(msg)
	return nil
}

// Close gives up the filter first.
func (v *View) Close() (tea.Cmd, bool) { return nil, v.State.Close() }

// Render draws the entries around the cursor.
func (v *View) Render(w, h int) string {
	b, th := v.desk.Book, v.desk.Root.Theme()
	n := int(b.Last())
	from := ui.Window(v.At(), n, h)
	var lines []string
	for i := from; i < min(n, from+h); i++ {
		e := b.Written(b.Last() - model.Seq(i))
		row := text.Clean(e.On.String() + "  " + act.Say(b, e))
		lines = append(lines, list.Row(th, i == v.At(), row, w))
	}
	return text.Block(slices.Clip(lines), w, h)
}

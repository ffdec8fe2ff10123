// Package shelf is the Shelf view: the spares, how many are on hand, when the next
// is needed and by when to order it.
package shelf

import (
	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/typed"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Shelf. Make one with New.
type View struct {
	list.State
	desk *desk.Desk
}

// New is the Shelf of a window.
func New(d *desk.Desk) ui.Screen { return &View{State: list.New(d, keys.Shelf), desk: d} }

// Act moves.
func (v *View) Act(a keys.Action) tea.Cmd {
	_, h := v.desk.Root.Body()
	return v.State.Act(a, len(v.spares()), h)
}

// Msg types the filter.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	v.Type(msg)
	return nil
}

// Close gives up the filter first.
func (v *View) Close() (tea.Cmd, bool) { return nil, v.State.Close() }

func (v *View) spares() []model.Spare { return v.desk.Book.Spares() }

// Render draws the spares around the cursor.
func (v *View) Render(w, h int) string {
	b, th := v.desk.Book, v.desk.Root.Theme()
	all := v.spares()
	from := ui.Window(v.At(), len(all), h)
	var lines []string
	for i, s := range all[from:] {
		row := text.Clean(s.Name + "  " + typed.Quantity(b.OnHand(s.ID, v.desk.Today()), s.Unit, b.Def().Units))
		lines = append(lines, list.Row(th, from+i == v.At(), row, w))
	}
	return text.Block(lines, w, h)
}

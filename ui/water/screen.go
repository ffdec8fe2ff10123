// Package water is view 2: the water station's latest values, charts of them over
// time, a card for each stage, what the readings say, and the mixing of salt water.
//
// Start at New. What is known of the water is gathered by model/station and weighed by
// model/water; bars are drawn by ui/tide, charts by ui/chart, sentences made by
// ui/words. Nothing is worked out here but where things stand on the screen.
package water

import (
	"strings"

	"brine/wrasse/model/station"
	"brine/wrasse/ui"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/typed"
	"brine/wrasse/ui/words"

	tea "github.com/charmbracelet/bubbletea"
)

// Screen is the Water view.
type Screen struct {
	desk *desk.Desk
	is   *station.Station // of the present book and day; nil before the book is read
}

// New is the Water view of a desk.
func New(d *desk.Desk) ui.Screen { return &Screen{desk: d} }

// Scope is that of Water.
func (s *Screen) Scope() keys.Scope { return keys.Water }

// TextEntry is false: letters are commands.
func (s *Screen) TextEntry() bool { return false }

// Msg takes in a new book or day.
func (s *Screen) Msg(msg tea.Msg) tea.Cmd {
	if _, ok := msg.(desk.Fresh); ok {
		s.is = station.Of(s.desk.Book, s.desk.Today())
	}
	return nil
}

// Act carries out an action of the view.
func (s *Screen) Act(a keys.Action) tea.Cmd {
	switch a {
	case keys.Undo:
		return s.desk.Undo()
	case keys.Redo:
		return s.desk.Redo()
	}
	return nil
}

// Render draws the view.
func (s *Screen) Render(w, h int) string {
	if s.is == nil {
		return text.Block(nil, w, h)
	}
	var lines []string
	u := s.desk.Book.Def().Units
	for _, v := range s.is.Values {
		row := text.Clean(v.Gauge.Name) + "  never read"
		if v.Read() {
			row = text.Clean(v.Gauge.Name) + "  " + typed.Quantity(v.Value, v.Gauge.Unit, u) + "  " + words.InDays(v.Taken, s.is.On)
		}
		lines = append(lines, row)
	}
	return text.Block(strings.Split(strings.Join(lines, "\n"), "\n"), w, h)
}

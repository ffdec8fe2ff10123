package ui

import (
	"brine/wrasse/ui/keys"

	tea "github.com/charmbracelet/bubbletea"
)

// Screen is a view, a page or a sheet. It holds its own state behind a pointer,
// sees actions rather than keys, and is told its size when it is drawn, so it
// has none to keep in step. What it wants of the frame it asks of the Root it
// was made with.
type Screen interface {
	// Scope says which keys work.
	Scope() keys.Scope
	// TextEntry reports whether printable keys are text at this moment; they
	// then arrive in Msg as tea.KeyMsg, as do the editing keys.
	TextEntry() bool
	// Act carries out an action of the scope that is not the root's own.
	Act(keys.Action) tea.Cmd
	// Msg takes every other message: results of commands, NewDay, text.
	Msg(tea.Msg) tea.Cmd
	// Render draws h lines of w cells, without changing anything.
	Render(w, h int) string
}

// Sheet is a screen drawn over the foot of the one below, which stays in sight.
type Sheet interface {
	Screen
	// Height is the number of lines it wants in w cells.
	Height(w int) int
}

// Closer is a screen with a say in being left by esc or q.
type Closer interface {
	// Close reports whether the screen may be left. A page that answers no
	// has used the key itself: asked a question, cleared a filter.
	Close() (tea.Cmd, bool)
}

// Letterer is a screen that takes printable keys bound to nothing, one at a
// time: the answers of a question.
type Letterer interface {
	Letter(rune) tea.Cmd
}

// Asider is a view with something to say at the right end of the view strip,
// in at most room cells.
type Asider interface {
	Aside(room int) string
}

// Clicker is a screen that takes mouse clicks, at a place in its own drawing.
type Clicker interface {
	Click(x, y int) tea.Cmd
}

// View is one of the screens the digits lead to.
type View struct {
	Name   string
	Screen Screen
}

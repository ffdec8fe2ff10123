package prompt

import (
	"brine/wrasse/model"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// About puts the question of an action about a component: its flag, its fault, its reach.
// It reports whether the action is one of them.
func About(d *session.Session, a keys.Action, component model.ID) (cmd tea.Cmd, used bool) {
	switch a {
	case keys.Flag:
		return Flag(d, component), true
	case keys.Fault:
		return Fault(d, component), true
	case keys.Reach:
		return Reach(d, component), true
	}
	return nil, false
}

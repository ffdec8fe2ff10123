package session

import tea "github.com/charmbracelet/bubbletea"

// Ahead begins to read the book at once, beside all that has to be done before the
// program runs, and Init then only takes what that brings. Call it once the session has its
// root. It may be left out.
func (d *Session) Ahead() {
	load, got := d.Load(), make(chan tea.Msg, 1)
	go func() { got <- load() }()
	d.ahead = func() tea.Msg { return <-got }
}

// first is the command that brings the first book: the one read ahead, or Load.
func (d *Session) first() tea.Cmd {
	ahead := d.ahead
	d.ahead = nil
	if ahead == nil {
		return d.Load()
	}
	return ahead
}

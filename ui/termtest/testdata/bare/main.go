// Command bare is the smallest full-screen program there is: what the harness
// is tried on, and the floor that start-up times are compared with.
package main

import (
	"fmt"
	"os"

	tea "github.com/charmbracelet/bubbletea"
)

type model struct {
	w, h int
	keys string
}

func (m model) Init() tea.Cmd { return nil }

func (m model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.w, m.h = msg.Width, msg.Height
	case tea.KeyMsg:
		if msg.String() == "q" {
			return m, tea.Quit
		}
		m.keys += msg.String() + " "
	}
	return m, nil
}

func (m model) View() string {
	if m.w == 0 {
		return ""
	}
	return fmt.Sprintf("ready at %d x %d\nkeys: %s", m.w, m.h, m.keys)
}

func main() {
	if _, err := tea.NewProgram(model{}, tea.WithAltScreen()).Run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

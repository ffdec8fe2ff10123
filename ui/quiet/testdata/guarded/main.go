// Command guarded links the framework behind the guard and only prints a line,
// as a --version does.
package main

import (
	"fmt"

	_ "brine/wrasse/ui/quiet"

	tea "github.com/charmbracelet/bubbletea"
)

func main() { fmt.Printf("linked, %v\n", tea.KeyEnter) }

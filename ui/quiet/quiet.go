// Package quiet keeps the terminal from being asked questions before the
// program has begun.
//
// bubbletea v1 looks up the terminal's background colour in a package init
// (bubbletea issue 1771). Where the terminal never answers, that look-up waits
// five seconds, even for --version, and a late answer is typed into the shell.
// lipgloss skips the question once the background has been set by hand, so this
// package sets it first.
//
// It works because Go initialises packages in the order of their import paths
// as soon as their own imports are ready: this package imports lipgloss but not
// bubbletea, and its path sorts before github.com/charmbracelet/bubbletea. Both
// facts must stay true. Nothing in the program depends on the value: the theme
// uses the terminal's own foreground and background.
package quiet

import "github.com/charmbracelet/lipgloss"

// The one init of the program; see the package comment for why it must exist.
func init() { lipgloss.SetHasDarkBackground(true) }

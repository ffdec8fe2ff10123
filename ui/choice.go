package ui

import (
	"strings"
	"unicode"

	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// Answer is one answer of a Choice.
type Answer struct {
	Letter rune // picks it
	Label  string
	Note   string // said dimly after the label
}

// Choice is a sheet that asks for one of a few answers. A letter answers at
// once, or, with Confirm, moves to its row for enter to take; the arrow keys
// and enter always work. Make one with NewChoice.
type Choice struct {
	Title   string
	Options []Answer
	Confirm bool
	// Pick is called with the index of the answer, after the sheet has closed.
	Pick func(i int) tea.Cmd

	root  *Root
	at    int
	quits bool // asks whether to quit: quitting again answers it
}

// NewChoice makes a question; show it with Root.Push.
func NewChoice(r *Root, title string, options []Answer, pick func(int) tea.Cmd) *Choice {
	return &Choice{Title: title, Options: options, Pick: pick, root: r}
}

// Scope says that letters are answers here.
func (c *Choice) Scope() keys.Scope { return keys.Choice }

// TextEntry is false: letters arrive one at a time.
func (c *Choice) TextEntry() bool { return false }

// Msg takes nothing.
func (c *Choice) Msg(tea.Msg) tea.Cmd { return nil }

// Act moves and takes.
func (c *Choice) Act(a keys.Action) tea.Cmd {
	n := len(c.Options)
	switch a {
	case keys.Up:
		c.at = (c.at + n - 1) % n
	case keys.Down:
		c.at = (c.at + 1) % n
	case keys.Submit:
		return c.take(c.at)
	}
	return nil
}

// At is the index of the answer at the cursor.
func (c *Choice) At() int { return c.at }

// Letter answers, or moves to the answer. Letters of no answer do nothing.
func (c *Choice) Letter(r rune) tea.Cmd {
	for i, o := range c.Options {
		if unicode.ToLower(o.Letter) != unicode.ToLower(r) {
			continue
		}
		c.at = i
		if !c.Confirm {
			return c.take(i)
		}
	}
	return nil
}

func (c *Choice) take(i int) tea.Cmd {
	c.root.Drop(c)
	return c.Pick(i)
}

// Height is a line for the question and one for each answer.
func (c *Choice) Height(int) int { return 1 + len(c.Options) }

// Render draws the question and its answers; in a low window those around the
// cursor.
func (c *Choice) Render(w, h int) string {
	th := c.root.theme
	lines := []string{th.Title.Render(strings.Join(text.Brief(text.Clean(c.Title), w, 1), ""))}
	from := Window(c.at, len(c.Options), h-1)
	widest := 0
	for _, o := range c.Options {
		widest = max(widest, text.Width(text.Clean(o.Label)))
	}
	for i, o := range c.Options[from:] {
		row := string(o.Letter) + "  " + text.Fit(text.Clean(o.Label), min(widest, w))
		if th.Plain {
			row = string(o.Letter) + ", " + text.Clean(o.Label)
		}
		if from+i == c.at {
			row = th.Cursor.Render(th.Mark + " " + row)
		} else {
			row = "  " + row
		}
		between := "  "
		if th.Plain {
			between = ", "
		}
		if note := text.Clauses(text.Clean(o.Note), w-text.Width(row)-2); note != "" {
			row += between + th.Dim.Render(note)
		}
		lines = append(lines, row)
	}
	return text.Block(lines, w, h)
}

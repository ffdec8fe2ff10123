package app

import (
	"strings"

	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// unread stands in place of the views when the book can't be read. It says why and what
// helps, as the error does, and reads again when asked or when the file has changed: a
// copy brought back in another window shows up by itself.
type unread struct {
	session *session.Session
	from    int // first line shown
}

func (u *unread) Scope() keys.Scope   { return keys.Unread }
func (u *unread) TextEntry() bool     { return false }
func (u *unread) Msg(tea.Msg) tea.Cmd { return nil }

// Act tries again, and scrolls.
func (u *unread) Act(a keys.Action) tea.Cmd {
	if a == keys.Submit {
		return u.session.Load()
	}
	w, h := u.session.Root.Body()
	u.from = ui.Scroll(a, u.from, len(u.lines(w)), h)
	return nil
}

func (u *unread) Render(w, h int) string {
	lines := u.lines(w)
	return text.Block(lines[min(u.from, max(len(lines)-h, 0)):], w, h)
}

// apart sets what an error says to do, and each command line in it, on lines of their own.
var apart = strings.NewReplacer("; ", "\n\n", ", or ", "\n\nor ", ": wrasse ", ":\nwrasse ")

// margin stands before a command line.
const margin = "    "

func (u *unread) lines(w int) []string {
	th := u.session.Root.Theme()
	out := []string{th.Title.Render("The book can't be read"), ""}
	for part := range strings.SplitSeq(apart.Replace(u.session.Unread().Error()), "\n") {
		indent := ""
		if strings.HasPrefix(part, "wrasse ") {
			indent = margin
		}
		for _, line := range text.Wrap(text.Clean(part), w-len(indent)) {
			out = append(out, indent+line)
		}
	}
	return append(append(out, ""), text.Wrap("Command lines go into a shell: leave with q, or use another window. "+
		"enter tries again; a book that has been brought back shows up by itself.", w)...)
}

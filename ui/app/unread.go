package app

import (
	"strings"

	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// unread is the page in place of the views when the book can't be read. It says why and what
// helps, as the error does, and reads again when asked or when the file has changed: a
// copy brought back in another window shows up by itself.
func unread(d *session.Session) *table.Page {
	return table.NewPage(d, keys.Unread, func(w int) []string { return sayUnread(d, w) }, func(a keys.Action) (tea.Cmd, bool) {
		if a == keys.Submit {
			return d.Load(), true
		}
		return nil, false
	})
}

// apart sets what an error says to do, and each command line in it, on lines of their own.
var apart = strings.NewReplacer("; ", "\n\n", ", or ", "\n\nor ", ": wrasse ", ":\nwrasse ")

// margin stands before a command line.
const margin = "    "

func sayUnread(d *session.Session, w int) []string {
	th := d.Root.Theme()
	out := []string{th.Title.Render("The book can't be read"), ""}
	for part := range strings.SplitSeq(apart.Replace(d.Unread().Error()), "\n") {
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

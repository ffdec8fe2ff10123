// Package table is the one list view of the program: rows under headings, a cursor that
// stays on its row while the rows change, a filter in a line of its own, the mouse, plain
// words, and what there is to say about a row beside the list or on a page.
//
// A view embeds a View and gives it a Spec: what its rows are, how one is drawn, said and
// acted on. Rows are asked for when the book or the filter has changed and kept for the
// frames to come; only those in sight are drawn.
//
// A list too long to be held gives View the stretch of it that has been read around the
// cursor. As cursors go by keys, another stretch may take its place at any time: the view
// reads on when At comes near an end of the rows, and where the first or the last row of
// all is asked for reads that end, calls Renew when it is there, and then Put.
package table

import (
	"strings"

	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// State is the cursor and the filter of a list. Make one with NewState.
type State struct {
	session *session.Session
	scope   keys.Scope
	at      int
	line    form.Line // the filter; it is focused while it is typed
}

// maxQuery is the most a filter holds, in characters: more than a line shows.
const maxQuery = 200

// NewState is the state of a list whose keys are those of scope.
func NewState(d *session.Session, scope keys.Scope) State {
	return State{session: d, scope: scope, line: form.NewLine(maxQuery)}
}

// Scope is the list's, or that of the filter line while it is typed into.
func (s *State) Scope() keys.Scope {
	if s.TextEntry() {
		return keys.Filter
	}
	return s.scope
}

// TextEntry reports whether the filter is being typed.
func (s *State) TextEntry() bool { return s.line.Focused() }

// At is the row of the cursor.
func (s *State) At() int { return s.at }

// Put moves the cursor to row i.
func (s *State) Put(i int) { s.at = max(i, 0) }

// Query is the filter as typed, without the blanks around it.
func (s *State) Query() string { return strings.TrimSpace(s.line.Value()) }

// Filtering reports whether a filter is set or being typed, and takes a line.
func (s *State) Filtering() bool { return s.TextEntry() || s.line.Value() != "" }

// Act moves the cursor among n rows, a page being h, and carries out what every
// list does alike: filtering, taking back.
func (s *State) Act(a keys.Action, n, h int) tea.Cmd {
	switch a {
	case keys.Find:
		s.line.Focus()
	case keys.Submit:
		s.line.Blur()
	case keys.Undo:
		return s.session.Undo()
	case keys.Redo:
		return s.session.Redo()
	default:
		s.at = ui.Step(a, s.at, n, h)
	}
	return nil
}

// Type takes a key meant for the filter and reports whether the filter changed.
func (s *State) Type(k tea.KeyMsg) bool {
	before := s.line.Value()
	s.line.Type(k)
	return s.line.Value() != before
}

// Close lets esc take the filter away before it leaves. It reports whether the list
// may be left.
func (s *State) Close() bool {
	if !s.Filtering() {
		return true
	}
	s.line.Blur()
	s.line.Set("")
	return false
}

// FilterLine draws the filter in w cells, with what was found beside it.
func (s *State) FilterLine(th theme.Theme, found string, w int) string {
	typed := text.Clean(s.line.Value())
	if th.Plain && !s.TextEntry() {
		return text.Fit("filter: "+typed+", "+found, w)
	}
	cells := text.Width(typed)
	if s.TextEntry() {
		cells++ // for the cursor
	}
	cells = min(cells, max(w-text.Width(found)-5, 9))
	if th.Plain {
		return text.Fit("filter: "+s.line.Draw(th, cells)+", "+found, w)
	}
	return text.Spread(th.Key.Render("/")+" "+s.line.Draw(th, cells), th.Dim.Render(found), w)
}

// Matches reports whether every word of query stands somewhere in the texts,
// whatever the case. Texts that are in lower case already take no memory.
func Matches(query string, texts ...string) bool {
	if query == "" {
		return true
	}
	all := strings.ToLower(strings.Join(texts, "\n"))
	for word := range strings.FieldsSeq(strings.ToLower(query)) {
		if !strings.Contains(all, word) {
			return false
		}
	}
	return true
}

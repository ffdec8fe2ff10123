// Package list is what the list views of a window have in common: a cursor that
// stays on its row while the rows change, a filter typed into a line of its own,
// the keys that move both, and the columns a table shares out.
//
// A view keeps a State, hands it the actions and keys it does not use itself, and
// tells it how many rows there are. What a row is and how it is drawn is the
// view's own business; so is what the filter means.
package list

import (
	"slices"
	"strings"
	"unicode/utf8"

	"brine/wrasse/ui"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// State is the cursor and the filter of a list. Make one with New.
type State struct {
	desk   *desk.Desk
	scope  keys.Scope
	at     int
	query  string
	typing bool
}

// maxQuery is the most a filter holds, in characters: more than a line shows.
const maxQuery = 200

// New is the state of a list whose keys are those of scope.
func New(d *desk.Desk, scope keys.Scope) State { return State{desk: d, scope: scope} }

// Scope is the list's, or that of the filter line while it is typed into.
func (s *State) Scope() keys.Scope {
	if s.typing {
		return keys.Filter
	}
	return s.scope
}

// TextEntry reports whether the filter is being typed.
func (s *State) TextEntry() bool { return s.typing }

// At is the row of the cursor.
func (s *State) At() int { return s.at }

// Put moves the cursor to row i.
func (s *State) Put(i int) { s.at = max(i, 0) }

// Query is the filter as typed, without the blanks around it.
func (s *State) Query() string { return strings.TrimSpace(s.query) }

// Filtering reports whether a filter is set or being typed, and takes a line.
func (s *State) Filtering() bool { return s.typing || s.query != "" }

// Act moves the cursor among n rows, a page being h, and carries out what every
// list does alike: filtering, taking back.
func (s *State) Act(a keys.Action, n, h int) tea.Cmd {
	switch a {
	case keys.Find:
		s.typing = true
	case keys.Submit:
		s.typing = false
	case keys.Undo:
		return s.desk.Undo()
	case keys.Redo:
		return s.desk.Redo()
	default:
		s.at = ui.Step(a, s.at, n, h)
	}
	return nil
}

// Type takes a key meant for the filter and reports whether the filter changed.
func (s *State) Type(msg tea.Msg) bool {
	k, ok := msg.(tea.KeyMsg)
	if !ok || !s.typing {
		return false
	}
	before := s.query
	switch k.Type {
	case tea.KeyRunes, tea.KeySpace:
		if len([]rune(s.query))+len(k.Runes) <= maxQuery {
			s.query += string(k.Runes)
		}
	case tea.KeyBackspace:
		s.query = withoutLast(s.query)
	}
	return s.query != before
}

// withoutLast is s without its last character, marks and all.
func withoutLast(s string) string {
	end := 0
	for rest := s; rest != ""; {
		char, _ := ansi.FirstGraphemeCluster(rest, ansi.GraphemeWidth)
		rest = rest[len(char):]
		if rest != "" {
			end += len(char)
		}
	}
	return s[:end]
}

// Close lets esc take the filter away before it leaves. It reports whether the list
// may be left.
func (s *State) Close() bool {
	if !s.Filtering() {
		return true
	}
	s.typing, s.query = false, ""
	return false
}

// Top is how many lines of a list stand above its rows: the filter, where there is
// one, and heads lines of column heads.
func (s *State) Top(heads int) int {
	if s.Filtering() {
		return heads + 1
	}
	return heads
}

// Click puts the cursor on row i, if there is one, as a click on it does.
func (s *State) Click(i, n int) {
	if i >= 0 && i < n {
		s.at = i
	}
}

// FilterLine draws the filter in w cells, with what was found beside it.
func (s *State) FilterLine(th theme.Theme, found string, w int) string {
	q := text.Clean(s.query)
	if th.Plain {
		return text.Fit("filter: "+q+", "+found, w)
	}
	cursor := ""
	if s.typing {
		cursor = th.Cursor.Render(" ")
	}
	room := max(w-text.Width(found)-6, 8)
	if over := text.Width(q) - room; over > 0 {
		q = ansi.TruncateLeft(q, over+1, text.Ellipsis)
	}
	return text.Spread(th.Key.Render("/")+" "+th.Field.Render(q)+cursor, th.Dim.Render(found), w)
}

// Row draws a row with the cursor's mark before it, in w cells.
func Row(th theme.Theme, selected bool, row string, w int) string {
	if !selected {
		return text.Fit("  "+row, w)
	}
	return theme.Over(th.Cursor, text.Fit(th.Mark+" "+row, w))
}

// Matches reports whether every word of query stands somewhere in the texts,
// whatever the case. It is asked of every row at every key.
func Matches(query string, texts ...string) bool {
	for word := range strings.FieldsSeq(query) {
		if !slices.ContainsFunc(texts, func(t string) bool { return contains(t, word) }) {
			return false
		}
	}
	return true
}

// contains reports whether word stands in s, whatever the case.
func contains(s, word string) bool {
	if !ascii(s) || !ascii(word) {
		return strings.Contains(strings.ToLower(s), strings.ToLower(word))
	}
	for ; len(s) >= len(word); s = s[1:] {
		if begins(s, word) {
			return true
		}
	}
	return false
}

// begins reports whether s begins with word, which is no longer, whatever the case of
// their letters.
func begins(s, word string) bool {
	for i := range len(word) {
		if lower(s[i]) != lower(word[i]) {
			return false
		}
	}
	return true
}

func lower(b byte) byte {
	if b >= 'A' && b <= 'Z' {
		b += 'a' - 'A'
	}
	return b
}

func ascii(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

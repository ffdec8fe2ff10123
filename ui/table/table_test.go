package table

import (
	"strings"
	"testing"

	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"pgregory.net/rapid"
)

func look() theme.Theme { return theme.Named("", "unicode", func(string) string { return "" }) }

func typing(s *State, word string) bool {
	return s.Type(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(word)})
}

func TestFilter(t *testing.T) {
	s := NewState(new(session.Session), keys.Gear)
	if typing(&s, "x") || s.TextEntry() || s.Scope() != keys.Gear {
		t.Error("letters filter before the filter is asked for")
	}
	s.Act(keys.Find, 3, 3)
	if !s.TextEntry() || s.Scope() != keys.Filter {
		t.Error("no filter after asking for it")
	}
	if !typing(&s, "left") || s.Query() != "left" {
		t.Errorf("the filter is %q", s.Query())
	}
	typing(&s, "éx")
	s.Type(tea.KeyMsg{Type: tea.KeyBackspace})
	s.Type(tea.KeyMsg{Type: tea.KeyHome})
	typing(&s, "a ")
	if s.Query() != "a lefté" {
		t.Errorf("the filter is %q", s.Query())
	}
	s.Act(keys.Submit, 3, 3)
	if s.TextEntry() || !s.Filtering() {
		t.Error("enter does not keep the filter")
	}
	if s.Close() || s.Filtering() {
		t.Error("esc does not take the filter away first")
	}
	if !s.Close() {
		t.Error("without a filter esc does not leave")
	}
}

func TestFilterIsBounded(t *testing.T) {
	s := NewState(new(session.Session), keys.Gear)
	s.Act(keys.Find, 3, 3)
	typing(&s, strings.Repeat("x", 10*maxQuery))
	if n := len(s.Query()); n != maxQuery {
		t.Errorf("the filter is %d long", n)
	}
	for w := range 60 {
		if line := s.FilterLine(look(), "12 found", w); text.Width(line) != w {
			t.Errorf("the line is %d cells, want %d", text.Width(line), w)
		}
	}
}

func TestCursor(t *testing.T) {
	s := NewState(new(session.Session), keys.Gear)
	for _, c := range []struct {
		act  keys.Action
		want int
	}{{keys.Down, 1}, {keys.Last, 9}, {keys.Down, 9}, {keys.PageUp, 6}, {keys.First, 0}, {keys.Up, 0}} {
		if s.Act(c.act, 10, 4); s.At() != c.want {
			t.Errorf("on row %d, want %d", s.At(), c.want)
		}
	}
}

func TestMatches(t *testing.T) {
	for _, c := range []struct {
		query string
		want  bool
	}{{"", true}, {"PUMP", true}, {"cellar mix", true}, {"pump lamp", false}} {
		if got := Matches(c.query, "Mixing pump", "Cellar"); got != c.want {
			t.Errorf("%q: %v", c.query, got)
		}
	}
}

func TestMatchesWhateverTheCase(t *testing.T) {
	text := rapid.StringOf(rapid.SampledFrom([]rune("aAkK\u212aéÉßẞ ")))
	rapid.Check(t, func(t *rapid.T) {
		query, name, place := text.Draw(t, "query"), text.Draw(t, "name"), text.Draw(t, "place")
		want := true
		for _, word := range strings.Fields(strings.ToLower(query)) {
			want = want && strings.Contains(strings.ToLower(name+" "+place), word)
		}
		if got := Matches(query, name, place); got != want {
			t.Fatalf("%q in %q and %q: %v", query, name, place, got)
		}
	})
}

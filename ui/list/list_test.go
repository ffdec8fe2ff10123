package list

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/ui"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

func look() theme.Theme { return theme.Pick(func(string) string { return "" }) }

func typing(s *State, word string) bool {
	return s.Type(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(word)})
}

func TestFilter(t *testing.T) {
	s := New(new(desk.Desk), keys.Gear)
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
	typing(&s, "é")
	typing(&s, "e\u0301")
	s.Type(tea.KeyMsg{Type: tea.KeyBackspace})
	if s.Query() != "lefté" {
		t.Errorf("backspace leaves %q", s.Query())
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
	s := New(new(desk.Desk), keys.Gear)
	s.Act(keys.Find, 3, 3)
	typing(&s, strings.Repeat("x", 10*maxQuery))
	typing(&s, strings.Repeat("x", maxQuery))
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
	s := New(new(desk.Desk), keys.Gear)
	for _, c := range []struct {
		act  keys.Action
		want int
	}{{keys.Down, 1}, {keys.Last, 9}, {keys.Down, 9}, {keys.PageUp, 6}, {keys.First, 0}, {keys.Up, 0}} {
		if s.Act(c.act, 10, 4); s.At() != c.want {
			t.Errorf("on row %d, want %d", s.At(), c.want)
		}
	}
	s.Click(7, 10)
	s.Click(10, 10)
	s.Click(-1, 10)
	if s.At() != 7 {
		t.Errorf("clicked to row %d, want 7", s.At())
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

// A row of two lines stays together, headings stand where sections change, and what
// is drawn at a line is what a click there finds.
func TestSections(t *testing.T) {
	section := func(i int) string { return []string{"near", "near", "far", "", "far"}[i] }
	row := func(i int) string { return string(rune('a' + i)) }
	got := Sections(look(), 5, 0, 20, section, row)
	for i := range got {
		got[i] = ansi.Strip(got[i])
	}
	if want := "near a b far c d far e"; strings.Join(got, " ") != want {
		t.Errorf("drawn %q, want %q", strings.Join(got, " "), want)
	}
	for y, line := range got {
		i := SectionRowAt(5, 0, 20, y, section)
		if heading := len(line) > 1; heading != (i < 0) || !heading && row(i) != line {
			t.Errorf("line %d is %q, a click finds row %d", y, line, i)
		}
	}
	for at := range 5 {
		for h := range 8 {
			lines := Sections(look(), 5, at, h, section, row)
			if len(lines) > h {
				t.Fatalf("%d lines of %d", len(lines), h)
			}
			if h > 0 && !strings.Contains(strings.Join(lines, " "), row(at)) {
				t.Errorf("row %d is out of sight in %d lines: %q", at, h, lines)
			}
		}
	}
	two := Sections(look(), 2, 1, 9, func(int) string { return "" }, func(i int) string { return row(i) + "\n-" })
	if strings.Join(two, " ") != "a - b -" {
		t.Errorf("rows of two lines are drawn %q", two)
	}
}

// TestSectionsOfManyRows draws all rows and cuts out what is in sight, as Sections does
// without drawing the others.
func TestSectionsOfManyRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, h := rapid.IntRange(0, 30).Draw(t, "rows"), rapid.IntRange(-1, 12).Draw(t, "lines")
		at := rapid.IntRange(0, n+1).Draw(t, "cursor")
		heads := rapid.SliceOfN(rapid.SampledFrom([]string{"", "near", "far"}), n, n).Draw(t, "sections")
		tall := rapid.SliceOfN(rapid.IntRange(1, 3), n, n).Draw(t, "heights")
		section := func(i int) string { return heads[i] }
		row := func(i int) string { return strings.Repeat(fmt.Sprintf("%d\n", i), tall[i]-1) + "end" }

		var all []string
		cursor, last := 0, ""
		for i := range n {
			if heads[i] != "" && heads[i] != last {
				all = append(all, heads[i])
			}
			last = heads[i]
			if i == at {
				cursor = len(all)
			}
			all = append(all, strings.Split(row(i), "\n")...)
		}
		from := ui.Window(cursor, len(all), h)
		want := all[from:min(len(all), from+max(h, 0))]
		got := Sections(look(), n, at, h, section, row)
		for i := range got {
			got[i] = ansi.Strip(got[i])
		}
		if !slices.Equal(got, want) {
			t.Fatalf("drawn %q, want %q", got, want)
		}
	})
}

func TestWrapped(t *testing.T) {
	long := strings.Repeat("shut the tap ", 200)
	for w := 1; w < 60; w++ {
		for _, selected := range []bool{false, true} {
			lines := strings.Split(Wrapped(look(), selected, look().Text, long, w), "\n")
			if len(lines) > mostWrapped {
				t.Fatalf("%d lines at %d cells", len(lines), w)
			}
			for _, l := range lines {
				if w > 2 && text.Width(l) != w {
					t.Fatalf("a line of %d cells at %d: %q", text.Width(l), w, l)
				}
			}
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

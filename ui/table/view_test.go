package table_test

import (
	"fmt"
	"strings"
	"testing"

	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
)

// letters is a list of letters in two sections, of which some may be gone.
type letters struct {
	table.View[rune, rune]
	all   string
	first func([]rune) int
	acted strings.Builder
}

func (l *letters) view(d *session.Session) ui.Screen {
	l.View = table.New(d, keys.Shelf, table.Spec[rune, rune]{
		Rows: func(query string) []rune {
			var out []rune
			for _, r := range l.all {
				if table.Matches(query, string(r)) {
					out = append(out, r)
				}
			}
			return out
		},
		Key: func(r *rune) rune { return *r },
		Section: func(r *rune) string {
			if *r < 'n' {
				return "before n"
			}
			return "from n"
		},
		Row:      func(int) func(*rune) string { return func(r *rune) string { return " letter " + string(*r) } },
		Sentence: func(r *rune) string { return "the letter " + string(*r) },
		Top:      func(int) []string { return []string{"heads"} },
		Nothing:  func(int) []string { return l.Remark("no letter") },
		Found:    func() string { return fmt.Sprint(len(l.Shown()), " found") },
		Detail: func(r *rune, w, h int) []string {
			if r == nil {
				return []string{"gone"}
			}
			return []string{"detail of " + string(*r)}
		},
		Act: func(a keys.Action, r *rune) (tea.Cmd, bool) {
			if a == keys.Edit {
				l.acted.WriteRune(*r)
			}
			return nil, a == keys.Edit
		},
		Find: func(k rune) *rune {
			if !strings.ContainsRune(l.all, k) {
				return nil
			}
			return &k
		},
		First: l.first,
	})
	return l
}

func play(t *testing.T, l *letters) *uitest.Window {
	t.Helper()
	return uitest.Open(t, new(ledger.Book), l.view, 80, 24)
}

// become gives the list other letters, as another book would.
func (l *letters) become(s *uitest.Window, all string) {
	l.all = all
	s.Send(ui.NewDay{})
}

func TestTheCursorStaysOnItsKey(t *testing.T) {
	l := &letters{all: "abxyz"}
	s := play(t, l)
	s.Sees("heads", "before n", "> letter a", "from n", "detail of a")
	l.become(s, "_abxyz")
	s.Sees("> letter a")
	s.Keys("jj")
	s.Sees("> letter x")
	l.become(s, "xab")
	s.Sees("> letter x")
	l.become(s, "abyz") // in the place of x
	s.Sees("> letter a")
	s.Keys("<end>")
	l.become(s, "ab")
	s.Sees("> letter b")
	l.become(s, "")
	s.Sees("no letter")
	s.Misses("heads", "detail of")
	s.Exact()
}

func TestTheCursorIsWhereItBeginsUntilItIsMoved(t *testing.T) {
	l := &letters{all: "abc", first: func(rows []rune) int { return min(1, len(rows)-1) }}
	s := play(t, l)
	s.Sees("> letter b")
	l.become(s, "cab")
	s.Sees("> letter a")
	s.Keys("e")
	l.become(s, "abc")
	s.Sees("> letter a")
	s.Keys("/b")
	s.Sees("> letter b", "1 found")
	s.Keys("<esc>")
	s.Sees("> letter b")
	if got := l.acted.String(); got != "a" {
		t.Errorf("acted on %q", got)
	}
}

func TestTheFilterGoesToWhatIsFound(t *testing.T) {
	l := &letters{all: "abcxyz"}
	s := play(t, l)
	s.Keys("jj/c")
	s.Sees("> letter c")
	s.Keys("<backspace>x")
	s.Sees("> letter x", "/ x")
	s.Misses("letter a")
	s.Keys("<backspace>q")
	s.Sees("no letter", "0 found")
	s.Exact()
	s.Keys("<esc>")
	s.Sees("> letter a", "letter z")
}

// A page of a row is of its key: it stands when the row has moved, and says so when it has gone.
func TestThePageOfARow(t *testing.T) {
	l := &letters{all: "abc"}
	s := play(t, l)
	s.Keys("j<enter>")
	s.Sees("detail of b")
	s.Misses("letter")
	l.become(s, "bca")
	s.Sees("detail of b")
	s.Keys("e")
	l.become(s, "ac")
	s.Sees("gone")
	s.Keys("e<esc>")
	s.Sees("> letter")
	if got := l.acted.String(); got != "b" {
		t.Errorf("acted on %q", got)
	}
}

// What stands above the rows takes no part in a page, of which one line stays in sight.
func TestAPageIsWhatRowsHave(t *testing.T) {
	l := &letters{all: "abcdefghijklmnopqrstuvwxyz"}
	s := play(t, l)
	s.Keys("<pgdown>")
	s.Sees("> letter l") // the list has 13 lines, its heads are one
}

func TestClicks(t *testing.T) {
	for _, plain := range []bool{false, true} {
		l := &letters{all: "abyz"}
		s, row := play(t, l), "letter "
		if plain {
			s = uitest.OpenPlain(t, new(ledger.Book), l.view, 80, 24)
		}
		for _, c := range []struct{ on, cursor string }{{row + "y", "y"}, {"from n", "y"}, {"heads", "y"}, {row + "a", "a"}} {
			s.Click(c.on)
			if !strings.HasSuffix(s.Line("> "), row+c.cursor) {
				t.Errorf("after a click on %q the cursor is on %q", c.on, s.Line("> "))
			}
		}
	}
}

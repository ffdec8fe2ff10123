package logbook

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
)

// Until the first entries are there, the view says that the log is being read; as long as
// older ones are not, the aside does.
func TestSaysThatTheLogIsBeingRead(t *testing.T) {
	d := openDelayed(t, household(t, 3000), 64)
	for d.session.Book.Empty() {
		d.run(0)
	}
	for _, size := range [][2]int{{40, 12}, {80, 24}, {120, 60}} {
		screen := d.root.Render(size[0], size[1])
		if !strings.Contains(screen, "reading the log ...") {
			t.Errorf("it does not say so:\n%s", screen)
		}
		for _, l := range strings.Split(screen, "\n") {
			if text.Width(l) != size[0] {
				t.Errorf("a line of %d cells in %d", text.Width(l), size[0])
			}
		}
	}
	for d.view.lines.of == nil {
		d.run(0)
	}
	if s := d.screen(); !strings.Contains(s, "3000 entries, reading ...") || strings.Contains(s, "reading the log") {
		t.Errorf("the newest are not shown:\n%s", s)
	}
	d.drain()
	if s := d.screen(); !strings.Contains(s, "3000 entries, ") || strings.Contains(s, "reading ...") {
		t.Errorf("it is still being read:\n%s", s)
	}
}

// A log that can't be read is not tried over and over, but when the book is read anew.
func TestSaysWhyTheLogCantBeRead(t *testing.T) {
	store := uitest.Kept(t, small(t))
	store.Unread = errors.New("page 7 is damaged\x1b[2J")
	s := uitest.OpenOn(t, store, New, 100, 40)
	s.Sees("the log can't be read: reading the log: page 7 is damaged", "not all read")
	s.Exact()
	s.Keys("<down><enter><esc>/tick<enter><esc>")
	s.Exact()
	store.Unread = nil
	s.Reload()
	s.Sees("6 entries", "found heavy")
	s.Misses("can't be read")
}

// Where a page in the middle can't be read, what is newer is shown all the same.
func TestALogWithDamageIsShownDownToIt(t *testing.T) {
	d := openDelayed(t, household(t, 3000), 64)
	for d.view.lines.of == nil {
		d.run(0)
	}
	d.store.Unread = errors.New("page 7 is damaged")
	d.drain()
	n := d.view.rows().n
	if s := d.screen(); !strings.Contains(s, "page 7 is damaged") || !strings.Contains(s, "not all read") || !strings.Contains(s, "entry 3000") {
		t.Errorf("of %d entries that are known:\n%s", n, s)
	}
	d.store.Unread = nil
	d.queued(d.session.Load())
	d.drain()
	if s := d.screen(); d.view.rows().n != 3000 || strings.Contains(s, "damaged") {
		t.Errorf("it is not read on:\n%s", s)
	}
}

// What a filter finds in many stretches is what it finds in a full book.
func TestFilterOverManyStretches(t *testing.T) {
	b := household(t, 20_000)
	ref := newReference(b)
	s := open(t, b)
	for _, query := range []string{"note", "amended", "struck", "reading 2026", "..2010 morning", "took back", "1y", "nothing has this"} {
		s.Keys("/" + query)
		s.Sees(fmt.Sprintf(" %d found\n", len(ref.found(parseQuery(query, uitest.Today)))))
		s.Keys("<esc>")
	}
}

// A chore that gets another name is found by it, and no longer by the old one; the cursor
// stays on its entry.
func TestFilterFollowsNewNames(t *testing.T) {
	for _, query := range []string{"tick 2026", "rinse"} {
		s := open(t, small(t))
		s.Keys("/" + query + "<enter><down>")
		_, _, err := s.Store.Write(func(b *model.Book) ([]model.Entry, error) {
			c, _ := b.Chore("clean")
			c.Name = "rinse strainer"
			return []model.Entry{model.NewEntry(uitest.Today, c)}, nil
		})
		if err != nil {
			t.Fatal(err)
		}
		s.Reload()
		if query == "rinse" {
			s.Sees("3 found", "rinse strainer, found light", "chore rinse strainer")
			continue
		}
		s.Sees("2 found")
		if line := s.Line("> "); !strings.Contains(line, "rinse strainer, found light") {
			t.Errorf("the cursor is on %q", line)
		}
	}
}

// Nothing of one book is shown, or found, in another, and that it can't be read any more is
// nothing to the keeper.
func TestAnotherBook(t *testing.T) {
	for _, unread := range []error{nil, errors.New("another file lies there")} {
		for _, keys := range []string{"", "/note"} {
			d := openDelayed(t, household(t, 3000), 64)
			for d.view.lines.of == nil {
				d.run(0)
			}
			if keys != "" {
				d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(keys)})
			}
			d.store.Unread = unread
			d.queued(d.session.Use(uitest.Kept(t, small(t, model.Note{Text: "the tap was off"}))))
			for len(d.queue) > 0 {
				d.run(len(d.queue) - 1)
			}
			want := []model.Seq{7, 6, 5, 4, 3, 2, 1}
			if keys != "" {
				want = want[:1]
			}
			if got := shown(d.view.rows()); !slices.Equal(got, want) {
				t.Errorf("shown: %v", got)
			}
			if s := d.screen(); !strings.Contains(s, "7 entries") || !strings.Contains(s, "the tap was off") || strings.Contains(s, "another file") {
				t.Errorf("it is another, or an error is left:\n%s", s)
			}
		}
	}
}

// The demo has no file and is held whole.
func TestABookWithoutAFile(t *testing.T) {
	store := session.NewMemory(func() (*model.Book, error) { return uitest.Demo(t), nil })
	s := uitest.OpenOn(t, store, func(d *session.Session) ui.Screen { return New(d) }, 80, 24)
	ref := newReference(uitest.Demo(t))
	s.Sees(fmt.Sprintf("entry %d", ref.seqs[0]))
	s.Keys("xy")
	s.Sees("took back: ", "1 struck")
	s.Keys("/struck<enter>")
	s.Sees("1 found")
}

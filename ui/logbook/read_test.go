package logbook

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/longlog"
	"brine/wrasse/ui"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

// delayed is a window with the Log whose commands end when the test wants it, in any
// order, as on a slow disk.
type delayed struct {
	root    *ui.Root
	session *session.Session
	view    *View
	store   *uitest.Store
	queue   []tea.Cmd
}

// openDelayed opens a window of h lines that reads few rows on either side of the cursor.
func openDelayed(t testing.TB, b *ledger.Book, h int) *delayed {
	t.Helper()
	d := &delayed{store: uitest.Kept(t, b)}
	d.session = session.New(d.store)
	d.root = ui.NewRoot(ui.Config{
		Theme: theme.Named("colour", "auto", func(string) string { return "" }),
		Clock: func() time.Time { return time.Date(2026, time.November, 25, 7, 30, 0, 0, time.UTC) },
		After: func(time.Duration, func(time.Time) tea.Msg) tea.Cmd { return nil },
		Views: func(*ui.Root) []ui.View {
			d.view = New(d.session).(*View)
			return []ui.View{{Name: "Log", Screen: d.view}}
		},
		Init: d.session.Init, Msg: d.session.Msg,
	})
	d.session.Root = d.root
	d.view.each = 0
	t.Cleanup(d.session.Close)
	d.send(tea.WindowSizeMsg{Width: 80, Height: h})
	d.queued(d.root.Init())
	return d
}

func (d *delayed) send(msg tea.Msg) {
	_, cmd := d.root.Update(msg)
	d.queued(cmd)
}

func (d *delayed) queued(cmd tea.Cmd) {
	if cmd != nil {
		d.queue = append(d.queue, cmd)
	}
}

// run ends one command.
func (d *delayed) run(i int) {
	cmd := d.queue[i]
	d.queue = slices.Delete(d.queue, i, i+1)
	msg := cmd()
	if v := reflect.ValueOf(msg); v.IsValid() && v.Type().ConvertibleTo(reflect.TypeFor[[]tea.Cmd]()) {
		for i := range v.Len() {
			d.queued(v.Index(i).Interface().(tea.Cmd))
		}
	} else if msg != nil {
		d.send(msg)
	}
}

func (d *delayed) drain() {
	for len(d.queue) > 0 {
		d.run(0)
	}
}

func (d *delayed) key(k tea.KeyType) { d.send(tea.KeyMsg{Type: k}) }

func (d *delayed) screen() string { return ansi.Strip(d.root.View()) }

func (d *delayed) others(make func(*ledger.Book) []model.Entry) {
	_, _, _ = d.store.Write(func(b *ledger.Book) ([]model.Entry, error) { return make(b), nil })
	d.queued(d.session.Load())
}

// Whatever is typed and written while the log is read, in the end the view holds the rows around the cursor that a full
// book has.
func TestViewHoldsTheRowsAroundTheCursor(t *testing.T) {
	entries := start()
	for i := range 150 {
		entries = append(entries, model.NewEntry(uitest.Today.AddDays(-i/3), model.Note{Text: fmt.Sprint("note ", i%10)}))
	}
	rapid.Check(t, func(rt *rapid.T) {
		d := openDelayed(t, uitest.Book(t, slices.Clone(entries)), 12)
		for range rapid.IntRange(1, 60).Draw(rt, "doings") {
			switch rapid.IntRange(0, 5).Draw(rt, "doing") {
			case 0:
				d.others(func(b *ledger.Book) []model.Entry { return drawn(rt, b) })
			case 1, 2:
				d.key(rapid.SampledFrom([]tea.KeyType{tea.KeyDown, tea.KeyUp, tea.KeyEnd, tea.KeyHome, tea.KeyPgDown, tea.KeyPgUp, tea.KeyEsc, tea.KeyEnter}).Draw(rt, "key"))
			case 3:
				word := rapid.SampledFrom([]string{"/", "l", "a", "x", "n", "e", "z"}).Draw(rt, "typed")
				d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(word)})
			default:
				if len(d.queue) > 0 {
					d.run(rapid.IntRange(0, len(d.queue)-1).Draw(rt, "command"))
				}
			}
			if n := strings.Count(d.root.View(), "\n"); n != 11 {
				rt.Fatalf("%d lines", n+1)
			}
		}
		d.drain()
		v, ref := d.view, newReference(d.store.Full())
		want, got := ref.found(v.query), shownBy(v)
		if len(want) == 0 && len(got) == 0 {
			return
		}
		if v.At() >= len(got) {
			rt.Fatalf("the cursor is on row %d of %d", v.At(), len(got))
		}
		from := slices.Index(want, got[0])
		if from < 0 || len(want) < from+len(got) || !slices.Equal(got, want[from:from+len(got)]) {
			rt.Fatalf("filtered by %q: %v is no part of %v", v.Query(), got, want)
		}
		if v.held.first != (from == 0) || v.held.last != (from+len(got) == len(want)) {
			rt.Fatalf("rows %d to %d of %d; first %v, last %v", from, from+len(got), len(want), v.held.first, v.held.last)
		}
		if near := v.side() / 3; !v.held.first && v.At() < near || !v.held.last && len(got)-v.At() <= near {
			rt.Fatalf("the cursor is on row %d of %d, and no more are read", v.At(), len(got))
		}
		if !v.query.empty() && (!v.count.all || v.count.n != len(want)) {
			rt.Fatalf("it counts %d of %d", v.count.n, len(want))
		}
		for _, l := range v.Shown() {
			if l.text() != ref.line(l.Seq) {
				rt.Fatalf("entry %d:\n%s\nwant:\n%s", l.Seq, l.text(), ref.line(l.Seq))
			}
		}
	})
}

// household is a long log as a keeper would write it.
func household(t testing.TB, n int) *ledger.Book {
	t.Helper()
	return uitest.Book(t, slices.Collect(longlog.Household(1, n, uitest.Today)))
}

// The cursor comes from one end of a long log to the other, a page at a time and at once, and few rows are held.
func TestFromEndToEnd(t *testing.T) {
	ref := newReference(household(t, 3000))
	s, v := openView(t, ref.book)
	all := ref.found(query{})
	on := func(i int) {
		t.Helper()
		if l := v.Current(); l == nil || l.Seq != all[i] {
			t.Fatalf("the cursor is on %v, want entry %d:\n%s", l, all[i], s.Screen())
		}
		if n := len(v.Shown()); n > 2*eachSide {
			t.Fatalf("%d rows are held", n)
		}
	}
	for i := range 500 {
		on(i)
		s.Keys("<down>")
	}
	s.Keys("<end>")
	on(len(all) - 1)
	for i := range 500 {
		on(len(all) - 1 - i)
		s.Keys("<up>")
	}
	s.Keys("<home>")
	on(0)
}

// What is written while the log is read comes in at its place, and the cursor stays on its entry, also where that gets
// another date.
func TestCursorStaysOnItsEntry(t *testing.T) {
	s, v := openView(t, household(t, 3000))
	write := func(entries ...model.Entry) {
		t.Helper()
		s.Others(func(*ledger.Book) []model.Entry { return entries })
	}
	s.Keys("<down><down>")
	seq := v.Current().Seq
	write(model.NewEntry(uitest.Today, model.Note{Text: "from elsewhere"}), model.NewEntry(uitest.Today.AddDays(-4000), model.Note{Text: "late"}))
	s.Sees("from elsewhere")
	write(model.NewEntry(uitest.Today, model.Amend{Entry: seq, With: must(model.With(map[string]any{"on": uitest.Today.AddDays(-3000)}))}))
	if l := v.Current(); l.Seq != seq || l.On != uitest.Today.AddDays(-3000) {
		t.Fatalf("the cursor is on entry %d of %s", l.Seq, l.On)
	}
	s.Sees("amended")
	s.Keys("<home>")
	write(model.NewEntry(uitest.Today, model.Note{Text: "the newest"}))
	if v.At() != 0 || v.Current().Seq != s.Session.Book.Last() {
		t.Errorf("at the top the cursor does not stay at the top:\n%s", s.Screen())
	}
}

// Until the first entries are there, the view says that the log is being read.
func TestSaysThatTheLogIsBeingRead(t *testing.T) {
	d := openDelayed(t, household(t, 3000), 24)
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
	d.drain()
	if s := d.screen(); !strings.Contains(s, "3000 entries, ") || strings.Contains(s, "reading the log") {
		t.Errorf("it is not read:\n%s", s)
	}
}

// A log that can't be read is not tried over and over, but when the book is read anew; rows that are there stay.
func TestSaysWhyTheLogCantBeRead(t *testing.T) {
	store := uitest.Kept(t, household(t, 3000))
	store.Unread = errors.New("page 7 is damaged\x1b[2J")
	s := uitest.OpenOn(t, store, New, 100, 40)
	s.Sees("the log can't be read: reading the log: page 7 is damaged", "3000 entries")
	s.Exact()
	s.Keys("<down><enter><esc>/tick<enter><esc><esc>")
	s.Exact()
	store.Unread = nil
	s.Reload()
	s.Sees("entry 3000")
	s.Misses("can't be read", "damaged")
	store.Unread = errors.New("page 7 is damaged")
	s.Keys(strings.Repeat("<pgdown>", 20))
	s.Sees("page 7 is damaged", "ticked")
	store.Unread = nil
	s.Reload()
	s.Keys(strings.Repeat("<pgdown>", 5))
	s.Misses("damaged")
}

// What a filter finds in a long log is what it finds in a full book.
func TestFilterOverALongLog(t *testing.T) {
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
		s.Others(func(b *ledger.Book) []model.Entry {
			c, _ := b.Chore("clean")
			c.Name = "rinse strainer"
			return []model.Entry{model.NewEntry(uitest.Today, c)}
		})
		if query == "rinse" {
			s.Sees("3 found", "rinse strainer, found light", "chore Mixing pump: rinse strainer")
			continue
		}
		s.Sees("2 found")
		s.On("rinse strainer, found light")
	}
}

// Nothing of one book is shown, or found, in another, and that it can't be read any more is
// nothing to the keeper.
func TestAnotherBook(t *testing.T) {
	for _, unread := range []error{nil, errors.New("another file lies there")} {
		for _, keys := range []string{"", "/note"} {
			d := openDelayed(t, household(t, 3000), 24)
			d.drain()
			d.send(tea.KeyMsg{Type: tea.KeyPgDown})
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
			if got := shownBy(d.view); !slices.Equal(got, want) {
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
	store := session.NewMemory(func() (*ledger.Book, error) { return uitest.Demo(t), nil })
	s := uitest.OpenOn(t, store, func(d *session.Session) ui.Screen { return New(d) }, 80, 24)
	ref := newReference(uitest.Demo(t))
	s.Sees(fmt.Sprintf("entry %d", ref.seqs[0]))
	s.Keys("xy")
	s.Sees("took back: ", "1 struck")
	s.Keys("/struck<enter>")
	s.Sees("1 found")
}

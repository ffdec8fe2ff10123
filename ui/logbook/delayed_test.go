package logbook

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/longlog"
	"brine/wrasse/ui"
	"brine/wrasse/ui/session"
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

func openDelayed(t testing.TB, b *model.Book, stride model.Seq) *delayed {
	t.Helper()
	d := &delayed{store: uitest.Kept(t, b)}
	d.session = session.New(d.store)
	d.root = ui.NewRoot(ui.Config{
		Theme: theme.Pick(func(string) string { return "" }),
		Clock: func() time.Time { return time.Date(2026, time.November, 25, 7, 30, 0, 0, time.UTC) },
		After: func(time.Duration, func(time.Time) tea.Msg) tea.Cmd { return nil },
		Views: func(*ui.Root) []ui.View {
			d.view = New(d.session).(*View)
			return []ui.View{{Name: "Log", Screen: d.view}}
		},
		Init: d.session.Init, Msg: d.session.Msg,
	})
	d.session.Root = d.root
	d.view.stride = stride
	t.Cleanup(d.session.Close)
	d.send(tea.WindowSizeMsg{Width: 80, Height: 24})
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

func (d *delayed) others(make func(*model.Book) []model.Entry) {
	_, _, _ = d.store.Write(func(b *model.Book) ([]model.Entry, error) { return make(b), nil })
	d.queued(d.session.Load())
}

// Whatever is typed and written while the log is read, in the end the view shows what a
// full book has, and the cursor is on one of its rows.
func TestViewIsTheFullBooks(t *testing.T) {
	outer := t
	rapid.Check(t, func(t *rapid.T) {
		d := openDelayed(outer, uitest.Book(outer, start()), model.Seq(rapid.IntRange(1, 9).Draw(t, "stride")))
		for range rapid.IntRange(1, 60).Draw(t, "doings") {
			switch rapid.IntRange(0, 5).Draw(t, "doing") {
			case 0:
				d.others(func(b *model.Book) []model.Entry { return drawn(t, b) })
			case 1:
				d.key(rapid.SampledFrom([]tea.KeyType{tea.KeyDown, tea.KeyUp, tea.KeyEnd, tea.KeyHome, tea.KeyPgDown, tea.KeyEsc, tea.KeyEnter}).Draw(t, "key"))
			case 2:
				word := rapid.SampledFrom([]string{"/", "l", "a", "x", "n", "e", "z"}).Draw(t, "typed")
				d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(word)})
			default:
				if len(d.queue) > 0 {
					d.run(rapid.IntRange(0, len(d.queue)-1).Draw(t, "command"))
				}
			}
			if n := strings.Count(d.root.View(), "\n"); n != 23 {
				t.Fatalf("%d lines", n+1)
			}
		}
		d.drain()
		v := d.view
		ref := newReference(d.store.Full())
		if got, want := shown(v.rows()), ref.found(parseQuery(v.Query(), uitest.Today)); !slices.Equal(got, want) {
			t.Fatalf("filtered by %q: %v, want %v", v.Query(), got, want)
		}
		if n := v.rows().n; v.At() >= max(n, 1) {
			t.Fatalf("the cursor is on row %d of %d", v.At(), n)
		}
		for i := range v.rows().n {
			seq := v.row(i).seq()
			if l := v.lines.of[seq]; l == nil || l.text() != ref.line(seq) {
				t.Fatalf("entry %d:\n%v\nwant:\n%s", seq, l, ref.line(seq))
			}
		}
	})
}

// household is a long log as a keeper would write it.
func household(t testing.TB, n int) *model.Book {
	t.Helper()
	return uitest.Book(t, slices.Collect(longlog.Household(1, n, uitest.Today)))
}

// As far as a cursor moves before the next command has ended, the rows are there, and
// their details too.
func TestNoRowIsEmptyWhileTheCursorMoves(t *testing.T) {
	d := openDelayed(t, household(t, 4000), stretch)
	d.drain()
	for i := range 3000 {
		d.key(tea.KeyDown)
		if i%40 == 0 {
			d.drain()
		}
		if s := d.screen(); strings.Contains(s, "> ...") || strings.Contains(s, " ...  ") {
			t.Fatalf("after %d moves:\n%s", i, s)
		}
	}
}

// A jump may show rows that are being read, and what is asked of one of them is done once
// it has been.
func TestWhatIsAskedOfARowThatIsBeingRead(t *testing.T) {
	d := openDelayed(t, household(t, 4000), stretch)
	d.drain()
	d.key(tea.KeyEnd)
	if s := d.screen(); !strings.Contains(s, unread) {
		t.Fatalf("the end is there at once:\n%s", s)
	}
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("x")})
	if s := d.screen(); strings.Contains(s, "strike entry") {
		t.Fatalf("an entry that is not there is struck:\n%s", s)
	}
	d.drain()
	if s := d.screen(); !strings.Contains(s, "strike entry 1:") || strings.Contains(s, unread) {
		t.Fatalf("it is not asked:\n%s", s)
	}
}

// What is written while the log is being read ends up in its place, and the cursor stays
// on its entry.
func TestWrittenWhileTheLogIsRead(t *testing.T) {
	d := openDelayed(t, household(t, 3000), 64)
	for d.view.lines.of == nil {
		d.run(0)
	}
	for range 20 {
		d.key(tea.KeyDown)
	}
	at := d.view.selected()
	if d.view.index.whole() || at == 0 {
		t.Fatal("it is read already")
	}
	old := model.Seq(200)
	rng := rand.New(rand.NewPCG(1, 2))
	for len(d.queue) > 0 {
		if last := d.session.Book.Last(); last < 3040 && rng.IntN(3) == 0 {
			d.others(func(*model.Book) []model.Entry {
				old++
				return []model.Entry{
					model.NewEntry(uitest.Today.AddDays(-rng.IntN(4000)), model.Note{Text: "late"}),
					model.NewEntry(uitest.Today, model.Amend{Entry: old, Strike: true}),
					model.NewEntry(uitest.Today, model.Amend{Entry: last - 5, Strike: true}),
				}
			})
		}
		d.run(rng.IntN(len(d.queue)))
		if got := d.view.selected(); got.seq() != at.seq() {
			t.Fatalf("the cursor has gone from entry %d to %d", at.seq(), got.seq())
		}
	}
	b := d.store.Full()
	ref := newReference(b)
	if got := shown(d.view.rows()); !slices.Equal(got, ref.seqs) || b.Last() < 3040 {
		t.Errorf("%d entries in another order", len(got))
	}
	for seq, l := range d.view.lines.of {
		if l.text() != ref.line(seq) {
			t.Errorf("entry %d:\n%s\nwant:\n%s", seq, l.text(), ref.line(seq))
		}
	}
}

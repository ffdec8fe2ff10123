package storage

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/storage/exchange"
)

// clock is a clock that stands until it is set.
type clock struct{ t time.Time }

func (c *clock) now() time.Time { return c.t }

func morning(y int, m time.Month, d int) *clock {
	return &clock{time.Date(y, m, d, 7, 30, 15, 0, time.FixedZone("", 2*60*60))}
}

// on is the civil date of most tests.
var on = model.NewDate(2026, 3, 31)

func newBook(t testing.TB) *Book {
	t.Helper()
	b := At(filepath.Join(t.TempDir(), "reef", "book.db"), morning(2026, 3, 31).now)
	t.Cleanup(b.Close)
	return b
}

// setUp are the definitions of a small book.
func setUp() []model.Entry {
	bodies := []model.Body{
		model.BookDef{Name: "Vat", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}},
		model.Place{ID: "cellar", Name: "Cellar", Minutes: 3},
		model.Component{ID: "pump", Name: "Pump", Place: "cellar", Reach: 2, AccessMinutes: 4},
		model.Counter{ID: "litres", Name: "Litres", Unit: "L", Style: model.StyleAmount, Role: model.RoleWaterMade},
		model.Gauge{ID: "tds", Name: "TDS", Unit: "ppm", Role: model.RoleTDSProduct},
		model.Chore{ID: "clean-pump", Component: "pump", Name: "Clean", Work: model.WorkClean, Minutes: 5, Consequence: 2,
			Clocks: []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: 6, Unit: model.SpanMonths}, Rule: model.RuleEvery}}},
	}
	var out []model.Entry
	for _, b := range bodies {
		out = append(out, model.NewEntry(on, b))
	}
	return out
}

func note(text string) model.Entry { return model.NewEntry(on, model.Note{Text: text}) }

// longNote fills several pages.
func longNote() model.Entry { return note(strings.Repeat("fill ", 1900)) }

// try does an act of entries that need no look at the book.
func try(b *Book, entries ...model.Entry) (Written, error) {
	return b.Write(func(*ledger.Book) ([]model.Entry, error) { return entries, nil })
}

// write does an act as try does, one that is written and has its copy of the day.
func write(t testing.TB, b *Book, entries ...model.Entry) Written {
	t.Helper()
	w, err := try(b, entries...)
	noError(t, errors.Join(err, w.Warning))
	return w
}

func load(t testing.TB, b *Book) *ledger.Book {
	t.Helper()
	book, err := b.Load()
	noError(t, err)
	return book
}

// full is the book that the log in the file comes to.
func full(t testing.TB, b *Book) *ledger.Book {
	t.Helper()
	book, err := folded(b)
	noError(t, err)
	return book
}

func folded(b *Book) (*ledger.Book, error) {
	book, err := b.Load()
	if err != nil {
		return nil, err
	}
	entries, err := book.In(source{b, b.lineage, b.known.last, b.known.seal}).Entries(1, book.Last())
	if err != nil {
		return nil, err
	}
	log := make([]model.Entry, len(entries))
	for i, e := range entries {
		log[i] = *e
	}
	return ledger.Fold(log)
}

// text is a book as it is exported.
func text(t testing.TB, book *ledger.Book) string {
	t.Helper()
	var out strings.Builder
	noError(t, exchange.Export(&out, book))
	return out.String()
}

// held is what a book holds, as text.
func held(t testing.TB, b *ledger.Book) string {
	t.Helper()
	all := []any{b.Last(), b.Def(), b.Places(), b.Components(), b.Counters(), b.Gauges(), b.Spares(), b.Chores(),
		b.Aways(), b.Batches(), b.Notes()}
	for _, c := range b.Chores() {
		all = append(all, b.Ticks(c.ID), b.PutOffs(c.ID))
	}
	for _, c := range b.Components() {
		all = append(all, b.Versions(c.ID), b.Flags(c.ID), b.Faults(c.ID))
	}
	for _, c := range b.Counters() {
		all = append(all, b.Usages(c.ID), b.Amounts(c.ID))
	}
	for _, g := range b.Gauges() {
		all = append(all, b.Readings(g.ID))
	}
	for _, s := range b.Spares() {
		all = append(all, b.StockChanges(s.ID), b.OnHand(s.ID, on))
	}
	out := must(json.Marshal(all))
	return strings.ReplaceAll(string(out), "null", "[]")
}

// again is another Book of the same file, which remembers nothing.
func again(t testing.TB, b *Book) *Book {
	t.Helper()
	other := At(b.Path(), b.now)
	t.Cleanup(other.Close)
	return other
}

func TestNoBook(t *testing.T) {
	dir := t.TempDir()
	empty := filepath.Join(dir, "empty.db")
	noError(t, os.WriteFile(empty, nil, 0o600))
	for name, path := range map[string]string{
		"no file":    filepath.Join(dir, "none.db"),
		"no folder":  filepath.Join(dir, "a", "b", "none.db"),
		"empty file": empty,
	} {
		b := At(path, time.Now)
		defer b.Close()
		if _, err := b.Load(); !errors.Is(err, ErrNoBook) || !strings.Contains(err.Error(), "start one with: wrasse") {
			t.Errorf("%s: got %v", name, err)
		}
		if _, err := try(b); err != nil {
			t.Errorf("%s: writing nothing: %v", name, err)
		}
	}
	if left, _ := os.ReadDir(dir); len(left) != 1 {
		t.Errorf("reading made files: %v", left)
	}
}

func TestActsAreStampedAndFoundAgain(t *testing.T) {
	b := newBook(t)
	w := write(t, b, setUp()...)
	if w.Act != 1 || len(w.Entries) != 6 || w.Book.Last() != 6 {
		t.Fatalf("act %d of %d entries, book of %d", w.Act, len(w.Entries), w.Book.Last())
	}
	for i, e := range w.Entries {
		if e.Seq != model.Seq(i+1) || e.Act != 1 || e.At != "2026-03-31T07:30:15+02:00" {
			t.Errorf("entry %d carries %+v", i+1, e.Header)
		}
	}
	one := write(t, b, note("alone"))
	if e := one.Entries[0]; e.Seq != 7 || e.Act != 0 {
		t.Errorf("an act of one entry carries %+v", e.Header)
	}
	if got, want := text(t, load(t, again(t, b))), text(t, one.Book); got != want {
		t.Errorf("found again:\n%s\nwritten:\n%s", got, want)
	}
	if held(t, load(t, again(t, b))) != held(t, one.Book) {
		t.Error("the book read anew is not the one that was written")
	}
}

func TestModes(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	for path, want := range map[string]os.FileMode{b.Path(): 0o600, filepath.Dir(b.Path()): 0o700} {
		info := must(os.Stat(path))
		if got := info.Mode().Perm(); got != want {
			t.Errorf("%s has mode %o, want %o", path, got, want)
		}
	}
}

func TestRefusedActWritesNothing(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	before := text(t, load(t, b))
	_, err := b.Write(func(*ledger.Book) ([]model.Entry, error) {
		return []model.Entry{note("fine"), model.NewEntry(on, model.Tick{Chore: "no-such"})}, nil
	})
	if err == nil || !strings.HasPrefix(err.Error(), `chore: "no-such"`) {
		t.Errorf("got %v", err)
	}
	wish := errors.New("thought better of it")
	if _, err := b.Write(func(*ledger.Book) ([]model.Entry, error) { return nil, wish }); !errors.Is(err, wish) {
		t.Errorf("got %v, want the error of build", err)
	}
	if after := text(t, load(t, again(t, b))); after != before {
		t.Error("a refused act changed the book")
	}
}

func TestUndoAndRedo(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	before := load(t, b)
	var window ledger.Window
	act := write(t, b, model.NewEntry(on, model.Tick{Chore: "clean-pump", Found: model.FoundClean}), note("with it"))
	window.Did(act.Entries)
	undo, err := b.Write(func(book *ledger.Book) ([]model.Entry, error) {
		return book.Strike(must(window.LastAct(book)), on)
	})
	noError(t, err)
	window.Undid(undo.Entries)
	if got := undo.Book; len(got.Ticks("clean-pump")) != 0 || len(got.Notes()) != 0 || !reflect.DeepEqual(got.Chores(), before.Chores()) {
		t.Error("the undone act is still there")
	}
	redo, err := b.Write(func(book *ledger.Book) ([]model.Entry, error) {
		return book.Strike(must(window.LastUndo(book)), on)
	})
	noError(t, err)
	got := load(t, again(t, b))
	if len(got.Ticks("clean-pump")) != 1 || len(got.Notes()) != 1 || held(t, got) != held(t, redo.Book) {
		t.Error("the act did not come back")
	}
}

func TestCreate(t *testing.T) {
	b := newBook(t)
	entries := setUp()
	book, err := b.Create(entries)
	noError(t, err)
	if e := must(book.Written(2)); book.Last() != 6 || e.At != "" || e.Act != 0 {
		t.Errorf("entries of an import were stamped: %+v", e.Header)
	}
	if got := load(t, again(t, b)); held(t, got) != held(t, book) {
		t.Error("the book found again is not the one made")
	}
	before, _ := os.ReadFile(b.Path())
	_, err = again(t, b).Create(entries)
	if !errors.Is(err, ErrHolds) || !strings.Contains(err.Error(), `"Vat" with 1 chores and 6 entries`) {
		t.Errorf("got %v, want ErrHolds with counts", err)
	}
	if after, _ := os.ReadFile(b.Path()); string(after) != string(before) {
		t.Error("a refused import changed the file")
	}
	left, _ := os.ReadDir(filepath.Dir(b.Path()))
	if len(left) != 1 {
		t.Errorf("other files stand beside the book: %v", left)
	}
}

func TestCreateRefusesWhatDoesNotFold(t *testing.T) {
	b := newBook(t)
	_, err := b.Create([]model.Entry{model.NewEntry(on, model.Tick{Chore: "none"})})
	var at *ledger.EntryError
	if !errors.As(err, &at) || at.Seq != 1 {
		t.Errorf("got %v, want an error of entry 1", err)
	}
	if _, err := b.Load(); !errors.Is(err, ErrNoBook) {
		t.Errorf("something was made: %v", err)
	}
}

func TestClosed(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	answer := make(chan bool)
	go func() { answer <- b.Wait(nil) }()
	b.Close()
	if <-answer {
		t.Error("closing counts as a change")
	}
	if _, err := b.Load(); !errors.Is(err, errClosed) {
		t.Errorf("got %v", err)
	}
	b.Close()
}

func TestReferenceBooksInAFile(t *testing.T) {
	paths, err := filepath.Glob("../testdata/books/book-*.jsonl")
	if err != nil || len(paths) != 6 {
		t.Fatalf("%d books (%v)", len(paths), err)
	}
	for _, path := range paths {
		f := must(os.Open(path))
		entries, err := exchange.Import(f, on)
		f.Close()
		noError(t, err)
		b := newBook(t)
		made, err := b.Create(entries)
		noError(t, err)
		whole(t, b)
		if found := load(t, again(t, b)); text(t, found) != text(t, made) || held(t, found) != held(t, made) {
			t.Errorf("%s: the book found again differs", path)
		}
	}
}

// must is what can't fail here.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// noError ends a test, of package testing or rapid, that can't go on after an error.
func noError(t interface {
	Helper()
	Fatal(args ...any)
}, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

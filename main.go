// Command wrasse is a logbook for the upkeep of a reef aquarium's water station and
// tank. This file wires the parts together and decides nothing else: the commands
// are in ui/command, the screens in ui, the book's file in storage.
package main

import (
	_ "brine/wrasse/ui/quiet" // before anything that asks the terminal

	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/mattn/go-isatty"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/storage"
	"brine/wrasse/storage/exchange"
	"brine/wrasse/ui/app"
	"brine/wrasse/ui/columns"
	"brine/wrasse/ui/command"
	"brine/wrasse/ui/config"
	"brine/wrasse/ui/text"
)

func main() {
	hurry()
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, os.Getenv, time.Now))
}

// hurry puts off the first collection of garbage: almost all that is allocated until the
// first frame is drawn or a command has ended is the book, and a collection finds nothing.
// On the demo book it took 5 of 30 ms of processor time. From then on garbage may take
// half as much as what is in use, not as much: a window stays open all day, is at rest
// nearly all of it, and may hold a long book. $GOGC goes before.
func hurry() {
	if os.Getenv("GOGC") != "" {
		return
	}
	const first, later = 600, 50 // percent; the first of 4 MiB, so that a log of 100,000 entries is shown without one
	debug.SetGCPercent(first)
	runtime.AddCleanup(new([64]byte), func(percent int) { debug.SetGCPercent(percent) }, later)
}

// run is the whole program. It returns the exit code.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer, getenv func(string) string, now func() time.Time) int {
	warn := func(err error) { fmt.Fprintln(stderr, "wrasse: note: "+text.Clean(err.Error())) }
	return command.Run(command.Env{
		Stdin:    stdin,
		Stdout:   stdout,
		Stderr:   stderr,
		Getenv:   getenv,
		Now:      now,
		Version:  version,
		Revised:  revised,
		Columns:  func() int { return widthOf(stdout) },
		Attached: func() bool { return onTerminal(stdin) && onTerminal(stdout) },
		Terminal: func() bool { return onTerminal(stdin) && onTerminal(stdout) && drawable(getenv("TERM")) },
		Open:     func(path string) command.Store { return &store{Book: storage.At(path, now), warn: warn} },
		Screens: func(path string, c config.Config) error {
			var later warnings
			// The book is not closed, as that waits for whatever uses it: the process ends.
			s := &screenStore{store{Book: storage.At(path, now), warn: later.add}, &later}
			err := app.New(s, screenOptions(stdin, stdout, stderr, getenv, now, c)).Run()
			later.each(warn)
			return err
		},
		Demo: func(c config.Config) error {
			o := screenOptions(stdin, stdout, stderr, getenv, now, c)
			o.Demo = true
			return app.New(app.Demo(model.DateOf(now())), o).Run()
		},
		Keep:   func(path string) command.Keeper { return storage.At(path, now) },
		Export: exchange.Export,
		Import: func(path string, from io.Reader) (*ledger.Book, error) {
			defer debug.SetMemoryLimit(debug.SetMemoryLimit(importRoom))
			entries, err := exchange.Import(from, model.DateOf(now()))
			if err != nil {
				return nil, err
			}
			b := storage.At(path, now)
			defer b.Close()
			return b.Create(entries)
		},
		OpenFile:      func(path string) (io.ReadCloser, error) { return storage.OpenFile(path) },
		NewFile:       storage.NewFile,
		ReplaceFile:   storage.ReplaceFile,
		MakeFolder:    storage.MakeFolder,
		WriteTable:    exchange.WriteTable,
		ReadTable:     readTable,
		WriteCalendar: writeCalendar,
	}, args)
}

// importRoom is how much memory an import may take before garbage is collected more often:
// a log of a million entries is held as a whole.
const importRoom = 400 << 20

// readTable reads a table, in the words of package table, and what stands between its cells.
func readTable(from io.Reader) ([]columns.Row, rune, error) {
	rows, between, err := exchange.ReadTable(from)
	out := make([]columns.Row, len(rows))
	for i, r := range rows {
		out[i] = columns.Row(r)
	}
	return out, between, err
}

// writeCalendar writes a calendar, in the words of package exchange.
func writeCalendar(w io.Writer, c command.Calendar) error {
	events := make([]exchange.Event, len(c.Events))
	for i, e := range c.Events {
		events[i] = exchange.Event(e)
	}
	return exchange.WriteCalendar(w, exchange.Calendar{Name: c.Name, Stamp: c.Stamp, Sequence: c.Sequence, ToDo: c.ToDo, Events: events})
}

// screenOptions are what the screens touch beside the store.
func screenOptions(stdin io.Reader, stdout, stderr io.Writer, getenv func(string) string, now func() time.Time, c config.Config) app.Options {
	return app.Options{
		In: stdin, Out: stdout, Err: stderr, Getenv: getenv, Now: now, NewFile: storage.NewFile,
		Theme: c.Theme, Glyphs: c.Glyphs, Plain: c.Plain, View: c.View, Mouse: c.Mouse, WeekStart: &c.WeekStart,
		Book: model.BookDef{Units: c.Units, MinuteValue: c.MinuteValue},
	}
}

// warnings are what went wrong beside acts that were written while the screens had
// the terminal: they show them, and they are said again once it has been given back.
type warnings struct {
	mu    sync.Mutex
	list  []error
	shown int // how many the screens have asked for
}

func (w *warnings) add(err error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.list = append(w.list, err)
}

func (w *warnings) each(say func(error)) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, err := range w.list {
		say(err)
	}
}

// fresh is those the screens have not been given yet, in one line.
func (w *warnings) fresh() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	var out []string
	for _, err := range w.list[w.shown:] {
		out = append(out, err.Error())
	}
	w.shown = len(w.list)
	return strings.Join(out, " - ")
}

// version is the tag that was built, which Go records of the clone; without one it is unreleased.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return unreleased
	}
	v := info.Main.Version
	if v == "" || v == "(devel)" || strings.Contains(v, "+dirty") || madeOfCommit(v) {
		v = unreleased
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" {
				v += " (" + s.Value[:min(len(s.Value), hashShown)] + ")"
			}
		}
	}
	return v + ", " + info.GoVersion
}

const (
	unreleased = "unreleased"
	hashShown  = 12
)

// madeOfCommit tells a version that Go makes up for a commit without a tag: it ends in the
// commit's time and hash.
func madeOfCommit(v string) bool {
	const digits = len("20260102150405")
	hash := strings.LastIndexByte(v, '-')
	return hash >= digits && len(v)-hash-1 == hashShown && strings.Trim(v[hash-digits:hash], "0123456789") == ""
}

// manualRevised is the day the words of the manual were last gone over, for a build that
// does not know its commit.
const manualRevised = "November 29, 2026"

// revised is the day of the commit that was built.
func revised() string {
	info, _ := debug.ReadBuildInfo()
	if info == nil {
		return manualRevised
	}
	for _, s := range info.Settings {
		if at, err := time.Parse(time.RFC3339, s.Value); s.Key == "vcs.time" && err == nil {
			return at.UTC().Format("January 2, 2006")
		}
	}
	return manualRevised
}

// widthOf is how wide a terminal is, 0 of what is none.
func widthOf(stream any) int {
	f, ok := stream.(*os.File)
	if !ok || !isatty.IsTerminal(f.Fd()) {
		return 0
	}
	width, _, err := term.GetSize(f.Fd())
	if err != nil {
		return 0
	}
	return width
}

func onTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}

// drawable tells whether a terminal of this kind has a cursor to place.
func drawable(term string) bool { return term != "" && term != "dumb" }

// store is a book's file as the screens and the commands see it.
type store struct {
	*storage.Book
	warn func(error) // what went wrong beside an act that was written
}

// Load is the book; an empty one where none has been begun yet.
func (s *store) Load() (*ledger.Book, error) { return s.begun(s.Book.Load()) }

// begun makes an empty book of none.
func (s *store) begun(b *ledger.Book, err error) (*ledger.Book, error) {
	if errors.Is(err, storage.ErrNoBook) {
		b, err = new(ledger.Book), nil
	}
	if err == nil {
		s.caution(b)
	}
	return b, err
}

// caution warns, once each, of a folder that is no good place for a book, and of a clock that
// is behind the book as it was before an act.
func (s *store) caution(before *ledger.Book) {
	for _, caution := range []string{s.Caution(), s.Behind(before)} {
		if caution != "" {
			s.warn(errors.New(caution))
		}
	}
}

// Write writes one act.
func (s *store) Write(build func(*ledger.Book) ([]model.Entry, error)) (*ledger.Book, model.Seq, error) {
	before := new(ledger.Book)
	w, err := s.Book.Write(func(b *ledger.Book) ([]model.Entry, error) {
		before = b
		return build(b)
	})
	if err != nil {
		return nil, 0, err
	}
	if w.Warning != nil {
		s.warn(w.Warning)
	}
	s.caution(before)
	return w.Book, w.Act, nil
}

// screenStore is a store whose warnings are shown by the screens.
type screenStore struct {
	store
	warnings *warnings
}

// Warning is what went wrong since it was last asked.
func (s *screenStore) Warning() string { return s.warnings.fresh() }

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
	"runtime/debug"
	"time"

	"github.com/mattn/go-isatty"

	"brine/wrasse/model"
	"brine/wrasse/storage"
	"brine/wrasse/storage/exchange"
	"brine/wrasse/ui/command"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, os.Getenv, time.Now))
}

// run is the whole program. It returns the exit code.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer, getenv func(string) string, now func() time.Time) int {
	warn := func(err error) { fmt.Fprintf(stderr, "wrasse: note: %v\n", err) }
	return command.Run(command.Env{
		Stdin:    stdin,
		Stdout:   stdout,
		Stderr:   stderr,
		Getenv:   getenv,
		Now:      now,
		Version:  version(),
		Terminal: func() bool { return onTerminal(stdin) && onTerminal(stdout) && drawable(getenv("TERM")) },
		Open:     func(path string) command.Store { return &store{Book: storage.At(path, now), warn: warn} },
		Export:   exchange.Export,
		Import: func(path string, from io.Reader) (*model.Book, error) {
			entries, err := exchange.Import(from, model.DateOf(now()))
			if err != nil {
				return nil, err
			}
			return storage.At(path, now).Create(entries)
		},
	}, args)
}

// version is what the build recorded of itself.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "of unknown version"
	}
	return info.Main.Version + ", " + info.GoVersion
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
	seen bool        // there was a book: a file that is gone now is an error
}

// Load is the book; an empty one where none has been begun yet.
func (s *store) Load() (*model.Book, error) {
	b, err := s.Book.Load()
	if errors.Is(err, storage.ErrNoBook) && !s.seen {
		return new(model.Book), nil
	}
	s.seen = s.seen || err == nil
	return b, err
}

// Write writes one act.
func (s *store) Write(build func(*model.Book) ([]model.Entry, error)) (*model.Book, model.Seq, error) {
	w, err := s.Book.Write(build)
	if err != nil {
		return nil, 0, err
	}
	if w.Warning != nil {
		s.warn(w.Warning)
	}
	return w.Book, w.Act, nil
}

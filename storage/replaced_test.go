package storage

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// A file that does not hold the last known entry as it was known is another book, however
// it came there and however much it looks like the known one. Whoever waits is told, and
// the book read then replaces the earlier one.
func TestAnotherBookInPlaceOfTheFile(t *testing.T) {
	notes := func(texts ...string) func(t *testing.T, b *Book) {
		return func(t *testing.T, b *Book) {
			for _, text := range texts {
				write(t, b, note(text))
			}
		}
	}
	overwrite := func(t *testing.T, from, to string) {
		t.Helper()
		raw := must(os.ReadFile(from))
		writeOver(t, to, raw)
	}
	rename := func(t *testing.T, from, to string) {
		t.Helper()
		noError(t, os.Rename(from, to))
	}
	for name, c := range map[string]struct {
		before, mine func(*testing.T, *Book) // written before the copy, and after it here
		theirs       func(*testing.T, *Book) // written to the copy
		put          func(t *testing.T, from, to string)
		replaces     bool
	}{
		"an older copy, copied over":             {notes("a"), notes("b", "c"), notes(), overwrite, true},
		"as many acts as there were":             {notes("a"), notes("b", "c"), notes("x", "y"), overwrite, true},
		"more acts than there were":              {notes("a"), notes("b", "c"), notes("x", "y", "z"), overwrite, true},
		"an older copy, renamed":                 {notes("a"), notes("b"), notes(), rename, true},
		"another copy of as many acts, renamed":  {notes("a"), notes("b"), notes("x"), rename, true},
		"the same with more acts, copied over":   {notes("a"), notes(), notes("x"), overwrite, false},
		"the same with more acts, renamed":       {notes("a"), notes(), notes("x", "y"), rename, false},
		"the same as it is, under another inode": {notes("a"), notes(), notes(), rename, false},
	} {
		t.Run(name, func(t *testing.T) {
			b := newBook(t)
			write(t, b, setUp()...)
			c.before(t, b)
			other := At(filepath.Join(b.folder(), "other.db"), b.now)
			defer other.Close()
			noError(t, b.Backup(other.Path()))
			c.mine(t, b)
			c.theirs(t, other)
			want := text(t, load(t, other))
			window := again(t, b)
			known := load(t, window)
			noticed := waiting(t, window)
			c.put(t, other.Path(), b.Path())
			noticed()
			book := load(t, window)
			if got := text(t, book); got != want {
				t.Errorf("the book is\n%s\nwant\n%s", got, want)
			}
			if book.Replaces(known) != c.replaces || book.Continues(known) == c.replaces {
				t.Errorf("it replaces the known one: %v, want %v", book.Replaces(known), c.replaces)
			}
			w := write(t, window, note("on top"))
			if w.Book.Replaces(book) || w.Act != book.Last()+1 {
				t.Errorf("act %d on top, as of another book: %v", w.Act, w.Book.Replaces(book))
			}
		})
	}
}

// writeOver puts content into a file that stays the one it is, as copying over it does.
func writeOver(t *testing.T, path string, content []byte) {
	t.Helper()
	f := must(os.OpenFile(path, os.O_WRONLY, 0))
	_, err := f.WriteAt(content, 0)
	later := time.Now().Add(time.Second) // who copies a file by hand is slower than a test
	noError(t, errors.Join(err, f.Truncate(int64(len(content))), f.Close(), os.Chtimes(path, later, later)))
}

// An act is worked out on the book that has replaced the known one, heard of or not.
func TestAnActOnABookThatHasReplacedTheKnownOne(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	old := must(os.ReadFile(b.Path()))
	mine := write(t, b, note("mine"))
	known := mine.Book
	var window ledger.Window
	window.Did(mine.Entries)
	writeOver(t, b.Path(), old)
	write(t, again(t, b), note("theirs"))
	var on []string
	w, err := b.Write(func(book *ledger.Book) ([]model.Entry, error) {
		on = append(on, must(book.Written(7)).Body.(model.Note).Text)
		if last, err := window.LastAct(book); last == 7 && on[len(on)-1] == "theirs" || last == 0 && err == nil {
			t.Errorf("on %q the window's last act is %d, %v", on[len(on)-1], last, err)
		}
		return []model.Entry{note("on top")}, nil
	})
	if err != nil || w.Act != 8 || !w.Book.Replaces(known) || on[len(on)-1] != "theirs" {
		t.Errorf("act %d, worked out on %q, replaces the known book: %v: %v", w.Act, on, w.Book.Replaces(known), err)
	}
}

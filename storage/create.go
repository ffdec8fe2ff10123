package storage

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Create makes a book of entries that were imported, in their order. Those without a
// seq are numbered, in place; at and act stay as they are. It is an ErrHolds when the file holds
// a book already. The new file is built beside, fsynced and then given its name. O(n), in
// memory for the whole log.
func (b *Book) Create(entries []model.Entry) (*ledger.Book, error) {
	end, err := b.begin()
	if err != nil {
		return nil, err
	}
	defer end()
	book, err := b.load()
	switch {
	case err == nil:
		return nil, b.advise(heldBy(book))
	case !errors.Is(err, ErrNoBook):
		return nil, b.advise(err)
	}
	if len(entries) == 0 {
		return nil, b.advise(fmt.Errorf("%w to make: no entries were given", ErrNoBook))
	}
	for i := range entries {
		e := &entries[i]
		if e.Seq == 0 {
			e.Seq = model.Seq(i + 1)
		}
		if *e, err = strict(*e); err != nil {
			return nil, &ledger.EntryError{Seq: e.Seq, Err: err}
		}
	}
	next, err := ledger.Fold(entries)
	if err != nil {
		return nil, err
	}
	if err := b.create(next, false); err != nil {
		return nil, b.advise(err)
	}
	return b.known.book, nil
}

func heldBy(book *ledger.Book) error {
	return fmt.Errorf("%w: %q with %d chores and %d entries; name another file with --book, or move this one away",
		ErrHolds, book.Def().Name, len(book.Chores()), book.Last())
}

// create makes the file under another name and then gives it its own, so that a power
// cut leaves either no book or a whole one. errMoved when another process was faster.
// held tells that the folder is locked already.
func (b *Book) create(book *ledger.Book, held bool) error {
	dir := b.folder()
	if err := b.makeFolder(); err != nil {
		return err
	}
	locked := func(fn func() error) error { return inFolder(dir, fn) }
	if held {
		locked = func(fn func() error) error { return fn() }
	}
	err := locked(func() error {
		if err := b.vacant(); err != nil {
			return err
		}
		return install(b.file, func(path string) error {
			k, err := build(path, book)
			if err == nil {
				b.lineage++
				k.book = book.In(source{b, b.lineage, k.last, k.seal})
				b.knows(k)
			}
			return err
		})
	})
	return b.notWritten(err)
}

// vacant makes sure that no book stands where one is to be made.
func (b *Book) vacant() error {
	err := b.view(func(tx *bolt.Tx, _ mark) error {
		_, _, err := logIn(tx)
		if err == nil {
			err = errMoved
		}
		return err
	})
	if errors.Is(err, ErrNoBook) {
		return nil
	}
	return err
}

// install puts a new file at path: write makes it under another name, then it is fsynced
// and renamed. One that it replaces leaves it mode and owner, as far as the system lets it.
// What an earlier try left behind is removed. The folder should be locked.
func install(path string, write func(path string) error) (err error) {
	dir, base := filepath.Dir(path), filepath.Base(path)
	removeUnfinished(dir, base)
	f, err := os.CreateTemp(dir, unfinished(base, "*"))
	if err != nil {
		return err
	}
	name := f.Name()
	defer func() {
		if err != nil {
			os.Remove(name)
		}
	}()
	if err := f.Close(); err != nil {
		return err
	}
	if err := write(name); err != nil {
		return err
	}
	if old, err := os.Stat(path); err == nil {
		if err := belongAs(name, old); err != nil {
			return err
		}
	}
	if err := syncFile(name); err != nil {
		return err
	}
	if err := os.Rename(name, path); err != nil {
		return err
	}
	return lasting(dir)
}

// unfinished is the name of a file that is being made to become base.
func unfinished(base, unique string) string { return "." + base + "." + unique + ".new" }

func removeUnfinished(dir, base string) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	prefix, suffix, _ := strings.Cut(unfinished(base, "*"), "*")
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), prefix) && strings.HasSuffix(e.Name(), suffix) {
			os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

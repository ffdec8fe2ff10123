package storage

import (
	"errors"
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"slices"
	"strings"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
)

// Create makes a book of entries that were imported, in their order. Those without a
// seq are numbered, in place; at and act stay as they are. It is an ErrHolds when the file holds
// a book already. The new file is built beside, fsynced and then given its name.
func (b *Book) Create(entries []model.Entry) (*model.Book, error) {
	end, err := b.begin()
	if err != nil {
		return nil, err
	}
	defer end()
	book, err := b.load()
	switch {
	case err == nil:
		return nil, b.advise(holds(book))
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
		if _, *e, err = recordOf(*e); err != nil {
			return nil, &model.EntryError{Seq: e.Seq, Err: err}
		}
	}
	next, err := model.Fold(entries)
	if err != nil {
		return nil, err
	}
	if err := b.create(next, encoded(next), false); err != nil {
		return nil, b.advise(err)
	}
	return b.settled(next), nil
}

// encoded are the records of a full book, made one by one: those of a long log take as
// much room as its entries.
func encoded(book *model.Book) iter.Seq2[record, error] {
	return func(yield func(record, error) bool) {
		for seq := model.Seq(1); seq <= book.Last(); seq++ {
			var payload []byte
			e, err := book.Written(seq)
			if err == nil {
				payload, err = model.EncodeEntry(*e)
			}
			key := keyOf(seq)
			if !yield(record{seq, key, seal(key, payload)}, err) {
				return
			}
		}
	}
}

// allOf are records that are there already.
func allOf(records []record) iter.Seq2[record, error] {
	return func(yield func(record, error) bool) {
		for _, r := range records {
			if !yield(r, nil) {
				return
			}
		}
	}
}

func holds(book *model.Book) error {
	return fmt.Errorf("%w: %q with %d chores and %d entries; name another file with --book, or move this one away",
		ErrHolds, book.Def().Name, len(book.Chores()), book.Last())
}

// create makes the file under another name and then gives it its own, so that a power
// cut leaves either no book or a whole one. errMoved when another process was faster.
// held tells that the folder is locked already.
func (b *Book) create(book *model.Book, records iter.Seq2[record, error], held bool) error {
	changes, _, err := book.Changes()
	if err != nil {
		return fmt.Errorf("folding the book: %w", err)
	}
	dir := b.folder()
	if err := b.makeFolder(); err != nil {
		return err
	}
	locked := func(fn func() error) error { return inFolder(dir, fn) }
	if held {
		locked = func(fn func() error) error { return fn() }
	}
	err = locked(func() error {
		if err := b.vacant(); err != nil {
			return err
		}
		return install(b.file(), func(path string) error {
			mark, last, err := build(path, records, sealedChanges(changes))
			if err == nil {
				b.knows(book, mark, last)
				b.watch.seen(mark)
			}
			return err
		})
	})
	return b.notWritten(err)
}

// vacant makes sure that no book stands where one is to be made.
func (b *Book) vacant() error {
	err := b.read(func(im *image) error {
		st, err := im.state()
		if err == nil && st.Count > 0 {
			err = errMoved
		}
		return err
	})
	if errors.Is(err, ErrNoBook) {
		return nil
	}
	return err
}

// batch is how many records of a new file are put in one transaction: its pages are held
// until it ends.
const batch = 20_000

// build makes a new file of records and of the book folded from them, and returns the
// last of them. The file has yet to be fsynced.
func build(path string, records iter.Seq2[record, error], folded []change) (m mark, last record, err error) {
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: lockWait, FreelistType: bolt.FreelistMapType, NoStatistics: true, NoSync: true})
	if err != nil {
		return mark{}, last, err
	}
	txid := 0
	update := func(fn func(*bolt.Tx) error) error {
		return db.Update(func(tx *bolt.Tx) error {
			txid = tx.ID()
			return fn(tx)
		})
	}
	log := make([]record, 0, batch)
	flush := func() error {
		defer func() { log = log[:0] }()
		return update(func(tx *bolt.Tx) error { return put(tx, log) })
	}
	for r, failed := range records {
		if err = failed; err != nil {
			break
		}
		last = r
		if log = append(log, r); len(log) == batch {
			if err = flush(); err != nil {
				break
			}
		}
	}
	if err == nil && len(log) > 0 {
		err = flush()
	}
	for part := range slices.Chunk(folded, batch/10) { // they are larger than entries
		if err == nil {
			err = update(func(tx *bolt.Tx) error { return putFolded(tx, part) })
		}
	}
	if err := errors.Join(err, db.Close()); err != nil {
		return mark{}, last, err
	}
	m, err = markOf(path, uint64(txid))
	return m, last, err
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

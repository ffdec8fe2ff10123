package storage

import (
	"errors"
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
)

// Written is an act as it was written.
type Written struct {
	Book    *model.Book   // with the act in it
	Act     model.Seq     // the seq of its first entry, 0 when there was nothing to write
	Entries []model.Entry // as written, with seq, at and act
	// Warning is what went wrong beside the act, which is written all the same: the
	// copy of the day could not be made.
	Warning error
}

// maxTries is how often an act is worked out anew because others wrote meanwhile.
const maxTries = 3

// Write does one act. build is given the book as it stands and returns the entries of
// the act, without seq, at and act, which they are given here; it runs outside any
// transaction, may run up to three times, and must not use this Book. The entries are
// written together or not at all, and are safely on the disk when Write returns without
// an error. A build without entries writes nothing. The first act makes the file.
func (b *Book) Write(build func(*model.Book) ([]model.Entry, error)) (Written, error) {
	end, err := b.begin()
	if err != nil {
		return Written{}, err
	}
	defer end()
	if err := model.CheckToday(model.DateOf(b.now())); err != nil {
		return Written{}, fmt.Errorf("nothing was written to %s: %w", b.path, err)
	}
	held, release := b.takeTurn()
	defer release()
	for try := range maxTries {
		var w Written
		if w, err = b.write(build, held, try > 0); !errors.Is(err, errMoved) {
			return w, b.advise(err)
		}
	}
	return Written{}, b.advise(fmt.Errorf("%w: other processes wrote before this could, %d times; try again", ErrBusy, maxTries))
}

// write does one try of an act. anew says that the file is not what it seemed to be.
func (b *Book) write(build func(*model.Book) ([]model.Entry, error), held, anew bool) (Written, error) {
	var (
		book *model.Book
		err  error
	)
	if !anew && b.current() {
		book = b.known.book
	} else {
		book, err = b.load()
	}
	err = b.missed(err)
	fresh := errors.Is(err, ErrNoBook)
	switch {
	case fresh:
		book = new(model.Book)
	case err != nil:
		return Written{}, err
	}
	w, err := b.workOut(book, build)
	if err != nil || len(w.Entries) == 0 {
		return Written{Book: book}, err
	}
	if fresh {
		err = b.create(w.Book, allOf(w.records), held)
	} else {
		if err := b.backUpSchema(); err != nil {
			return Written{}, b.notWritten(err)
		}
		w.Warning = b.backUpToday()
		err = b.append(w.Book, w.records)
	}
	if err == nil {
		w.Book = b.settled(w.Book)
	}
	return w.Written, err
}

// workedOut is an act that is still to be written.
type workedOut struct {
	Written
	records []record
}

// maxHolds is how often an act is worked out on a book that holds what the last one
// lacked. What it lacks after that it makes itself, as one of several steps that each
// reach further back: then the whole log is at hand.
const maxHolds = 3

// workOut works an act out on a book, or on one that holds more of the same log when it
// reaches further back.
func (b *Book) workOut(book *model.Book, build func(*model.Book) ([]model.Entry, error)) (w workedOut, err error) {
	var hold model.Hold
	for try := 0; ; try++ {
		if w, err = b.worked(book, build); err == nil {
			return w, nil
		}
		var s snapshot
		var reading error
		switch {
		case try > maxHolds:
			return w, plain(err)
		case errors.Is(err, model.ErrRebuild), errors.Is(err, model.ErrPast) && try == maxHolds:
			s, reading = b.readFull()
		case errors.Is(err, model.ErrPast):
			hold = hold.With(err)
			s, reading = b.readHolding(hold)
		default:
			return w, plain(err)
		}
		if reading != nil {
			return w, b.missed(reading)
		}
		if !b.continues(s.file) || s.last != b.known.last {
			return w, errMoved
		}
		book = s.book
	}
}

func (b *Book) worked(book *model.Book, build func(*model.Book) ([]model.Entry, error)) (w workedOut, err error) {
	entries, err := build(book)
	if err != nil || len(entries) == 0 {
		return w, err
	}
	if w.records, w.Entries, err = b.stamped(entries, book.Last()); err != nil {
		return w, err
	}
	w.Act = w.Entries[0].Seq
	w.Book, err = book.Extend(w.Entries)
	return w, err
}

// settled is the book to go on with after an act: that of the file where the one that was
// written holds its whole log.
func (b *Book) settled(book *model.Book) *model.Book {
	if book.Brief() {
		return book
	}
	s, err := b.readHolding(model.Hold{})
	if err != nil || !b.continues(s.file) || s.last != b.known.last {
		return book // the act is written; the next look at the file says what is wrong
	}
	b.known = &s
	b.watch.seen(s.file)
	return s.book
}

// plain drops the seq of an entry that was not written from an error about it.
func plain(err error) error {
	var entry *model.EntryError
	if errors.As(err, &entry) {
		return entry.Err
	}
	return err
}

// stamped gives the entries of an act their seq, at and act, and encodes them.
func (b *Book) stamped(entries []model.Entry, last model.Seq) ([]record, []model.Entry, error) {
	at := b.now().Format(time.RFC3339)
	records, out := make([]record, len(entries)), make([]model.Entry, len(entries))
	for i, e := range entries {
		e.Seq, e.At, e.Act = last+1+model.Seq(i), at, 0
		if len(entries) > 1 {
			e.Act = last + 1
		}
		r, back, err := recordOf(e)
		if err != nil {
			return nil, nil, err
		}
		records[i], out[i] = r, back
	}
	return records, out, nil
}

// append writes records, and what they change in the book kept folded, if the log still
// ends where they go on. A file of an earlier schema becomes one of this.
func (b *Book) append(next *model.Book, records []record) error {
	news, all, err := next.Changes() // it may read the file
	if err != nil {
		return fmt.Errorf("folding the act: %w", err)
	}
	changes := sealedChanges(news)
	var m mark
	err = b.update(func(im *image) error {
		st, err := im.state()
		if err != nil {
			return err
		}
		if st.Count+1 != records[0].seq || st.schema < schema && !all {
			return errMoved
		}
		log, _, err := im.bucket(bucketLog)
		if err != nil {
			return err
		}
		m = im.file
		same, err := im.holds(log, b.known.last, b.known.tail)
		if err != nil {
			return err
		}
		if !same || !b.continues(m) {
			return errMoved
		}
		if err := im.endsAt(log, st.Count); err != nil {
			return err
		}
		if all {
			if changes, err = im.differences(changes); err != nil {
				return derived(err)
			}
		}
		return derived(im.readyFolded(changes))
	}, func(tx *bolt.Tx) error {
		m.txid = uint64(tx.ID())
		if err := put(tx, records); err != nil {
			return err
		}
		return putFolded(tx, changes)
	})
	if err != nil {
		return b.notWritten(err)
	}
	b.knows(next, m, records[len(records)-1])
	b.watch.seen(m)
	return nil
}

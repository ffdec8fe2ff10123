package storage

import (
	"errors"
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Written is an act as it was written.
type Written struct {
	Book    *ledger.Book  // with the act in it
	Act     model.Seq     // the seq of its first entry, 0 when there was nothing to write
	Entries []model.Entry // as written, with seq, at and act
	// Warning is what went wrong beside the act, which is written all the same: the
	// copy of the day could not be made.
	Warning error
}

// maxTries is how often the entries of an act are made again because others wrote meanwhile.
const maxTries = 3

// Write does one act. build is given the book as it stands and returns the entries of
// the act, without seq, at and act, which they are given here; it runs outside any
// transaction, may run up to three times, and must not use this Book. The entries are
// written together or not at all, and are safely on the disk when Write returns without
// an error. A build without entries writes nothing. The first act makes the file.
//
// An act costs O(its entries) and one fsync, with a snapshot O(n), and what Book.Extend
// costs. Any goroutine may call it but one inside an operation of this Book.
func (b *Book) Write(build func(*ledger.Book) ([]model.Entry, error)) (Written, error) {
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

// write does one try of an act. again says that the file is not what it seemed to be.
func (b *Book) write(build func(*ledger.Book) ([]model.Entry, error), held, again bool) (Written, error) {
	var (
		book *ledger.Book
		err  error
	)
	unseen := !again && b.current()
	if unseen {
		book = b.known.book
	} else {
		book, err = b.load()
	}
	err = b.missed(err)
	fresh := errors.Is(err, ErrNoBook)
	switch {
	case fresh:
		book = new(ledger.Book)
	case err != nil:
		return Written{}, err
	}
	w, err := b.workedOut(book, build)
	switch {
	case err != nil && unseen:
		return Written{}, errMoved // it may be the file that is not what it seems
	case err != nil:
		return Written{}, err
	case w.Act == 0:
		return Written{Book: book}, nil
	}
	if fresh {
		err := b.create(w.Book, held)
		if err == nil {
			w.Book = b.known.book
		}
		return w, err
	}
	if b.known.schema < schema {
		if err := b.backUpSchema(); err != nil {
			return Written{}, b.notWritten(err)
		}
	}
	w.Warning = b.backUpToday()
	return w, b.append(w.Book, w.Entries)
}

// workedOut is an act on a book, not yet written; Act is 0 when there is nothing to write.
func (b *Book) workedOut(book *ledger.Book, build func(*ledger.Book) ([]model.Entry, error)) (w Written, err error) {
	entries, err := build(book)
	if err != nil || len(entries) == 0 {
		return w, err
	}
	w.Act = book.Last() + 1
	if w.Entries, err = b.stamped(entries, book.Last()); err != nil {
		return w, err
	}
	w.Book, err = book.Extend(w.Entries)
	return w, book.Refused(err)
}

// stamped gives the entries of an act their seq, at and act.
func (b *Book) stamped(entries []model.Entry, last model.Seq) ([]model.Entry, error) {
	at := b.now().Format(time.RFC3339)
	out := make([]model.Entry, len(entries))
	for i, e := range entries {
		e.Seq, e.At, e.Act = last+1+model.Seq(i), at, 0
		if len(entries) > 1 {
			e.Act = last + 1
		}
		var err error
		if out[i], err = strict(e); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// snapshotEvery is how many entries come behind a snapshot of a log before there is another one: opening then reads few,
// and few acts wait for one.
func snapshotEvery(entries model.Seq) model.Seq { return max(512, entries/64) }

// append writes an act, if the log still ends where it goes on: one transaction, one fsync.
func (b *Book) append(next *ledger.Book, entries []model.Entry) error {
	k := *b.known
	log, seal := make([]record, len(entries)), k.seal
	for i := range entries {
		var err error
		if log[i], err = chained(&entries[i], seal); err != nil {
			return err
		}
		seal = sealOf(log[i].value)
	}
	places, err := placesOf(k.book, next, entries)
	if err != nil {
		return err
	}
	var packed []byte
	if next.Refolded() || next.Last()-k.packed >= snapshotEvery(next.Last()) {
		if packed, err = next.Pack(); err != nil {
			return err
		}
	}
	var rows []ledger.Row
	if k.schema < schema {
		for r, err := range next.Rows() {
			if err != nil {
				return err
			}
			rows = append(rows, r)
		}
	}
	keys := tableKeys{string(bucketLog): {keyOf(next.Last())}}
	for _, c := range places {
		for _, r := range []*ledger.Row{c.old, &c.now} {
			if r != nil {
				keys[string(bucketDates)] = append(keys[string(bucketDates)], dateKey(r.Mark))
			}
		}
	}
	k.file, err = b.update(keys, func(tx *bolt.Tx) error {
		_, st, err := logIn(tx)
		if errors.Is(err, ErrNoBook) {
			return errMoved
		}
		if err != nil {
			return err
		}
		if end, err := endOf(tx.Bucket(bucketLog), st); err != nil {
			return err
		} else if st.Count != k.last || end != k.seal || st.schema != k.schema {
			return errMoved
		}
		if st.schema < schema {
			st, err = bringOver(tx, next, rows)
			k.packed, k.seal = st.Count, st.Seal
			return err
		}
		if err = putAct(tx, &st, log, places); err == nil && packed != nil {
			k.packed = st.Count
			err = putSnapshot(tx, st, packed)
		}
		k.seal = st.Seal
		return err
	})
	if err != nil {
		return b.notWritten(err)
	}
	k.book, k.last, k.schema = next, next.Last(), schema
	b.knows(k)
	return nil
}

// placesOf is what an act changes in the order of time: its own entries come in, and those that it amends may move.
func placesOf(before, next *ledger.Book, entries []model.Entry) ([]dateChange, error) {
	var out []dateChange
	for _, seq := range next.Touched() {
		old, err := before.RowOf(seq)
		if err != nil {
			return nil, err
		}
		now, err := next.RowOf(seq)
		if err != nil {
			return nil, err
		}
		out = append(out, dateChange{&old, now})
	}
	for _, e := range entries {
		now, err := next.RowOf(e.Seq)
		if err != nil {
			return nil, err
		}
		out = append(out, dateChange{now: now})
	}
	return out, nil
}

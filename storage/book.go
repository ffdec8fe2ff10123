package storage

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"sync"
	"time"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
)

// Book is one book's file. Its methods may be called from several goroutines; they run
// one at a time. Any number of processes may have a Book of one file.
type Book struct {
	path   string
	target string
	now    func() time.Time
	poll   time.Duration

	mu     sync.Mutex // held by the running operation
	closed bool
	dead   error     // what bbolt broke on; this process can't use the file any more
	known  *snapshot // what was last read or written
	slab   slab      // for looks at the file
	vetted freeList  // the list of free pages as the last act left it

	backedUp  model.Date // the day whose copy is known to be there
	cautioned bool       // about the folder
	watch     watch
}

// snapshot is a book as it was read, and how to tell that the file still continues it.
type snapshot struct {
	book *model.Book
	last model.Seq // of the book
	file mark
	tail []byte // the record of the last entry, as the file held it
}

// Written is an act as it was written.
type Written struct {
	Book    *model.Book   // with the act in it
	Act     model.Seq     // the seq of its first entry, 0 when there was nothing to write
	Entries []model.Entry // as written, with seq, at and act
	// Warning is what went wrong beside the act, which is written all the same: the
	// copy of the day could not be made.
	Warning error
}

// At is the book kept in the file at path, or in the one that path is a link to. Nothing
// is opened or made before the first operation. now gives the moments entries are
// stamped with and the days of the copies.
func At(path string, now func() time.Time) *Book {
	target, err := filepath.EvalSymlinks(path)
	if err != nil {
		target = path // there is none yet
	}
	return &Book{path: path, target: target, now: now, poll: pollEvery}
}

// Path is the path the book was given.
func (b *Book) Path() string { return b.path }

// file is where the file lies when path is a link to it.
func (b *Book) file() string { return b.target }

func (b *Book) folder() string { return filepath.Dir(b.file()) }

// begin starts an operation; end is to be called when it is over.
func (b *Book) begin() (end func(), err error) {
	b.mu.Lock()
	if b.closed {
		b.mu.Unlock()
		return nil, errClosed
	}
	return b.mu.Unlock, nil
}

// Close waits for a running operation. The Book can't be used after it.
func (b *Book) Close() {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.closed = true
	b.watch.close()
}

// Load is the book as it stands. The error is an ErrNoBook when there is no file, or an
// empty one, or one without entries; an ErrGone when there has been a book.
func (b *Book) Load() (*model.Book, error) {
	end, err := b.begin()
	if err != nil {
		return nil, err
	}
	defer end()
	book, err := b.load()
	return book, b.advise(b.missed(err))
}

// load reads what was written since the last time, or everything.
func (b *Book) load() (*model.Book, error) {
	n, err := b.news()
	if err != nil {
		return nil, err
	}
	base := new(model.Book)
	if n.onTop {
		base = b.known.book
	}
	entries, err := decode(n.records)
	if err != nil {
		return nil, err
	}
	book, err := base.Extend(entries)
	if err != nil {
		return nil, damaged("its log does not hold together: %v", err)
	}
	if book.Empty() {
		return nil, fmt.Errorf("%w, only a file without entries; start one with: wrasse", ErrNoBook)
	}
	b.knows(book, n.file, n.records)
	b.watch.seen(n.file)
	return book, nil
}

// knows remembers the book as it was just read or written. records end with its last
// entry; none are given when that is known already.
func (b *Book) knows(book *model.Book, file mark, records []record) {
	s := &snapshot{book: book, last: book.Last(), file: file}
	if n := len(records); n > 0 {
		s.tail = bytes.Clone(records[n-1].value)
	} else {
		s.tail = b.known.tail
	}
	b.known = s
}

// news is what a file holds that isn't known.
type news struct {
	file    mark
	onTop   bool // the records go on where the known book ends; else they are the log
	records []record
}

// news reads what was written since the last time, or everything.
func (b *Book) news() (n news, err error) {
	if b.dead != nil {
		return n, b.dead
	}
	err = b.read(func(im *image) error {
		st, err := im.state()
		if err != nil {
			return err
		}
		log, _, err := im.bucket(bucketLog)
		if err != nil {
			return err
		}
		n.file = im.file
		from := model.Seq(1)
		if b.continues(n.file) && st.Count >= b.known.last {
			if n.onTop, err = im.holds(log, b.known.last, b.known.tail); err != nil {
				return err
			}
			if n.onTop {
				from = b.known.last + 1
			}
		}
		im.slab = nil // records are kept
		n.records, err = im.records(log, from, st.Count)
		return err
	})
	return n, err
}

// current tells whether the file is as it is known, as far as its headers say, for an
// act to be worked out on: what is written is checked against the file itself.
func (b *Book) current() bool {
	return b.dead == nil && b.known != nil && b.known.file == peek(b.file())
}

// continues tells whether a file is the one that is known.
func (b *Book) continues(file mark) bool { return b.known != nil && file.sameFile(b.known.file) }

// holds tells whether an entry is in a log as it is known.
func (im *image) holds(log bucket, seq model.Seq, value []byte) (bool, error) {
	e, ok, err := im.find(log, keyOf(seq))
	return ok && bytes.Equal(e.value, value), err
}

// decodeAlone is how many records are decoded by one goroutine before a second one is
// worth its start: about a millisecond's work.
const decodeAlone = 512

// decode reads records, a long run of them on all processors: it is half the work of
// opening a book.
func decode(records []record) ([]model.Entry, error) {
	cpus := runtime.GOMAXPROCS(0)
	size := max(decodeAlone, (len(records)+cpus-1)/cpus)
	entries := make([]model.Entry, len(records))
	errs := make([]error, (len(records)+size-1)/size)
	var parts sync.WaitGroup
	for i := range errs {
		from := i * size
		to := min(from+size, len(records))
		parts.Go(func() { errs[i] = decodeInto(entries[from:to], records[from:to]) })
	}
	parts.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return entries, nil
}

func decodeInto(entries []model.Entry, records []record) (err error) {
	for i, r := range records {
		if entries[i], err = r.entry(); err != nil {
			return err
		}
	}
	return nil
}

// records reads the records of a log from one seq to the last, none left out.
func (im *image) records(log bucket, from, last model.Seq) ([]record, error) {
	if last < from {
		return nil, im.endsAt(log, last)
	}
	out := make([]record, 0, min(last-from+1, 1<<16))
	err := im.eachRecord(log, from, last, func(r record) error {
		out = append(out, r)
		return nil
	})
	return out, err
}

// eachRecord calls each for every record of a log from one seq to the last, and makes
// sure that none is left out and none follows.
func (im *image) eachRecord(log bucket, from, last model.Seq, each func(record) error) error {
	c := im.pass(log)
	if _, err := c.seek(keyOf(from)); err != nil {
		return err
	}
	want := from
	for e, ok := c.here(); ok; e, ok = c.here() {
		if e.sub || want > last || len(e.key) != 8 || binary.BigEndian.Uint64(e.key) != uint64(want) {
			return damaged("page %d: entry %d was expected, up to %d", c.top().id, want, last)
		}
		if err := each(record{want, e.key, e.value}); err != nil {
			return err
		}
		want++
		if _, err := c.move(1); err != nil {
			return err
		}
	}
	if got := want - 1; got != last {
		return damaged("its log ends with entry %d instead of %d", got, last)
	}
	return nil
}

// endsAt makes sure that the log ends with the entry it must come to.
func (im *image) endsAt(log bucket, last model.Seq) error {
	c := im.cursor(log)
	found, err := c.seek(keyOf(last + 1))
	if err != nil {
		return err
	}
	_, more := c.here()
	if !found && !more {
		ok, err := c.move(-1)
		if err != nil {
			return err
		}
		if e, _ := c.here(); ok && bytes.Equal(e.key, keyOf(last)) || !ok && last == 0 {
			return nil
		}
	}
	return damaged("its log does not end with entry %d", last)
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
	entries, err := build(book)
	if err != nil || len(entries) == 0 {
		return Written{Book: book}, err
	}
	records, entries, err := b.stamped(entries, book.Last())
	if err != nil {
		return Written{}, err
	}
	next, err := book.Extend(entries)
	if err != nil {
		return Written{}, plain(err)
	}
	w := Written{Book: next, Act: entries[0].Seq, Entries: entries}
	if fresh {
		return w, b.create(next, records, held)
	}
	w.Warning = b.backUpToday()
	return w, b.append(next, records, nil)
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

// append writes records, and what they change in the book folded, if the log still ends
// where they go on.
func (b *Book) append(next *model.Book, records []record, changes []change) error {
	var m mark
	err := b.update(func(im *image) error {
		st, err := im.state()
		if err != nil {
			return err
		}
		if st.Count+1 != records[0].seq {
			return errMoved
		}
		log, _, err := im.bucket(bucketLog)
		if err != nil {
			return err
		}
		m = im.file
		if b.known != nil {
			same, err := im.holds(log, b.known.last, b.known.tail)
			if err != nil {
				return err
			}
			if !same || !b.continues(m) {
				return errMoved
			}
		}
		if err := im.endsAt(log, st.Count); err != nil {
			return err
		}
		return im.ready(bucketNow, changes)
	}, func(tx *bolt.Tx) error {
		m.txid = uint64(tx.ID())
		if err := put(tx, records); err != nil || len(changes) == 0 {
			return err
		}
		return putChanges(tx, bucketNow, changes)
	})
	if err != nil {
		return b.notWritten(err)
	}
	b.knows(next, m, records)
	b.watch.seen(m)
	return nil
}

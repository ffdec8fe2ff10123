package storage

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"brine/wrasse/model"
)

// snapshot is a book as it was read, and how to tell that the file still continues it.
type snapshot struct {
	book *model.Book
	last model.Seq // of the book
	file mark
	tail []byte // the record of the last entry, as the file held it
}

// Load is the book as it stands, a brief one: what lies further back it asks of the file
// when it is asked itself. The error is an ErrNoBook when there is no file, or an empty
// one, or one without entries; an ErrGone when there has been a book.
func (b *Book) Load() (*model.Book, error) {
	end, err := b.begin()
	if err != nil {
		return nil, err
	}
	defer end()
	book, err := b.load()
	return book, b.advise(b.missed(err))
}

// Wide is the book as it stands with every event of everything. It is read while others
// may use this Book, and not remembered.
func (b *Book) Wide() (*model.Book, error) {
	return b.further(func() (*model.Book, error) {
		s, err := b.readHolding(model.HoldAll)
		return s.book, err
	})
}

// Full is the book as it stands with every entry as it was written, folded from the
// log; likewise.
func (b *Book) Full() (*model.Book, error) {
	return b.further(func() (*model.Book, error) {
		s, err := b.readFull()
		return s.book, err
	})
}

// further reads beside the operations of this Book: only where it has failed does it
// take part in them.
func (b *Book) further(read func() (*model.Book, error)) (*model.Book, error) {
	end, err := b.begin()
	if err != nil {
		return nil, err
	}
	dead := b.dead
	end()
	var book *model.Book
	if err = dead; err == nil {
		book, err = read()
	}
	if err == nil {
		return book, nil
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	return nil, b.advise(b.missed(err))
}

// load is the known book while the file holds nothing else, or the one it holds.
func (b *Book) load() (*model.Book, error) {
	if b.dead != nil {
		return nil, b.dead
	}
	var s snapshot
	err := b.read(func(im *image) error {
		log, st, err := im.log()
		if err != nil {
			return err
		}
		if b.continues(im.file) && st.Count == b.known.last {
			same, err := im.holds(log, st.Count, b.known.tail)
			if err != nil || same && im.endsAt(log, st.Count) == nil {
				s = *b.known
				s.file = im.file
				return err
			}
		}
		if s, err = b.take(im, model.Hold{}); err == nil && b.known == nil {
			b.along, _ = im.learnt() // it's a cache: what can't be read is not there
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	if s.book == nil { // a file of an earlier schema: decoded without its lock
		if s, err = b.readFull(); err != nil {
			return nil, err
		}
	}
	b.known = &s
	b.watch.seen(s.file)
	return s.book, nil
}

// log is the log of a file and what it must come to.
func (im *image) log() (log bucket, st state, err error) {
	if st, err = im.state(); err != nil {
		return log, st, err
	}
	if st.Count == 0 {
		return log, st, fmt.Errorf("%w, only a file without entries; start one with: wrasse", ErrNoBook)
	}
	log, _, err = im.bucket(bucketLog)
	return log, st, err
}

// take reads the book that is kept folded in a file. Where there is none, as in a file
// of schema 1, the book of the snapshot is nil.
func (b *Book) take(im *image, hold model.Hold) (snapshot, error) {
	log, st, err := im.log()
	if err != nil || st.schema < 2 {
		return snapshot{}, err
	}
	s := snapshot{last: st.Count, file: im.file}
	if err := im.endsAt(log, st.Count); err != nil {
		return snapshot{}, err
	}
	last, _, err := im.find(log, keyOf(st.Count))
	if err != nil {
		return snapshot{}, err
	}
	if _, ok := unseal(last.key, last.value); !ok {
		return snapshot{}, damaged("the checksum of entry %d does not hold", st.Count)
	}
	s.tail = bytes.Clone(last.value)
	r, err := im.folded()
	if err == nil {
		s.book, err = model.Open(r, st.Count, source{b, im.file}, hold)
	}
	return s, derived(err)
}

// readHolding reads the book with as much of it as is to be held.
func (b *Book) readHolding(hold model.Hold) (s snapshot, err error) {
	err = b.readAside(func(im *image) error {
		s, err = b.take(im, hold)
		return err
	})
	if err == nil && s.book == nil {
		return b.readFull()
	}
	return s, err
}

// readFull reads and folds the log.
func (b *Book) readFull() (snapshot, error) {
	var records []record
	var s snapshot
	err := b.readAside(func(im *image) error {
		log, st, err := im.log()
		if err != nil {
			return err
		}
		s.last, s.file = st.Count, im.file
		records, err = im.records(log, 1, st.Count)
		return err
	})
	if err != nil {
		return snapshot{}, err
	}
	s.tail = bytes.Clone(records[len(records)-1].value)
	entries, err := decode(records)
	if err != nil {
		return snapshot{}, err
	}
	if s.book, err = model.Fold(entries); err != nil {
		return snapshot{}, damaged("its log does not hold together: %v", err)
	}
	return s, nil
}

// readAside runs fn on the file like read, with nothing of this Book but its path: other
// operations may run meanwhile, and what fn gets may be kept.
func (b *Book) readAside(fn func(*image) error) error {
	f, err := b.open(false)
	if err != nil {
		return err
	}
	defer f.Close()
	im, err := newImage(f)
	if err != nil {
		return err
	}
	return fn(im)
}

// knows remembers the book as it was just written, with the record of its last entry.
func (b *Book) knows(book *model.Book, file mark, last record) {
	b.known = &snapshot{book: book, last: book.Last(), file: file, tail: bytes.Clone(last.value)}
}

// current tells whether the file is as it is known, as far as its headers say, for an
// act to be worked out on: what is written is checked against the file itself.
func (b *Book) current() bool {
	return b.dead == nil && b.known != nil && b.known.file == peek(b.file())
}

// continues tells whether a file is the one that is known.
func (b *Book) continues(file mark) bool { return b.known != nil && file.sameFile(b.known.file) }

// derived makes damage of what a book can't be opened for: the log may be whole.
func derived(err error) error {
	var d *damageError
	switch {
	case err == nil, errors.As(err, new(*fs.PathError)):
		return err
	case errors.As(err, &d):
		return &damageError{what: d.what, derived: true}
	}
	return &damageError{what: fmt.Sprintf("the book folded: %v", err), derived: true}
}

// source is a book's file for what a book read from it does not hold. It is asked
// outside any operation or inside one, but never inside a transaction.
type source struct {
	book *Book
	file mark
}

// read runs fn on the file as long as it is the one the book was read from.
func (s source) read(fn func(*image) error) error {
	return s.book.readAside(func(im *image) error {
		if !im.file.sameFile(s.file) {
			return fmt.Errorf("another file was put in the place of the book: %w", os.ErrNotExist)
		}
		return fn(im)
	})
}

// Get implements model.Records.
func (s source) Get(key string) (value []byte, err error) {
	err = s.read(func(im *image) error {
		r, err := im.folded()
		if err == nil {
			value, err = r.Get(key)
		}
		return derived(err)
	})
	return value, err
}

// Scan implements model.Records.
func (s source) Scan(from, to string, each func(key string, value []byte) error) error {
	return s.read(func(im *image) error {
		r, err := im.folded()
		if err == nil {
			err = r.Scan(from, to, each)
		}
		return derived(err)
	})
}

// Entry implements model.Source.
func (s source) Entry(seq model.Seq) (out *model.Entry, err error) {
	err = s.read(func(im *image) error {
		log, _, err := im.bucket(bucketLog)
		if err != nil {
			return err
		}
		found, ok, err := im.find(log, keyOf(seq))
		if err != nil || !ok {
			return err
		}
		e, err := record{seq, found.key, found.value}.entry()
		out = &e
		return err
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

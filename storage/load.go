package storage

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// known is a book as it was read or written, and how to tell that the file still holds it.
type known struct {
	book   *ledger.Book
	last   model.Seq // of the book
	seal   uint32    // of that entry
	file   mark
	packed model.Seq // the entry that the snapshot in the file is of
	schema int
}

// Load is the book as it stands, never nil without an error. When the file is in the state that was read or written last,
// it is the book known from then, in O(1); else the snapshot is read, and the entries behind it, in O(their size). The error is an ErrNoBook when there is no file, or an empty
// one, or one without entries; an ErrGone when there has been a book.
func (b *Book) Load() (*ledger.Book, error) {
	end, err := b.begin()
	if err != nil {
		return nil, err
	}
	defer end()
	book, err := b.load()
	return book, b.advise(b.missed(err))
}

// loaded is what a look at the file brings of a book.
type loaded struct {
	known
	same, continues bool   // the file holds what is known, and perhaps more
	snapshot        []byte // nil in a file of an earlier schema, and where another wrasse made it
	behind          []record
}

func (b *Book) load() (*ledger.Book, error) {
	var l loaded
	if err := b.view(func(tx *bolt.Tx, m mark) (err error) {
		l, err = b.look(tx, m)
		return err
	}); err != nil {
		return nil, err
	}
	switch {
	case l.same:
		b.known.file = l.file
		b.watch.seen(l.file)
		return b.known.book, nil
	case b.known != nil && !l.continues:
		b.lineage++
	}
	var err error
	if l.book, err = l.open(source{b, b.lineage, l.last, l.seal}); err != nil {
		return nil, err
	}
	b.knows(l.known)
	return l.book, nil
}

// look reads what there is of a book in a file.
func (b *Book) look(tx *bolt.Tx, m mark) (l loaded, err error) {
	log, st, err := logIn(tx)
	if err != nil {
		return l, err
	}
	l.file, l.last, l.schema = m, st.Count, st.schema
	if l.seal, err = endOf(log, st); err != nil {
		return l, err
	}
	if k := b.known; k != nil {
		l.continues = holds(log, k.last, k.seal)
		if l.same = l.continues && k.last == st.Count && k.schema == st.schema; l.same {
			return l, nil
		}
	}
	before := new(uint32)
	if st.schema >= 3 {
		if l.packed, *before, l.snapshot, err = snapshotIn(tx, log); err != nil {
			return l, err
		}
		if !ledger.Unpackable(l.snapshot) { // another wrasse made it, which had other columns
			l.packed, *before, l.snapshot = 0, 0, nil
		}
	}
	if l.packed > st.Count || l.packed == st.Count && *before != l.seal {
		return l, damagedDerived("its snapshot is of another log")
	}
	l.behind, err = records(log, l.packed+1, st.Count, before)
	return l, err
}

// logIn is the log of a file and what it must come to.
func logIn(tx *bolt.Tx) (*bolt.Bucket, state, error) {
	st, err := stateIn(tx)
	if err != nil {
		return nil, st, err
	}
	if st.Count == 0 {
		return nil, st, fmt.Errorf("%w, only a file without entries; start one with: wrasse", ErrNoBook)
	}
	log := tx.Bucket(bucketLog)
	if log == nil {
		return nil, st, damaged("its log is missing")
	}
	return log, st, nil
}

// snapshotIn is the snapshot in a file, the entry it is of and the seal of that, which must be the one in the log.
func snapshotIn(tx *bolt.Tx, log *bolt.Bucket) (of model.Seq, seal uint32, packed []byte, err error) {
	var value []byte
	if table := tx.Bucket(bucketSnapshot); table != nil {
		value = bytes.Clone(table.Get(keyBook))
	}
	payload, ok := unseal(keyBook, value)
	if !ok || len(payload) < 12 {
		return 0, 0, nil, damagedDerived("the checksum of its snapshot does not hold")
	}
	of, seal = model.Seq(binary.BigEndian.Uint64(payload)), binary.BigEndian.Uint32(payload[8:])
	if !holds(log, of, seal) {
		return 0, 0, nil, damagedDerived("its snapshot is of another log")
	}
	return of, seal, payload[12:], nil
}

// open makes the book of what was read.
func (l *loaded) open(src ledger.Source) (*ledger.Book, error) {
	entries, err := decode(l.behind)
	if err != nil {
		return nil, err
	}
	if l.snapshot == nil {
		book, err := ledger.Fold(entries)
		if err != nil {
			return nil, damaged("its log does not hold together: %v", err)
		}
		return book.In(src), nil
	}
	book, err := ledger.Unpack(l.snapshot, src)
	if err == nil && book.Last() != l.packed {
		err = errors.New("it is of another entry")
	}
	if err == nil {
		book, err = book.Extend(entries)
	}
	if err != nil {
		return nil, damagedDerived("its snapshot: %v", err)
	}
	return book, nil
}

// knows remembers a book as it was just read or written.
func (b *Book) knows(k known) {
	b.known = &k
	b.watch.seen(k.file)
}

// current tells whether the file is as it is known, as far as its headers say, for an
// act to be worked out on: what is written is checked against the file itself.
func (b *Book) current() bool {
	return b.dead.Load() == nil && b.known != nil && b.known.file == peek(b.file)
}

// headers looks at the headers of the file.
func (b *Book) headers() error {
	f, err := b.open(false)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = newImage(f)
	return err
}

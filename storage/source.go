package storage

import (
	"bytes"
	"fmt"
	"os"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// source is a book's file, for what the book that was read from it does not hold. It is asked
// outside any operation or inside one, but never inside a transaction.
type source struct {
	book    *Book
	lineage int       // of the log in the file: another one when a file was put in its place
	last    model.Seq // of the book
	seal    uint32    // of that entry: the file must still hold it
}

// view runs fn on the log as long as it is the one the book was read from.
func (s source) view(fn func(tx *bolt.Tx, log *bolt.Bucket, st state) error) error {
	return s.book.view(func(tx *bolt.Tx, _ mark) error {
		st, err := stateIn(tx)
		if err != nil {
			return err
		}
		log := tx.Bucket(bucketLog)
		if !holds(log, s.last, s.seal) {
			return fmt.Errorf("another file was put in the place of the book: %w", os.ErrNotExist)
		}
		return fn(tx, log, st)
	})
}

// holds tells whether an entry is in a log as it is known.
func holds(log *bolt.Bucket, seq model.Seq, seal uint32) bool {
	if log == nil {
		return false
	}
	v := log.Get(keyOf(seq))
	return v != nil && sealOf(v) == seal
}

// Same implements ledger.Source.
func (s source) Same(other ledger.Source) bool {
	o, ok := other.(source)
	return ok && s.book == o.book && s.lineage == o.lineage
}

// Entries implements ledger.Source. It takes memory for the stretch that is asked for, however long the log is.
func (s source) Entries(from, to model.Seq) ([]model.Entry, error) {
	var found []record
	err := s.view(func(_ *bolt.Tx, log *bolt.Bucket, st state) (err error) {
		if found, err = records(log, from, to, nil); err == nil && to == st.Count {
			_, err = endOf(log, st)
		}
		return err
	})
	if err == nil {
		var entries []model.Entry
		if entries, err = decode(found); err == nil {
			return entries, nil
		}
	}
	return nil, s.book.asideError(err)
}

// Newest implements ledger.Source.
func (s source) Newest(before model.Mark, n int) ([]ledger.Row, error) {
	return s.rows(n, func(c *bolt.Cursor) (k, v []byte, next func() (k, v []byte)) {
		if k, _ := c.Seek(dateKey(before)); k == nil {
			k, v = c.Last()
			return k, v, c.Prev
		}
		k, v = c.Prev()
		return k, v, c.Prev
	}, func(a, b model.Mark) bool { return b.Before(a) }, func(b *ledger.Book) ([]ledger.Row, error) { return b.Newest(before, n) })
}

// Oldest implements ledger.Source.
func (s source) Oldest(after model.Mark, n int) ([]ledger.Row, error) {
	return s.rows(n, func(c *bolt.Cursor) (k, v []byte, next func() (k, v []byte)) {
		at := dateKey(after)
		if k, v = c.Seek(at); bytes.Equal(k, at) {
			k, v = c.Next()
		}
		return k, v, c.Next
	}, model.Mark.Before, func(b *ledger.Book) ([]ledger.Row, error) { return b.Oldest(after, n) })
}

// rows are up to n rows of the table of dates, from where a cursor is put, with their entries as they were written. A file of
// an earlier schema has no such table until the next act has made one: a book folded of its log is asked instead.
func (s source) rows(n int, put func(*bolt.Cursor) (k, v []byte, next func() (k, v []byte)), inOrder func(a, b model.Mark) bool,
	ask func(*ledger.Book) ([]ledger.Row, error)) ([]ledger.Row, error) {
	var rows []ledger.Row
	var found []record
	err := s.view(func(tx *bolt.Tx, log *bolt.Bucket, st state) error {
		dates := tx.Bucket(bucketDates)
		switch {
		case st.schema < 3:
			return errSchema
		case dates == nil:
			return damagedDerived("its table of dates is missing")
		}
		if err := s.book.sumOnce(dates, st); err != nil {
			return err
		}
		k, v, next := put(dates.Cursor())
		for ; k != nil && len(rows) < n; k, v = next() {
			r, ok := placed(k, v)
			e := log.Get(keyOf(r.Seq))
			if !ok || e == nil || len(rows) > 0 && !inOrder(rows[len(rows)-1].Mark, r.Mark) {
				return damagedDerived("its table of dates names what is no entry, or is out of order")
			}
			rows = append(rows, r)
			found = append(found, record{r.Seq, keyOf(r.Seq), bytes.Clone(e)})
		}
		return nil
	})
	if err == errSchema {
		return s.unplaced(ask)
	}
	if err == nil {
		var entries []model.Entry
		if entries, err = decode(found); err == nil {
			for i := range rows {
				rows[i].Written = &entries[i]
			}
			return rows, nil
		}
	}
	return nil, s.book.asideError(err)
}

// unplaced asks a book folded of the log.
func (s source) unplaced(ask func(*ledger.Book) ([]ledger.Row, error)) ([]ledger.Row, error) {
	entries, err := s.Entries(1, s.last)
	if err != nil {
		return nil, err
	}
	b, err := ledger.Fold(entries)
	if err != nil {
		return nil, err
	}
	return ask(b)
}

// sumOnce checks the table of dates of a file that this Book hasn't seen in this state.
func (b *Book) sumOnce(dates *bolt.Bucket, st state) error {
	if b.summed.Load() == st.Dates {
		return nil
	}
	err := checkDates(dates, st)
	if err == nil {
		b.summed.Store(st.Dates)
	}
	return err
}

// asideError is an error of what was read beside the operations of a Book, of which there has been one.
func (b *Book) asideError(err error) error { return b.advise(b.missedOf(err, true)) }

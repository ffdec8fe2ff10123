package storage

import (
	"encoding/binary"
	"iter"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model/ledger"
)

// putAct puts what an act changes into the file: its entries, the places of entries in the order of time, and what the log
// comes to then.
func putAct(tx *bolt.Tx, st *state, entries []record, places []dateChange) error {
	log, err := tx.CreateBucketIfNotExists(bucketLog)
	if err != nil {
		return err
	}
	log.FillPercent = 0.95 // keys only ever grow, so pages need little room to
	for _, r := range entries {
		if err := log.Put(r.key, r.value); err != nil {
			return err
		}
		st.Count, st.Seal = r.seq, sealOf(r.value)
	}
	dates, err := tx.CreateBucketIfNotExists(bucketDates)
	if err == nil {
		err = putDates(dates, &st.Dates, places)
	}
	if err != nil {
		return err
	}
	meta, err := tx.CreateBucketIfNotExists(bucketMeta)
	if err == nil && st.schema != schema {
		st.schema = schema
		err = putJSON(meta, keySchema, schemaRecord{schema})
	}
	if err != nil {
		return err
	}
	return putJSON(meta, keyState, st)
}

// putSnapshot puts a book into the file of which it is.
func putSnapshot(tx *bolt.Tx, st state, packed []byte) error {
	table, err := tx.CreateBucketIfNotExists(bucketSnapshot)
	if err != nil {
		return err
	}
	payload := binary.BigEndian.AppendUint64(make([]byte, 0, 12+len(packed)), uint64(st.Count))
	payload = append(binary.BigEndian.AppendUint32(payload, st.Seal), packed...)
	return table.Put(keyBook, seal(keyBook, payload))
}

// batch is how many entries of a new file are put in one transaction: its pages are held
// until it ends.
const batch = 20_000

// fill puts a whole book into tables that hold nothing yet, and returns what its log comes to. rows gives its log; update is
// called for each batch.
func fill(book *ledger.Book, rows iter.Seq2[ledger.Row, error], update func(func(*bolt.Tx) error) error) (st state, err error) {
	packed, err := book.Pack()
	if err != nil {
		return state{}, err
	}
	var entries []record
	var places []dateChange
	flush := func() error {
		err := update(func(tx *bolt.Tx) error { return putAct(tx, &st, entries, places) })
		entries, places = entries[:0], places[:0]
		return err
	}
	before := uint32(0)
	for r, err := range rows {
		var e record
		if err == nil {
			e, err = chained(r.Written, before)
		}
		if err != nil {
			return state{}, err
		}
		before = sealOf(e.value)
		entries, places = append(entries, e), append(places, dateChange{now: r})
		if len(entries) == batch {
			if err := flush(); err != nil {
				return state{}, err
			}
		}
	}
	if err = flush(); err == nil {
		err = update(func(tx *bolt.Tx) error { return putSnapshot(tx, st, packed) })
	}
	return st, err
}

// build makes a new file of a book, and returns how it is known there. The file has yet to be fsynced.
func build(path string, book *ledger.Book) (known, error) {
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: lockWait, FreelistType: bolt.FreelistMapType, NoStatistics: true, NoSync: true})
	if err != nil {
		return known{}, err
	}
	st, err := fill(book, book.Rows(), func(fn func(*bolt.Tx) error) error { return db.Update(fn) })
	if closing := db.Close(); err == nil {
		err = closing
	}
	return known{book: book, last: st.Count, seal: st.Seal, file: peek(path), packed: st.Count, schema: schema}, err
}

// bringOver makes a file of an earlier schema one of this, within a transaction. Its log is written again: its seals
// become a chain. log is all of it, which can't be read now.
func bringOver(tx *bolt.Tx, book *ledger.Book, log []ledger.Row) (state, error) {
	for _, name := range append(older, tables...) {
		if tx.Bucket([]byte(name)) != nil {
			if err := tx.DeleteBucket([]byte(name)); err != nil {
				return state{}, err
			}
		}
	}
	rows := func(yield func(ledger.Row, error) bool) {
		for _, r := range log {
			if !yield(r, nil) {
				return
			}
		}
	}
	return fill(book, rows, func(fn func(*bolt.Tx) error) error { return fn(tx) })
}

package storage

import (
	"fmt"
	"os"
	"runtime/debug"
	"unsafe"

	"github.com/go-json-experiment/json"
	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
)

// bbolt runs behind a guard: the file's headers, its length, the pages that others hang from and, before a write, the list
// of free pages are looked at first, and what it breaks on nevertheless becomes an ErrDamaged.

// view runs fn on the file in a transaction that reads, under a lock that others may share. What fn gets of the file is gone when it
// returns. Nothing of this Book is used but its path, so that it may run beside its operations.
func (b *Book) view(fn func(*bolt.Tx, mark) error) error {
	if dead := b.dead.Load(); dead != nil {
		return *dead // bbolt may still hold its lock
	}
	var m mark
	return guarded(b.file, &bolt.Options{ReadOnly: true}, nil, nil, func() (*os.File, error) { return b.open(false) }, &m, func(db *bolt.DB, im *image, s skeleton) error {
		// That costs a look at every page, so that it is done once in each state of the file.
		if known := b.walkable.Load(); known == nil || *known != m {
			data := db.Info().Data
			if err := im.walkable(*(*unsafe.Pointer)(unsafe.Pointer(&data)), s); err != nil {
				return err
			}
			b.walkable.Store(new(m))
		}
		return db.View(func(tx *bolt.Tx) error { return fn(tx, m) })
	})
}

// update runs one transaction on the file under an exclusive lock, fsynced when it returns nil, and gives the mark that the
// file then has. It may put the keys given, and none elsewhere in a tree of several pages.
func (b *Book) update(keys tableKeys, fn func(*bolt.Tx) error) (m mark, err error) {
	if dead := b.dead.Load(); dead != nil {
		return m, *dead
	}
	// It takes the lowest free pages, so that those of an act lie nearer together: each
	// gap between them is one more write to wait for.
	options := &bolt.Options{FreelistType: bolt.FreelistArrayType}
	check := func(im *image, s skeleton) error {
		err := im.checkFree(s.used)
		for name, of := range keys {
			for _, key := range of {
				if err == nil {
					err = im.way(s.tables[name], key)
				}
			}
		}
		return err
	}
	var file *os.File
	open := func() (f *os.File, err error) {
		file, err = b.open(true)
		return file, err
	}
	err = guarded(b.file, options, b.left.Load(), check, open, &m, func(db *bolt.DB, _ *image, _ skeleton) error {
		err := db.Update(func(tx *bolt.Tx) error {
			m.txid = uint64(tx.ID())
			return fn(tx)
		})
		if err == nil {
			m, _ = markOf(file, m.txid) // without it the file is looked at once more
			b.left.Store(new(m))
		}
		return err
	})
	if broken, ok := err.(*brokenError); ok {
		// bbolt's clean-up was skipped: its mapping, and through that the lock, may stay with this process. So nothing is
		// tried again.
		err = broken.error
		b.dead.Store(&err)
	}
	return m, err
}

// tableKeys are keys by the name of their table.
type tableKeys map[string][][]byte

// brokenError is damage that bbolt broke on while it wrote.
type brokenError struct{ error }

// guarded opens a file with bbolt and runs fn on it. Nothing of bbolt runs before check is content with the file, save where
// it stands as known: as bbolt left it after a check.
func guarded(path string, options *bolt.Options, known *mark, check func(*image, skeleton) error, open func() (*os.File, error), m *mark, fn func(*bolt.DB, *image, skeleton) error) (err error) {
	// What the checks can't foresee (a leaf that is damaged, a file that another program cuts short meanwhile) is a panic
	// or a fault inside bbolt. The setting is per goroutine.
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	var (
		im *image
		s  skeleton
		db *bolt.DB
	)
	defer func() {
		if r := recover(); r != nil {
			err = damaged("%v", r)
			if !options.ReadOnly {
				err = &brokenError{err}
			} else if db != nil {
				db.Close() // a transaction that reads has ended by now
			}
		}
	}()
	options.Timeout = lockWait // the lock is ours already; zero would mean to wait for ever
	options.NoStatistics = true
	options.OpenFile = func(string, int, os.FileMode) (*os.File, error) {
		f, err := open()
		if err != nil {
			return nil, err
		}
		if im, err = newImage(f); err == nil {
			*m, err = markOf(f, im.txid)
		}
		if err == nil && (known == nil || *known != *m) {
			if s, err = im.skeleton(); err == nil && check != nil {
				err = check(im, s)
			}
		}
		if err != nil {
			f.Close()
			return nil, err
		}
		return f, nil
	}
	if db, err = bolt.Open(path, 0, options); err != nil {
		return err
	}
	err = fn(db, im, s)
	if closing := db.Close(); err == nil {
		err = closing
	}
	return err
}

// schema numbers the layout of the file. A file with a higher one is refused, one with a
// lower one is read as it is and becomes one of this schema with the next act.
const schema = 3

var (
	bucketLog      = []byte("log")
	bucketDates    = []byte("dates")    // the order of the entries in time
	bucketSnapshot = []byte("snapshot") // the book at some entry
	bucketMeta     = []byte("meta")
	keySchema      = []byte("schema")
	keyState       = []byte("state")
	keyBook        = []byte("book")

	// tables are all there may be in a file of this schema.
	tables = []string{"log", "dates", "snapshot", "meta"}
	// older are those that only files of earlier schemas have: what they hold is worked out of the log again.
	older = []string{"now", "chunks", "learnt"}
)

// schemaRecord has a key of its own, so that any later version can be told apart.
type schemaRecord struct {
	Schema int `json:"schema"`
}

// state is what the log must come to.
type state struct {
	Count model.Seq `json:"count"` // entries, and so the seq of the last
	Seal  uint32    `json:"seal"`  // of the last entry, and through it of all
	Dates uint64    `json:"dates"` // the sum of the table of dates

	schema int // of the file, which stands under a key of its own
}

// stateOf reads what the log must come to, and refuses a newer schema.
func stateOf(get func(key []byte) []byte) (st state, err error) {
	var sch schemaRecord
	if err := sealedJSON(get, keySchema, &sch); err != nil {
		return state{}, err
	}
	switch {
	case sch.Schema > schema:
		return state{}, fmt.Errorf("%w: its schema is %d, this wrasse reads %d; update wrasse", ErrNewer, sch.Schema, schema)
	case sch.Schema < 1:
		return state{}, damaged("its schema is %d", sch.Schema)
	}
	err = sealedJSON(get, keyState, &st)
	st.schema = sch.Schema
	return st, err
}

// stateIn is that of the file of a transaction.
func stateIn(tx *bolt.Tx) (state, error) {
	meta := tx.Bucket(bucketMeta)
	if meta == nil {
		return state{}, damaged("its table of contents is missing")
	}
	return stateOf(meta.Get)
}

func sealedJSON(get func(key []byte) []byte, key []byte, into any) error {
	value := get(key)
	if value == nil {
		return damaged("its %s is missing", key)
	}
	payload, ok := unseal(key, value)
	if !ok {
		return damaged("the checksum of its %s does not hold", key)
	}
	if err := json.Unmarshal(payload, into); err != nil {
		return damaged("its %s: %v", key, err)
	}
	return nil
}

func putJSON(b *bolt.Bucket, key []byte, v any) error {
	payload, err := json.Marshal(v)
	if err != nil {
		return err
	}
	return b.Put(key, seal(key, payload))
}

package storage

import (
	"fmt"
	"os"
	"runtime/debug"

	"github.com/go-json-experiment/json"
	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
)

// schema numbers the layout of the file. A file with a higher one is refused, one with a
// lower one is read as it is and becomes one of this schema with the next act.
const schema = 2

var (
	bucketLog    = []byte("log")
	bucketMeta   = []byte("meta")
	bucketNow    = []byte("now")    // the book folded, as model keeps it: what acts change
	bucketChunks = []byte("chunks") // and what lies further back, in chunks
	bucketLearnt = []byte("learnt") // a cache of what was worked out of the log
	keySchema    = []byte("schema")
	keyState     = []byte("state")

	// tables are all there may be in a file.
	tables = [][]byte{bucketLog, bucketMeta, bucketNow, bucketChunks, bucketLearnt}
)

// schemaRecord has a key of its own, so that any later version can be told apart.
type schemaRecord struct {
	Schema int `json:"schema"`
}

// state is what the log must come to.
type state struct {
	Count  model.Seq `json:"count"` // entries, and so the seq of the last
	schema int       // of the file, which stands under a key of its own
}

// read runs fn on the file under a lock that others may share for reading.
func (b *Book) read(fn func(*image) error) error {
	f, err := b.open(false)
	if err != nil {
		return err
	}
	defer f.Close()
	im, err := b.look(f)
	if err != nil {
		return err
	}
	return fn(im)
}

// look is an image to be done with before the next one is made.
func (b *Book) look(f *os.File) (*image, error) {
	im, err := newImage(f)
	if err != nil {
		return nil, err
	}
	if b.slab == nil {
		b.slab = make(slab, slabLen)
	}
	im.slab = b.slab
	return im, nil
}

// newImage looks at both headers of a file and at its length.
func newImage(f *os.File) (*image, error) {
	h, _, err := readHeaders(f)
	if err != nil {
		return nil, err
	}
	return (&image{r: f, header: h}).whole(f)
}

// whole looks at the length of the file, and at which one it is.
func (im *image) whole(f *os.File) (*image, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	device, inode, err := identityOf(f.Name(), info)
	if err != nil {
		return nil, err
	}
	im.file = mark{device, inode, im.txid}
	if uint64(info.Size()) < uint64(im.pages)*uint64(im.pageSize) {
		return nil, damaged("the file is cut short: %d bytes instead of %d", info.Size(), uint64(im.pages)*uint64(im.pageSize))
	}
	return im, nil
}

// state reads what the log must come to, and refuses a newer schema.
func (im *image) state() (state, error) {
	meta, ok, err := im.bucket(bucketMeta)
	if err != nil {
		return state{}, err
	}
	if !ok {
		return state{}, damaged("its table of contents is missing")
	}
	var sch schemaRecord
	if err := im.sealed(meta, keySchema, &sch); err != nil {
		return state{}, err
	}
	switch {
	case sch.Schema > schema:
		return state{}, fmt.Errorf("%w: its schema is %d, this wrasse reads %d; update wrasse", ErrNewer, sch.Schema, schema)
	case sch.Schema < 1:
		return state{}, damaged("its schema is %d", sch.Schema)
	}
	st := state{schema: sch.Schema}
	return st, im.sealed(meta, keyState, &st)
}

func (im *image) sealed(b bucket, key []byte, into any) error {
	e, ok, err := im.find(b, key)
	switch {
	case err != nil:
		return err
	case !ok:
		return damaged("its %s is missing", key)
	}
	payload, ok := unseal(key, e.value)
	if !ok {
		return damaged("the checksum of its %s does not hold", key)
	}
	if err := json.Unmarshal(payload, into); err != nil {
		return damaged("its %s: %v", key, err)
	}
	return nil
}

// update runs one transaction on the file under an exclusive lock, fsynced when it
// returns nil. Nothing of bbolt runs before check is content with the file.
func (b *Book) update(check func(*image) error, fn func(*bolt.Tx) error) (err error) {
	if b.dead != nil {
		return b.dead
	}
	// What check can't foresee (a file that another program cuts short meanwhile) is a
	// panic or a fault inside bbolt. The setting is per goroutine.
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if r := recover(); r != nil {
			// bbolt's clean-up was skipped: its mapping, and through that the lock, stay
			// with this process, and Close could hang. So nothing is tried again.
			b.dead = damaged("%v", r)
			err = b.dead
		}
	}()
	var file *os.File
	db, err := bolt.Open(b.file(), 0, &bolt.Options{
		Timeout: lockWait, // the lock is ours already; zero would mean to wait for ever
		// It takes the lowest free pages, so that those of an act lie nearer together: each
		// gap between them is one more write to wait for.
		FreelistType: bolt.FreelistArrayType,
		NoStatistics: true,
		OpenFile: func(string, int, os.FileMode) (*os.File, error) {
			f, err := b.open(true)
			if err != nil {
				return nil, err
			}
			if err := b.checked(f, check); err != nil {
				f.Close()
				return nil, err
			}
			file = f
			return f, nil
		},
	})
	if err != nil {
		return err
	}
	err = db.Update(fn)
	b.vetted = freeList{}
	if err == nil {
		b.vetted = freeListOf(file)
	}
	if closing := db.Close(); err == nil {
		err = closing
	}
	return err
}

func (b *Book) checked(f *os.File, check func(*image) error) error {
	im, err := b.look(f)
	if err != nil {
		return err
	}
	if !b.vetted.still(im) {
		if err := im.checkFree(); err != nil {
			return err
		}
	}
	return check(im)
}

// put writes records and what the log comes to with them.
func put(tx *bolt.Tx, records []record) error {
	log, err := tx.CreateBucketIfNotExists(bucketLog)
	if err != nil {
		return err
	}
	log.FillPercent = 0.95 // keys only ever grow, so pages need little room to
	last := model.Seq(0)
	for _, r := range records {
		if err := log.Put(r.key, r.value); err != nil {
			return err
		}
		last = r.seq
	}
	meta, err := tx.CreateBucketIfNotExists(bucketMeta)
	if err != nil {
		return err
	}
	if err := putSealed(meta, keySchema, schemaRecord{schema}); err != nil {
		return err
	}
	return putSealed(meta, keyState, state{Count: last})
}

func putSealed(b *bolt.Bucket, key []byte, v any) error {
	payload, err := json.Marshal(v)
	if err != nil {
		return err
	}
	return b.Put(key, seal(key, payload))
}

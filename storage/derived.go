package storage

import (
	"bytes"
	"cmp"
	"slices"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
)

// lastKey is behind every key of the book folded.
const lastKey = "\xff"

// chunked are the bounds of the keys of chunks: from each to the one behind it. They have a table of their own, because
// they are nearly all there is of a long book: without them an act finds, and writes, a record in a tree of two levels.
var chunked = [...]string{"amend/", "amend0", "event/", "event0", "lesson/", "lesson0"}

// tableOf is the table of a key of the book folded.
func tableOf(key string) []byte {
	at, found := slices.BinarySearch(chunked[:], key)
	if found {
		at++ // a bound begins what it bounds
	}
	if at%2 == 1 {
		return bucketChunks
	}
	return bucketNow
}

// folded reads the book folded, from both its tables as from one.
type folded struct{ now, chunks *reader }

func (im *image) folded() (*folded, error) {
	now, err := im.reader(bucketNow)
	if err != nil {
		return nil, err
	}
	chunks, err := im.reader(bucketChunks)
	return &folded{now, chunks}, err
}

func (f *folded) of(table []byte) *reader {
	if &table[0] == &bucketChunks[0] {
		return f.chunks
	}
	return f.now
}

// Get implements model.Records.
func (f *folded) Get(key string) ([]byte, error) { return f.of(tableOf(key)).Get(key) }

// Scan implements model.Records.
func (f *folded) Scan(from, to string, each func(key string, value []byte) error) error {
	for from < to {
		at, found := slices.BinarySearch(chunked[:], from)
		if found {
			at++
		}
		end := to
		if at < len(chunked) {
			end = min(end, chunked[at])
		}
		if err := f.of(tableOf(from)).Scan(from, end, each); err != nil {
			return err
		}
		from = end
	}
	return nil
}

// readyFolded looks at what changes of the book folded will make bbolt read.
func (im *image) readyFolded(changes []change) error {
	return eachTable(changes, im.ready)
}

// putFolded makes changes in the tables of the book folded.
func putFolded(tx *bolt.Tx, changes []change) error {
	return eachTable(changes, func(table []byte, of []change) error { return putChanges(tx, table, of) })
}

// eachTable calls fn for the changes of each table, if there are any.
func eachTable(changes []change, fn func(table []byte, of []change) error) error {
	for _, table := range [][]byte{bucketNow, bucketChunks} {
		var of []change
		for _, c := range changes {
			if t := tableOf(string(c.key)); &t[0] == &table[0] {
				of = append(of, c)
			}
		}
		if len(of) > 0 {
			if err := fn(table, of); err != nil {
				return err
			}
		}
	}
	return nil
}

// sealedChanges are the changes of a book folded as they are put into its table, in the
// order of keys. It takes their values away: those of a long book are many.
func sealedChanges(changes []model.Change) []change {
	out := make([]change, len(changes))
	for i, c := range changes {
		out[i] = sealedChange(c.Key, c.Value)
		changes[i].Value = nil
	}
	slices.SortFunc(out, func(a, b change) int { return bytes.Compare(a.key, b.key) })
	return out
}

// differences are the changes that make all there is in the table of the book folded of
// what is there. all is in the order of keys.
func (im *image) differences(all []change) ([]change, error) {
	r, err := im.folded()
	if err != nil {
		return nil, err
	}
	var out []change
	rest := all
	err = r.Scan("", lastKey, func(key string, value []byte) error {
		at, found := slices.BinarySearchFunc(rest, key, func(c change, key string) int { return cmp.Compare(string(c.key), key) })
		out = append(out, rest[:at]...)
		rest = rest[at:]
		if !found {
			out = append(out, change{key: []byte(key)})
			return nil
		}
		if !bytes.Equal(rest[0].value[sealLen:], value) {
			out = append(out, rest[0])
		}
		rest = rest[1:]
		return nil
	})
	return append(out, rest...), err
}

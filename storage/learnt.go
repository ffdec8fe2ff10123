package storage

import (
	"bytes"

	bolt "go.etcd.io/bbolt"
)

// Learnt is what Keep has kept. It is a cache: what can't be read of it is left out. The
// error is that of reading the book at all. The first Load reads it along.
func (b *Book) Learnt() (map[string][]byte, error) {
	end, err := b.begin()
	if err != nil {
		return nil, err
	}
	defer end()
	if b.dead != nil {
		return nil, b.dead
	}
	if out := b.along; out != nil {
		b.along = nil
		return out, nil
	}
	var out map[string][]byte
	err = b.read(func(im *image) (err error) {
		out, err = im.learnt()
		return err
	})
	return out, b.advise(err)
}

// learnt is what can be read of the table of what was learnt.
func (im *image) learnt() (map[string][]byte, error) {
	out := map[string][]byte{}
	table, ok, err := im.bucket(bucketLearnt)
	if err != nil || !ok {
		return out, err
	}
	w := im.walker()
	w.found = func(error) error { return nil }
	w.leaf = func(p page) error {
		for _, e := range p.all() {
			if value, ok := unseal(e.key, e.value); ok && !e.sub {
				out[string(e.key)] = bytes.Clone(value)
			}
		}
		return nil
	}
	return out, w.bucket(table)
}

// Keep puts values under keys for Learnt to find, in place of those that are there; nil
// takes one away. It is one transaction, and none when nothing would change.
func (b *Book) Keep(values map[string][]byte) error {
	end, err := b.begin()
	if err != nil {
		return err
	}
	defer end()
	b.along = nil
	return b.advise(b.notWritten(b.keepLearnt(values)))
}

func (b *Book) keepLearnt(values map[string][]byte) error {
	if b.dead != nil {
		return b.dead
	}
	var changes []change
	err := b.read(func(im *image) error {
		table, _, err := im.bucket(bucketLearnt)
		if err != nil {
			return err
		}
		for key, value := range values {
			e, there, err := im.find(table, []byte(key))
			if err != nil {
				return err
			}
			c := sealedChange(key, value)
			if there != (c.value != nil) || !bytes.Equal(e.value, c.value) {
				changes = append(changes, c)
			}
		}
		return nil
	})
	if err != nil || len(changes) == 0 {
		return err
	}
	var before, after mark
	err = b.update(func(im *image) error {
		if _, err := im.state(); err != nil {
			return err
		}
		before = im.file
		return im.ready(bucketLearnt, changes)
	}, func(tx *bolt.Tx) error {
		after = before
		after.txid = uint64(tx.ID())
		return putChanges(tx, bucketLearnt, changes)
	})
	if err != nil {
		return err
	}
	b.watch.moved(before, after)
	if b.known != nil && b.known.file == before {
		b.known.file = after
	}
	return nil
}

// change is a sealed value to be put under a key, or nil for one to be taken away.
type change struct{ key, value []byte }

func sealedChange(key string, value []byte) change {
	c := change{key: []byte(key)}
	if value != nil {
		c.value = seal(c.key, value)
	}
	return c
}

// ready makes sure that bbolt can put changes into a table: that it finds sound pages on
// the way to each, and beside each it takes away, where it may join pages.
func (im *image) ready(table []byte, changes []change) error {
	b, _, err := im.bucket(table)
	if err != nil {
		return err
	}
	for _, ch := range changes {
		c := im.cursor(b)
		if _, err := c.seek(ch.key); err != nil {
			return err
		}
		if ch.value != nil {
			continue
		}
		before, after := c.split(), c.split()
		before.top().i, after.top().i = 0, c.top().n
		if _, err := before.move(-1); err != nil {
			return err
		}
		if _, err := after.move(1); err != nil {
			return err
		}
	}
	return nil
}

// putChanges makes changes in a table, which it makes if need be.
func putChanges(tx *bolt.Tx, table []byte, changes []change) error {
	b, err := tx.CreateBucketIfNotExists(table)
	if err != nil {
		return err
	}
	for _, c := range changes {
		if c.value == nil {
			err = b.Delete(c.key)
		} else {
			err = b.Put(c.key, c.value)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

package storage

import (
	"bytes"

	"brine/wrasse/model"
)

// Entries implements model.Log. It takes memory for the stretch that is asked for, however long the log is. It takes part
// in the operations of its Book only where it has failed, and so must be asked outside them.
func (s source) Entries(from, to model.Seq) ([]model.Entry, error) {
	entries, err := s.entries(from, to)
	if err == nil {
		return entries, nil
	}
	s.book.mu.Lock()
	defer s.book.mu.Unlock()
	return nil, s.book.advise(s.book.missed(err))
}

func (s source) entries(from, to model.Seq) ([]model.Entry, error) {
	var records []record
	err := s.read(func(im *image) error {
		log, _, err := im.bucket(bucketLog)
		if err == nil {
			records, err = im.stretch(log, from, to)
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	return decode(records)
}

// Same implements model.Log.
func (s source) Same(other model.Source) bool {
	o, ok := other.(source)
	return ok && s.book == o.book && s.file.sameFile(o.file)
}

// stretch reads the records from one seq to another, none left out, whatever follows.
func (im *image) stretch(log bucket, from, to model.Seq) ([]record, error) {
	out := make([]record, 0, to-from+1)
	c := im.pass(log)
	if _, err := c.seek(keyOf(from)); err != nil {
		return nil, err
	}
	for want := from; want <= to; want++ {
		e, ok := c.here()
		if !ok || e.sub || !bytes.Equal(e.key, keyOf(want)) {
			return nil, damaged("page %d: entry %d was expected", c.top().id, want)
		}
		out = append(out, record{want, e.key, e.value})
		if want == to {
			break
		}
		if _, err := c.move(1); err != nil {
			return nil, err
		}
	}
	return out, nil
}

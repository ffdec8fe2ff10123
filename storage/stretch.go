package storage

import (
	"bytes"

	"brine/wrasse/model"
)

// Entries implements model.Log. It takes memory for the stretch that is asked for, however long the log is. An
// operation that asks, as an act does that is being worked out, says itself how to get a damaged book back.
func (s source) Entries(from, to model.Seq) ([]model.Entry, error) {
	entries, err := s.entries(from, to)
	if err == nil {
		return entries, nil
	}
	if !s.book.mu.TryLock() {
		return nil, err
	}
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

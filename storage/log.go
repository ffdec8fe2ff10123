package storage

import (
	"bytes"
	"encoding/binary"
	"runtime"
	"sync"

	"brine/wrasse/model"
)

// holds tells whether an entry is in a log as it is known.
func (im *image) holds(log bucket, seq model.Seq, value []byte) (bool, error) {
	e, ok, err := im.find(log, keyOf(seq))
	return ok && bytes.Equal(e.value, value), err
}

// decodeAlone is how many records are decoded by one goroutine before a second one is
// worth its start: about a millisecond's work.
const decodeAlone = 512

// decode reads records, a long run of them on all processors: it is half the work of
// opening a book.
func decode(records []record) ([]model.Entry, error) {
	cpus := runtime.GOMAXPROCS(0)
	size := max(decodeAlone, (len(records)+cpus-1)/cpus)
	entries := make([]model.Entry, len(records))
	errs := make([]error, (len(records)+size-1)/size)
	var parts sync.WaitGroup
	for i := range errs {
		from := i * size
		to := min(from+size, len(records))
		parts.Go(func() { errs[i] = decodeInto(entries[from:to], records[from:to]) })
	}
	parts.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return entries, nil
}

func decodeInto(entries []model.Entry, records []record) (err error) {
	for i, r := range records {
		if entries[i], err = r.entry(); err != nil {
			return err
		}
	}
	return nil
}

// records reads the records of a log from one seq to the last, none left out.
func (im *image) records(log bucket, from, last model.Seq) ([]record, error) {
	if last < from {
		return nil, im.endsAt(log, last)
	}
	out := make([]record, 0, min(last-from+1, 1<<16))
	err := im.eachRecord(log, from, last, func(r record) error {
		out = append(out, r)
		return nil
	})
	return out, err
}

// eachRecord calls each for every record of a log from one seq to the last, and makes
// sure that none is left out and none follows.
func (im *image) eachRecord(log bucket, from, last model.Seq, each func(record) error) error {
	c := im.pass(log)
	if _, err := c.seek(keyOf(from)); err != nil {
		return err
	}
	want := from
	for e, ok := c.here(); ok; e, ok = c.here() {
		if e.sub || want > last || len(e.key) != 8 || binary.BigEndian.Uint64(e.key) != uint64(want) {
			return damaged("page %d: entry %d was expected, up to %d", c.top().id, want, last)
		}
		if err := each(record{want, e.key, e.value}); err != nil {
			return err
		}
		want++
		if _, err := c.move(1); err != nil {
			return err
		}
	}
	if got := want - 1; got != last {
		return damaged("its log ends with entry %d instead of %d", got, last)
	}
	return nil
}

// endsAt makes sure that the log ends with the entry it must come to.
func (im *image) endsAt(log bucket, last model.Seq) error {
	c := im.cursor(log)
	found, err := c.seek(keyOf(last + 1))
	if err != nil {
		return err
	}
	_, more := c.here()
	if !found && !more {
		ok, err := c.move(-1)
		if err != nil {
			return err
		}
		if e, _ := c.here(); ok && bytes.Equal(e.key, keyOf(last)) || !ok && last == 0 {
			return nil
		}
	}
	return damaged("its log does not end with entry %d", last)
}

package storage

import (
	"errors"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
)

// BenchmarkRebuild folds a long book from its log anew, with every record it is kept folded in, and in turns with it
// reads the same log with bbolt and decodes each entry, without folding it (floor). The medians and the ratio of
// rebuild to floor are what counts.
func BenchmarkRebuild(b *testing.B) {
	n := *bookEntries
	if testing.Short() {
		n = 20_000
	}
	path := longBook(b, n)
	var floors, rebuilds []time.Duration
	timed := func(into *[]time.Duration, fn func() error) {
		start := time.Now()
		if err := fn(); err != nil {
			b.Fatal(err)
		}
		*into = append(*into, time.Since(start))
	}
	for b.Loop() {
		timed(&floors, func() error { return scanAndDecode(path) })
		timed(&rebuilds, func() error {
			book := At(path, time.Now)
			defer book.Close()
			full, err := book.Full()
			if err != nil {
				return err
			}
			_, _, err = full.Changes()
			return err
		})
	}
	low := median(floors)
	b.ReportMetric(low.Seconds()*1e3, "floor-ms")
	b.ReportMetric(median(rebuilds).Seconds()*1e3, "rebuild-ms")
	b.ReportMetric(float64(median(rebuilds))/float64(low), "rebuild/floor")
}

// scanAndDecode reads every entry of a log in order and lets go of it.
func scanAndDecode(path string) error {
	db, err := bolt.Open(path, 0, &bolt.Options{Timeout: lockWait, ReadOnly: true})
	if err != nil {
		return err
	}
	err = db.View(func(tx *bolt.Tx) error {
		return tx.Bucket(bucketLog).ForEach(func(k, v []byte) error {
			payload, ok := unseal(k, v)
			if !ok {
				return errors.New("a record whose seal does not hold")
			}
			_, err := model.DecodeTrusted(payload)
			return err
		})
	})
	return errors.Join(err, db.Close())
}

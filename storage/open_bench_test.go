package storage

import (
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/schedule"
)

// BenchmarkOpen opens a long book by a process that does not know it (open), and makes
// the round of it as well (round). In turns with both, the same file is opened by bbolt
// alone, and the very values looked up that opening reads (floor).
func BenchmarkOpen(b *testing.B) {
	n := *bookEntries
	if testing.Short() {
		n = 20_000
	}
	path := copied(b, longBook(b, n))
	known := load(b, At(path, time.Now))
	today := must(known.Written(known.Last())).On
	var floors, opens, rounds []time.Duration
	size := 0
	for b.Loop() {
		start := time.Now()
		db, err := bolt.Open(path, 0, &bolt.Options{ReadOnly: true, Timeout: lockWait, NoStatistics: true})
		noError(b, err)
		err = db.View(func(tx *bolt.Tx) error {
			size = len(tx.Bucket(bucketMeta).Get(keyState))
			size += len(append([]byte(nil), tx.Bucket(bucketSnapshot).Get(keyBook)...))
			return nil
		})
		if err == nil {
			err = db.Close()
		}
		noError(b, err)
		floors = append(floors, time.Since(start))

		start = time.Now()
		book := load(b, At(path, time.Now))
		opens = append(opens, time.Since(start))
		schedule.Make(book, today)
		rounds = append(rounds, time.Since(start))
	}
	low := median(floors)
	b.ReportMetric(float64(size)/1024, "KiB")
	b.ReportMetric(float64(low.Microseconds()), "floor-µs")
	b.ReportMetric(float64(median(opens).Microseconds()), "open-µs")
	b.ReportMetric(float64(median(rounds).Microseconds()), "round-µs")
	b.ReportMetric(float64(median(opens))/float64(low), "open/floor")
	b.ReportMetric(float64(median(rounds))/float64(low), "round/floor")
}

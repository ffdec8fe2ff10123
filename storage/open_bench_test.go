package storage

import (
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
)

// noting remembers the keys that were read.
type noting struct {
	model.Source
	keys []string
}

func (n *noting) Get(key string) ([]byte, error) {
	n.keys = append(n.keys, key)
	return n.Source.Get(key)
}

func (n *noting) Scan(from, to string, each func(string, []byte) error) error {
	return n.Source.Scan(from, to, func(key string, value []byte) error {
		n.keys = append(n.keys, key)
		return each(key, value)
	})
}

// BenchmarkOpen opens a long book by a process that does not know it (open), and makes
// the round of it as well (round). In turns with both, the same file is opened by bbolt
// alone, and the very values looked up that opening reads (floor).
func BenchmarkOpen(b *testing.B) {
	n := *bookEntries
	if testing.Short() {
		n = 20_000
	}
	path := copied(b, longBook(b, n))
	first := At(path, time.Now)
	defer first.Close()
	known := load(b, first)
	today := must(known.Written(known.Last())).On
	m := schedule.NewMaker()
	m.Make(known, today)
	if err := first.Keep(m.Learnt()); err != nil {
		b.Fatal(err)
	}
	read := &noting{Source: source{first, first.known.file}}
	if _, err := model.Open(read, known.Last(), read, model.Hold{}); err != nil {
		b.Fatal(err)
	}
	var floors, opens, rounds []time.Duration
	size := 0
	for b.Loop() {
		start := time.Now()
		db, err := bolt.Open(path, 0, &bolt.Options{ReadOnly: true, Timeout: lockWait, NoStatistics: true})
		if err != nil {
			b.Fatal(err)
		}
		size = 0
		err = db.View(func(tx *bolt.Tx) error {
			now, chunks := tx.Bucket(bucketNow), tx.Bucket(bucketChunks)
			for _, key := range read.keys {
				table := now
				if t := tableOf(key); &t[0] == &bucketChunks[0] {
					table = chunks
				}
				size += len(table.Get([]byte(key)))
			}
			return nil
		})
		if err == nil {
			err = db.Close()
		}
		if err != nil {
			b.Fatal(err)
		}
		floors = append(floors, time.Since(start))

		start = time.Now()
		book := At(path, time.Now)
		brief := load(b, book)
		opens = append(opens, time.Since(start))
		learnt, err := book.Learnt()
		if err != nil {
			b.Fatal(err)
		}
		schedule.NewMakerWith(learnt).Make(brief, today)
		rounds = append(rounds, time.Since(start))
		book.Close()
	}
	low := median(floors)
	b.ReportMetric(float64(size)/1024, "KiB")
	b.ReportMetric(float64(low.Microseconds()), "floor-µs")
	b.ReportMetric(float64(median(opens).Microseconds()), "open-µs")
	b.ReportMetric(float64(median(rounds).Microseconds()), "round-µs")
	b.ReportMetric(float64(median(opens))/float64(low), "open/floor")
	b.ReportMetric(float64(median(rounds))/float64(low), "round/floor")
}

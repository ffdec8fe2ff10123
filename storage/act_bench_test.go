package storage

import (
	"cmp"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/longlog"
)

var (
	bookEntries = flag.Int("entries", 1_000_000, "entries of the book that BenchmarkAct writes to; with -short 20000")
	bookFile    = flag.String("book", "", "a book for BenchmarkAct to write to a copy of, in place of one it makes")
)

// longBook is the file of a household's book of many entries of twenty years.
func longBook(t testing.TB, n int) string {
	t.Helper()
	if *bookFile != "" {
		return *bookFile
	}
	path := filepath.Join(t.TempDir(), "book.db")
	b := At(path, morning(2026, 3, 31).now)
	defer b.Close()
	if _, err := b.Create(slices.Collect(longlog.Household(1, n, on))); err != nil {
		t.Fatal(err)
	}
	return path
}

func bareOptions() *bolt.Options {
	return &bolt.Options{Timeout: lockWait, FreelistType: bolt.FreelistMapType, NoStatistics: true}
}

// BenchmarkAct ticks one chore after another in a long book, each tick worked out on the
// book and written with all that it changes of what is kept folded, and in turns with it
// what it is to be measured against: one value into a bbolt file of the same size that is
// open already (floor), and the same with opening and closing the file (open). Each turn
// is a pass of the benchmark; the medians and the ratio of act to floor are what counts.
func BenchmarkAct(b *testing.B) {
	n := *bookEntries
	if testing.Short() {
		n = 20_000
	}
	raw := longBook(b, n)
	// Three copies: bbolt leaves holes at the end of a file that grew, and filling one
	// costs more than writing over what is there.
	path, other := copied(b, raw), copied(b, raw)
	floor, err := bolt.Open(copied(b, raw), 0, bareOptions())
	noError(b, err)
	defer floor.Close()
	book := At(path, morning(2026, 3, 31).now)
	defer book.Close()
	book.backedUp = on
	seq := load(b, book).Last()
	day := must(load(b, book).Written(seq)).On + 1 - model.Date(int(seq)/40)
	value := make([]byte, 170)
	var floors, opens, acts []time.Duration
	timed := func(into *[]time.Duration, fn func() error) {
		start := time.Now()
		noError(b, fn())
		*into = append(*into, time.Since(start))
	}
	for b.Loop() {
		seq++
		one := func(tx *bolt.Tx) error { return tx.Bucket(bucketLog).Put(keyOf(seq), value) }
		timed(&floors, func() error { return floor.Update(one) })
		timed(&opens, func() error {
			db, err := bolt.Open(other, 0, bareOptions())
			if err != nil {
				return err
			}
			return errors.Join(db.Update(one), db.Close())
		})
		timed(&acts, func() error {
			_, err := book.Write(func(m *ledger.Book) ([]model.Entry, error) {
				chores := m.Chores()
				c := chores[int(seq)%len(chores)]
				tick := model.Tick{Chore: c.ID, Note: "rinsed under the tap"}
				if c.Work == model.WorkTest {
					tick.Found = model.FoundPassed
				}
				return []model.Entry{model.NewEntry(day+model.Date(int(seq)/len(chores)), tick)}, nil
			})
			return err
		})
	}
	low := median(floors)
	b.ReportMetric(float64(low.Microseconds()), "floor-µs")
	b.ReportMetric(float64(median(opens).Microseconds()), "open-µs")
	b.ReportMetric(float64(median(acts).Microseconds()), "act-µs")
	b.ReportMetric(float64(median(acts))/float64(low), "act/floor")
}

func copied(t testing.TB, path string) string {
	t.Helper()
	to := filepath.Join(t.TempDir(), "copy.db")
	noError(t, os.WriteFile(to, nil, 0o600))
	noError(t, copyFile(path, to))
	return to
}

func median[T cmp.Ordered](of []T) T {
	slices.Sort(of)
	return of[len(of)/2]
}

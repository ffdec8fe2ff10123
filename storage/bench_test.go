package storage

import (
	"errors"
	"fmt"
	"testing"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
	"brine/wrasse/model/starter"
)

// plainLog is a log of n entries: a small set-up and then ticks, amounts and readings.
func plainLog(n int) []model.Entry {
	out := setUp()
	for i := len(out); i < n; i++ {
		day, v := model.NewDate(2020, 1, 1).AddDays(i/4), float64(i%40)
		e := model.NewEntry(day, model.Reading{Gauge: "tds", Value: v})
		switch i % 4 {
		case 0:
			e = model.NewEntry(day, model.Tick{Chore: "clean-pump", Found: model.FoundLight, Note: fmt.Sprintf("turn %d, rinsed under the tap", i)})
		case 1:
			e = model.NewEntry(day, model.Usage{Counter: "litres", Amount: &v})
		}
		e.At = day.String() + "T07:30:15+02:00"
		out = append(out, e)
	}
	return out
}

// made is the file of a log.
func made(t testing.TB, log []model.Entry) *Book {
	t.Helper()
	b := newBook(t)
	if _, err := b.Create(log); err != nil {
		t.Fatal(err)
	}
	return b
}

// BenchmarkFoldDemo reads and folds the log of the demo book, and BenchmarkBareScan the same values with
// bbolt, which neither checks nor decodes them: the floor of the former.
func BenchmarkFoldDemo(b *testing.B) {
	book := made(b, starter.Demo(on))
	for b.Loop() {
		full(b, At(book.Path(), book.now))
	}
}

func BenchmarkBareScan(b *testing.B) {
	book := made(b, starter.Demo(on))
	for b.Loop() {
		db, err := bolt.Open(book.Path(), 0o600, &bolt.Options{Timeout: lockWait, ReadOnly: true})
		noError(b, err)
		size := 0
		err = db.View(func(tx *bolt.Tx) error {
			return tx.Bucket(bucketLog).ForEach(func(_, v []byte) error {
				size += len(v)
				return nil
			})
		})
		if err := errors.Join(err, db.Close()); err != nil || size == 0 {
			b.Fatalf("%d bytes: %v", size, err)
		}
	}
}

// BenchmarkLoadNothingNew looks whether others wrote.
func BenchmarkLoadNothingNew(b *testing.B) {
	book := made(b, plainLog(3000))
	for b.Loop() {
		load(b, book)
	}
}

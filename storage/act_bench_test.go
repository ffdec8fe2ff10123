package storage

import (
	"cmp"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
)

var bookEntries = flag.Int("entries", 1_000_000, "entries of the book that BenchmarkAct writes to; with -short 20000")

// derived is how many records of the book folded stand in the file; an act changes three.
const derived = 2000

func derivedKey(i int) string { return fmt.Sprintf("chore/%04d", i) }

// rawFile writes the file of a log of ticks, straight with bbolt: nothing is folded.
func rawFile(t testing.TB, n int) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "book.db")
	db, err := bolt.Open(path, 0o600, bareOptions())
	if err != nil {
		t.Fatal(err)
	}
	const batch = 100_000
	for from := 0; from < n; from += batch {
		var records []record
		for i := from; i < min(from+batch, n); i++ {
			e := model.NewEntry(on, model.Tick{Chore: "clean-pump", Found: model.FoundLight, Note: fmt.Sprintf("turn %d, rinsed under the tap", i)})
			e.Seq, e.At = model.Seq(i+1), "2026-03-31T07:30:15+02:00"
			payload, err := model.EncodeEntry(e)
			if err != nil {
				t.Fatal(err)
			}
			key := keyOf(e.Seq)
			records = append(records, record{e.Seq, key, seal(key, payload)})
		}
		if err := db.Update(func(tx *bolt.Tx) error { return put(tx, records) }); err != nil {
			t.Fatal(err)
		}
	}
	err = db.Update(func(tx *bolt.Tx) error { return putChanges(tx, bucketNow, derivedOf(0, derived)) })
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}

// derivedOf are derived records from one number to below another.
func derivedOf(from, to int) []change {
	var out []change
	for i := from; i < to; i++ {
		out = append(out, sealedChange(derivedKey(i), fmt.Appendf(nil, "%0100d", i)))
	}
	return out
}

func bareOptions() *bolt.Options {
	return &bolt.Options{Timeout: lockWait, FreelistType: bolt.FreelistMapType, NoStatistics: true}
}

// BenchmarkAct writes one tick to a long book, with three derived records in the same
// transaction, and in turns with it what it is to be measured against: one value into a
// bbolt file of the same size that is open already (floor), and the same with opening
// and closing the file (open). Each turn is a pass of the benchmark; the medians and
// the ratio of act to floor are what counts. Folding is no part of it: a book in memory
// takes an entry in a time that has nothing to do with the file.
func BenchmarkAct(b *testing.B) {
	n := *bookEntries
	if testing.Short() {
		n = 20_000
	}
	raw := rawFile(b, n)
	// Three copies: bbolt leaves holes at the end of a file that grew, and filling one
	// costs more than writing over what is there.
	path, other := copied(b, raw), copied(b, raw)
	floor, err := bolt.Open(copied(b, raw), 0, bareOptions())
	if err != nil {
		b.Fatal(err)
	}
	defer floor.Close()
	book := At(path, morning(2026, 3, 31).now)
	defer book.Close()
	book.backedUp = on
	book.known = known(b, book)
	value := make([]byte, 170)
	var floors, opens, acts []time.Duration
	timed := func(into *[]time.Duration, fn func() error) {
		start := time.Now()
		if err := fn(); err != nil {
			b.Fatal(err)
		}
		*into = append(*into, time.Since(start))
	}
	seq := model.Seq(n)
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
		from := int(seq) * 37 % (derived - 2)
		changes := derivedOf(from, from+3)
		timed(&acts, func() error { return act(book, seq, changes) })
	}
	low := median(floors)
	b.ReportMetric(float64(low.Microseconds()), "floor-µs")
	b.ReportMetric(float64(median(opens).Microseconds()), "open-µs")
	b.ReportMetric(float64(median(acts).Microseconds()), "act-µs")
	b.ReportMetric(float64(median(acts))/float64(low), "act/floor")
}

// act is Book.Write without the folding.
func act(b *Book, seq model.Seq, changes []change) error {
	_, release := b.takeTurn()
	defer release()
	if !b.current() {
		return errMoved
	}
	tick := model.NewEntry(on, model.Tick{Chore: "clean-pump", Found: model.FoundLight, Note: "rinsed under the tap"})
	records, _, err := b.stamped([]model.Entry{tick}, seq-1)
	if err != nil {
		return err
	}
	if err := b.backUpToday(); err != nil {
		return err
	}
	if err := b.append(new(model.Book), records, changes); err != nil {
		return err
	}
	b.known.last = seq // of a book that is not folded here
	return nil
}

// known is what a Book that has read all of a file remembers of it, but for the book.
func known(t testing.TB, b *Book) *snapshot {
	t.Helper()
	s := &snapshot{book: new(model.Book)}
	err := b.read(func(im *image) error {
		st, err := im.state()
		if err != nil {
			return err
		}
		log, _, err := im.bucket(bucketLog)
		if err != nil {
			return err
		}
		tail, err := im.records(log, st.Count, st.Count)
		if err != nil {
			return err
		}
		s.last, s.tail = st.Count, slices.Clone(tail[0].value)
		s.file, err = markOf(b.file(), im.txid)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func copied(t testing.TB, path string) string {
	t.Helper()
	to := filepath.Join(t.TempDir(), "copy.db")
	if err := os.WriteFile(to, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := copyFile(path, to); err != nil {
		t.Fatal(err)
	}
	return to
}

func median[T cmp.Ordered](of []T) T {
	slices.Sort(of)
	return of[len(of)/2]
}

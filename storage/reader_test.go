package storage

import (
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"
	"pgregory.net/rapid"
)

// withRecords is a book with these derived records, as text by key, in place of its own.
func withRecords(t testing.TB, records map[string]string) *Book {
	t.Helper()
	b := newBook(t)
	write(t, b, setUp()...)
	err := b.update(func(*image) error { return nil }, func(tx *bolt.Tx) error { return tx.DeleteBucket(bucketNow) })
	if err != nil {
		t.Fatal(err)
	}
	if len(records) > 0 {
		putRecords(t, b, records)
	}
	return b
}

func putRecords(t testing.TB, b *Book, records map[string]string) {
	t.Helper()
	err := b.update(func(*image) error { return nil }, func(tx *bolt.Tx) error {
		var changes []change
		for key, value := range records {
			changes = append(changes, sealedChange(key, []byte(value)))
		}
		return putChanges(tx, bucketNow, changes)
	})
	if err != nil {
		t.Fatal(err)
	}
}

// reading runs fn with a reader of the derived records.
func reading(b *Book, fn func(*reader) error) error {
	return b.read(func(im *image) error {
		r, err := im.reader(bucketNow)
		if err != nil {
			return err
		}
		return fn(r)
	})
}

// manyRecords fill leaves under two levels of branches when there are thousands; some
// values run over several pages.
func manyRecords(n int) map[string]string {
	out := map[string]string{}
	for i := range n {
		value := fmt.Sprintf("value %d %0*d", i, i*7%300, i)
		if i%97 == 0 {
			value = fmt.Sprintf("%09000d", i)
		}
		out[fmt.Sprintf("%s/%05d", []string{"chore", "gauge", "spare"}[i%3], i*5)] = value
	}
	return out
}

// A reader finds what a map holds, and nothing else, whatever was put and taken away.
func TestReaderAgainstAMap(t *testing.T) {
	keys := rapid.StringMatching(`[a-d]{1,4}(/[0-9]{1,3})?`)
	rapid.Check(t, func(rt *rapid.T) {
		want := map[string]string{}
		b := newBook(t)
		write(t, b, setUp()...)
		for range rapid.IntRange(1, 4).Draw(rt, "transactions") {
			changes := map[string][]byte{}
			for range rapid.IntRange(1, 120).Draw(rt, "changes") {
				key := keys.Draw(rt, "key")
				if rapid.IntRange(0, 3).Draw(rt, "away") == 0 {
					changes[key] = nil
					delete(want, key)
					continue
				}
				value := fmt.Sprintf("%0*d", rapid.IntRange(1, 700).Draw(rt, "length"), len(want))
				changes[key], want[key] = []byte(value), value
			}
			var list []change
			for key, value := range changes {
				list = append(list, sealedChange(key, value))
			}
			err := b.update(func(im *image) error { return im.ready(bucketNow, list) }, func(tx *bolt.Tx) error {
				return putChanges(tx, bucketNow, list)
			})
			if err != nil {
				rt.Fatal(err)
			}
		}
		findings, err := b.Verify() // that they are none of a book is no matter here
		for _, f := range findings {
			if !strings.HasPrefix(f, "its record ") && !strings.HasPrefix(f, "and so do ") {
				rt.Fatal(f)
			}
		}
		if err != nil {
			rt.Fatal(err)
		}
		from, to := keys.Draw(rt, "from"), keys.Draw(rt, "to")
		asked := []string{"", "a", "zz", from, to}
		err = reading(b, func(r *reader) error {
			for _, key := range slices.Concat(asked, slices.Collect(maps.Keys(want))) {
				got, err := r.Get(key)
				if value, there := want[key]; err != nil || string(got) != value || (got != nil) != there {
					rt.Fatalf("%q: got %q, %v; want %q", key, got, err, value)
				}
			}
			var expected, got []string
			for _, key := range slices.Sorted(maps.Keys(want)) {
				if key >= from && key < to {
					expected = append(expected, key+" "+want[key])
				}
			}
			err := r.Scan(from, to, func(key string, value []byte) error {
				got = append(got, key+" "+string(value))
				return nil
			})
			if !slices.Equal(got, expected) {
				rt.Fatalf("from %q to %q: got %q, want %q", from, to, got, expected)
			}
			return err
		})
		if err != nil {
			rt.Fatal(err)
		}
	})
}

func TestReaderOfAMissingTable(t *testing.T) {
	b := withRecords(t, nil)
	err := reading(b, func(r *reader) error {
		if got, err := r.Get("chore"); got != nil || err != nil {
			t.Errorf("got %q, %v", got, err)
		}
		return r.Scan("", "z", func(key string, _ []byte) error {
			t.Errorf("found %q", key)
			return nil
		})
	})
	if err != nil {
		t.Error(err)
	}
}

// What a reader gives stays as it is when the file is read again, and written.
func TestValuesOfAReaderMayBeKept(t *testing.T) {
	for _, n := range []int{3, 400} { // kept inside their parent's page, and not
		records := manyRecords(n)
		b := withRecords(t, records)
		kept := map[string][]byte{}
		err := reading(b, func(r *reader) error {
			return r.Scan("", "z", func(key string, value []byte) error {
				kept[key] = value
				return nil
			})
		})
		if err != nil || len(kept) != n {
			t.Fatal(len(kept), err)
		}
		load(t, b)
		write(t, b, longNote(), longNote())
		for key, value := range records {
			if string(kept[key]) != value {
				t.Fatalf("of %d: %q became %.60q", n, key, kept[key])
			}
		}
	}
}

func TestScanEndsWithTheErrorOfItsCaller(t *testing.T) {
	b := withRecords(t, manyRecords(40))
	enough := errors.New("enough")
	calls := 0
	err := reading(b, func(r *reader) error {
		return r.Scan("a", "z", func(string, []byte) error {
			calls++
			return enough
		})
	})
	if err != enough || calls != 1 {
		t.Errorf("%d calls, then %v", calls, err)
	}
}

// A flipped byte anywhere in the pages of the derived records is an ErrDamaged or does
// no harm: a reader never gives another value, and never says that a record that is
// there is not. Verify finds whatever a reader does.
func TestFlippedBytesOfDerivedRecords(t *testing.T) {
	records := manyRecords(4000)
	b := withRecords(t, records)
	inUse := pagesOf(t, b, bucketNow)
	original, err := os.ReadFile(b.Path())
	if err != nil {
		t.Fatal(err)
	}
	keys := slices.Sorted(maps.Keys(records))
	random := rand.New(rand.NewPCG(3, 4))
	refused, harmless := 0, 0
	n := 150
	if *flips > 0 {
		n = *flips
	}
	for i := range n {
		page := inUse[random.IntN(len(inUse))]
		offset := random.IntN(os.Getpagesize())
		if i%2 == 0 {
			offset = random.IntN(400) // the table of elements, and the keys of a branch
		}
		at, bit := int(page)*os.Getpagesize()+offset, byte(1+random.IntN(255))
		content := slices.Clone(original)
		content[at] ^= bit
		b := copyOf(t, content)
		readAll := func(r *reader) error {
			for _, key := range keys {
				if got, err := r.Get(key); err != nil {
					return err
				} else if string(got) != records[key] {
					t.Fatalf("byte %d ^ %#x: %q is %q", at, bit, key, got)
				}
			}
			return nil
		}
		scanAll := func(r *reader) error {
			i := 0
			err := r.Scan("", "z", func(key string, value []byte) error {
				if i >= len(keys) || key != keys[i] || string(value) != records[key] {
					t.Fatalf("byte %d ^ %#x: scan gives %q at %d", at, bit, key, i)
				}
				i++
				return nil
			})
			if err == nil && i != len(keys) {
				t.Fatalf("byte %d ^ %#x: scan gives %d of %d", at, bit, i, len(keys))
			}
			return err
		}
		damage := false
		for _, read := range []func(*reader) error{readAll, scanAll} {
			if err := reading(b, read); err != nil {
				if !errors.Is(err, ErrDamaged) {
					t.Fatalf("byte %d ^ %#x: %v", at, bit, err)
				}
				damage = true
			}
		}
		if !damage {
			harmless++
			continue
		}
		refused++
		if findings, err := b.Verify(); err == nil && len(findings) == 0 {
			t.Fatalf("byte %d ^ %#x: a reader finds damage, verify finds nothing", at, bit)
		}
		b.Close()
		os.Remove(b.Path())
	}
	t.Logf("%d flips: %d refused, %d harmless", n, refused, harmless)
	if refused == 0 || harmless == 0 {
		t.Error("the flips hit one kind of byte only")
	}
}

// pagesOf are the pages of a table.
func pagesOf(t testing.TB, b *Book, table []byte) (out []pageID) {
	t.Helper()
	err := b.read(func(im *image) error {
		tree, _, err := im.bucket(table)
		if err != nil {
			return err
		}
		w := im.walker()
		err = w.bucket(tree)
		for id, seen := range w.seen {
			if seen {
				out = append(out, pageID(id))
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// BenchmarkReader gets and scans 2000 records, one page read once, and does the same
// with bbolt, which opens the file for it, maps it and checks nothing.
func BenchmarkReader(b *testing.B) {
	records := map[string]string{}
	for i := range 2000 {
		records[fmt.Sprintf("chore/%04d", i)] = fmt.Sprintf("%0100d", i)
	}
	book := withRecords(b, records)
	keys := slices.Sorted(maps.Keys(records))
	ours := func(fn func(*reader) error) func(*testing.B) {
		return func(b *testing.B) {
			for b.Loop() {
				if err := reading(book, fn); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
	theirs := func(fn func(*bolt.Bucket) error) func(*testing.B) {
		return func(b *testing.B) {
			for b.Loop() {
				options := bareOptions()
				options.ReadOnly = true
				db, err := bolt.Open(book.Path(), 0, options)
				if err != nil {
					b.Fatal(err)
				}
				err = db.View(func(tx *bolt.Tx) error { return fn(tx.Bucket(bucketNow)) })
				if err := errors.Join(err, db.Close()); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
	b.Run("get", ours(func(r *reader) error {
		for _, key := range keys {
			if v, err := r.Get(key); err != nil || v == nil {
				return fmt.Errorf("%s: %w", key, err)
			}
		}
		return nil
	}))
	b.Run("get/bbolt", theirs(func(table *bolt.Bucket) error {
		for _, key := range keys {
			if table.Get([]byte(key)) == nil {
				return errors.New(key)
			}
		}
		return nil
	}))
	b.Run("scan", ours(func(r *reader) error {
		return r.Scan("chore", "z", func(string, []byte) error { return nil })
	}))
	b.Run("scan/bbolt", theirs(func(table *bolt.Bucket) error {
		c := table.Cursor()
		for k, _ := c.First(); k != nil; k, _ = c.Next() {
			_ = string(k)
		}
		return nil
	}))
}

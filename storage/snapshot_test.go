package storage

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// packedAt is the entry that the snapshot in a file is of.
func packedAt(t *testing.T, b *Book) (seq model.Seq) {
	t.Helper()
	err := b.view(func(tx *bolt.Tx, _ mark) (err error) {
		seq, _, _, err = snapshotIn(tx, tx.Bucket(bucketLog))
		return err
	})
	noError(t, err)
	return seq
}

// A snapshot is written every so many entries, and when a definition reads otherwise; whatever it is of, the book that is
// found again is the one that was written.
func TestWhenSnapshotsAreWritten(t *testing.T) {
	b := made(t, plainLog(100))
	if got := packedAt(t, b); got != 100 {
		t.Fatalf("that of a new book is of entry %d", got)
	}
	for range 4 {
		for range 127 {
			write(t, b, note("one"))
		}
		if got := packedAt(t, b); got != 100 {
			t.Fatalf("after %d entries it is of entry %d", load(t, b).Last(), got)
		}
		if held(t, load(t, again(t, b))) != held(t, load(t, b)) {
			t.Fatal("the book found again is not the one that was written")
		}
	}
	var act []model.Entry
	for range 10 {
		act = append(act, note("of many"))
	}
	if w := write(t, b, act...); packedAt(t, b) != w.Book.Last() {
		t.Fatalf("after entry %d the snapshot is of entry %d", w.Book.Last(), packedAt(t, b))
	}
	with := must(model.With(map[string]any{"reach": 3}))
	w := write(t, b, model.NewEntry(on, model.Amend{Entry: 3, With: with}))
	if c, _ := w.Book.Component("pump"); c.Reach != 3 || packedAt(t, b) != w.Book.Last() {
		t.Errorf("a component that is amended has reach %d, and the snapshot is of entry %d", c.Reach, packedAt(t, b))
	}
	if held(t, load(t, again(t, b))) != held(t, w.Book) {
		t.Error("the book found again is not the one that was amended")
	}
	whole(t, b)
}

// A page of the file that is an older version of itself, as after a write that never reached the disk, is found when it is
// read, or says nothing else than the file did; no act makes an untruth of it, and verify finds it.
func TestAPageThatFellBack(t *testing.T) {
	tried, found, refused := 0, 0, 0
	for seed := uint64(3); seed == 3 || tried < *pages; seed++ {
		n, f, r := putBack(t, seed, *pages-tried)
		tried, found, refused = tried+n, found+f, refused+r
	}
	t.Logf("%d pages put back: %d found, %d of them refused at opening", tried, found, refused)
	if found < 20 || refused == 0 {
		t.Error("too few pages differ")
	}
}

// putBack makes a book of random acts, and puts each page of it back to what it was before: up to most pages, with -pages
// to what they were before any of the last 30 acts.
func putBack(t *testing.T, seed uint64, most int) (tried, found, refused int) {
	b := made(t, plainLog(900))
	random := rand.New(rand.NewPCG(seed, 4))
	var states [][]byte
	keep := func() {
		raw := must(os.ReadFile(b.Path()))
		states = append(states, raw)
	}
	keep()
	acts, each := 40, 8
	if *pages > 0 {
		acts, each = 30, 1
	}
	for i := range acts {
		e := model.NewEntry(on.AddDays(-random.IntN(600)), model.Tick{Chore: "clean-pump", Found: model.FoundLight})
		if i%5 == 4 {
			e = model.NewEntry(on, model.Amend{Entry: model.Seq(10 + random.IntN(800)), Strike: true})
		}
		write(t, b, e)
		if i%each == each-1 {
			keep()
		}
	}
	keep()
	now := states[len(states)-1]
	truth := load(t, copyOf(t, now))
	want, rows := held(t, truth), newest(t, truth)
	sound := copyOf(t, now)
	onTop := held(t, write(t, sound, note("on top")).Book)
	size := os.Getpagesize()
	for _, then := range states[:len(states)-1] {
		for at := 2 * size; at+size <= min(len(now), len(then)); at += size {
			if bytes.Equal(now[at:at+size], then[at:at+size]) || *pages > 0 && tried == most {
				continue
			}
			tried++
			raw := slices.Clone(now)
			copy(raw[at:], then[at:at+size])
			b := copyOf(t, raw)
			findings, err := b.Verify()
			noError(t, err)
			if len(findings) > 0 {
				found++
			}
			book, err := b.Load()
			switch {
			case errors.Is(err, ErrDamaged):
				refused++
				if len(findings) == 0 {
					t.Errorf("page %d: refused, but verify found nothing: %v", at/size, err)
				}
				b.Close()
				continue
			case err != nil:
				t.Fatal(err)
			case held(t, book) != want:
				t.Errorf("page %d: what is shown is not what was written; verify: %q", at/size, findings)
			}
			got, err := book.Newest(model.EndOf(model.LastDate), 2000)
			if err == nil && !reflect.DeepEqual(got, rows) || err != nil && (!errors.Is(err, ErrDamaged) || len(findings) == 0) {
				t.Errorf("page %d: the order in time is another: %v; verify: %q", at/size, err, findings)
			}
			_, err = try(b, note("on top"))
			if err != nil && !errors.Is(err, ErrDamaged) {
				t.Errorf("page %d: %v", at/size, err)
			}
			if after, err := again(t, b).Load(); err == nil && held(t, after) != want && held(t, after) != onTop {
				t.Errorf("page %d: an act made an untruth of it", at/size)
			}
			b.Close()
		}
	}
	return tried, found, refused
}

// Flags that change on two entries change the sum of the table of dates.
func TestFlagsChangeTheSum(t *testing.T) {
	struck := func(seq model.Seq) uint64 {
		k := dateKey(model.Mark{On: on, Seq: seq})
		return dateSum(k, []byte{flagStruck}) - dateSum(k, []byte{0})
	}
	for a := model.Seq(1); a < 200; a++ {
		for b := model.Seq(1); b < a; b++ {
			if struck(a)+struck(b) == 0 || struck(a) == struck(b) {
				t.Fatalf("entries %d and %d struck, or one struck and the other not, leave the sum as it is", a, b)
			}
		}
	}
}

// newest are all rows of a book, the newest first.
func newest(t *testing.T, b *ledger.Book) []ledger.Row {
	t.Helper()
	rows, err := b.Newest(model.EndOf(model.LastDate), int(b.Last()))
	noError(t, err)
	return rows
}

// The rows of the table of dates are those of the log, a page after another from either end, however they came there.
func TestNewest(t *testing.T) {
	b := made(t, plainLog(200))
	random := rand.New(rand.NewPCG(5, 6))
	for range 60 {
		seq := model.Seq(1 + random.IntN(int(load(t, b).Last())))
		with := must(model.With(map[string]any{"on": on.AddDays(-random.IntN(3000)).String()}))
		for _, e := range []model.Entry{
			model.NewEntry(on.AddDays(-random.IntN(3000)), model.Note{Text: "late"}),
			model.NewEntry(0, model.Place{ID: "cellar", Name: "Cellar", Minutes: random.IntN(9)}),
			model.NewEntry(0, model.Amend{Entry: seq, Strike: true}),
			model.NewEntry(on, model.Amend{Entry: seq, With: with}),
		} {
			_, _ = try(b, e) // some are refused
		}
	}
	want := newest(t, full(t, b))
	if !slices.ContainsFunc(want, func(r ledger.Row) bool { return r.Struck }) || !slices.ContainsFunc(want, func(r ledger.Row) bool { return r.Amended }) {
		t.Fatal("nothing was struck, or amended")
	}
	for _, n := range []int{1, 7, 1000} {
		book, before := load(t, again(t, b)), model.EndOf(model.LastDate)
		var got []ledger.Row
		for {
			rows, err := book.Newest(before, n)
			noError(t, err)
			if len(rows) == 0 {
				break
			}
			got, before = append(got, rows...), rows[len(rows)-1].Mark
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%d at a time: %d rows, in another order or with others, instead of %d", n, len(got), len(want))
		}
		var back []ledger.Row
		for after := (model.Mark{}); ; {
			rows, err := book.Oldest(after, n)
			noError(t, err)
			if len(rows) == 0 {
				break
			}
			back, after = append(back, rows...), rows[len(rows)-1].Mark
		}
		if slices.Reverse(back); !reflect.DeepEqual(back, want) {
			t.Errorf("%d at a time, the oldest first: %d rows, in another order or with others, instead of %d", n, len(back), len(want))
		}
	}
	whole(t, b)
}

// Whoever forges what stands beside the log is found by verify, also where every seal holds, and the file can be made again.
func TestForgedBesideTheLog(t *testing.T) {
	another := func(t *testing.T) []byte {
		log := plainLog(300)
		log[9].On = log[9].On.AddDays(-1)
		data, err := must(ledger.Fold(numbered(log))).Pack()
		noError(t, err)
		return data
	}
	for name, forge := range map[string]func(*bolt.Tx, state) error{
		"the snapshot": func(tx *bolt.Tx, st state) error { return putSnapshot(tx, st, another(t)) },
		"a flag of the dates, and their sum": func(tx *bolt.Tx, st state) error {
			k, v := tx.Bucket(bucketDates).Cursor().First()
			st.Dates += dateSum(k, []byte{flagStruck}) - dateSum(k, v)
			return errors.Join(tx.Bucket(bucketDates).Put(bytes.Clone(k), []byte{flagStruck}), putJSON(tx.Bucket(bucketMeta), keyState, st))
		},
		"a place too many": func(tx *bolt.Tx, st state) error {
			k := dateKey(model.Mark{On: on, Seq: 299})
			st.Dates += dateSum(k, []byte{0})
			return errors.Join(tx.Bucket(bucketDates).Put(k, []byte{0}), putJSON(tx.Bucket(bucketMeta), keyState, st))
		},
	} {
		b := made(t, plainLog(300))
		want := held(t, load(t, b))
		_, err := b.update(nil, func(tx *bolt.Tx) error {
			st, err := stateIn(tx)
			if err != nil {
				return err
			}
			return forge(tx, st)
		})
		noError(t, err)
		if findings, err := again(t, b).Verify(); err != nil || len(findings) == 0 {
			t.Errorf("%s: %q, %v", name, findings, err)
		}
		if _, err := b.Rebuild(); err != nil {
			t.Fatal(err)
		}
		whole(t, b)
		if got := held(t, load(t, again(t, b))); got != want {
			t.Errorf("%s: made again it is another book", name)
		}
	}
}

func numbered(log []model.Entry) []model.Entry {
	for i := range log {
		log[i].Seq = model.Seq(i + 1)
	}
	return log
}

// A table of dates that was damaged is refused by what reads it, and all else goes on.
func TestDamagedDates(t *testing.T) {
	b := made(t, plainLog(300))
	_, err := b.update(nil, func(tx *bolt.Tx) error {
		k, _ := tx.Bucket(bucketDates).Cursor().First()
		return tx.Bucket(bucketDates).Put(bytes.Clone(k), []byte{flagStruck})
	})
	noError(t, err)
	b = again(t, b)
	if _, err := load(t, b).Newest(model.EndOf(on), 10); !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), "verify --rebuild") {
		t.Errorf("got %v", err)
	}
	write(t, b, note("goes on"))
}

package storage

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
)

// learnt is what a book has kept, as text.
func learnt(t testing.TB, b *Book) map[string]string {
	t.Helper()
	got, err := b.Learnt()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for key, value := range got {
		out[key] = string(value)
	}
	return out
}

func keep(t testing.TB, b *Book, values map[string][]byte) {
	t.Helper()
	if err := b.Keep(values); err != nil {
		t.Fatal(err)
	}
}

func TestLearntIsFoundAgain(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	if got := learnt(t, b); len(got) != 0 {
		t.Errorf("a new book has learnt %q", got)
	}
	keep(t, b, map[string][]byte{"clean-pump": []byte("a fit"), "gone": []byte("x"), "empty": {}})
	keep(t, b, map[string][]byte{"clean-pump": []byte("a better fit"), "gone": nil, "never": nil})
	want := map[string]string{"clean-pump": "a better fit", "empty": ""}
	if got := learnt(t, again(t, b)); !maps.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if w := write(t, b, note("goes on")); w.Act != 7 {
		t.Errorf("act %d", w.Act)
	}
	whole(t, b)
	if got := learnt(t, b); !maps.Equal(got, want) {
		t.Errorf("after an act: %q", got)
	}
}

func TestLearntOfManyChores(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	values, away := map[string][]byte{}, map[string][]byte{}
	for i := range 1500 {
		values[fmt.Sprintf("chore/%04d", i)] = fmt.Appendf(nil, "%0*d", 40+i%90, i)
		if i%3 > 0 {
			away[fmt.Sprintf("chore/%04d", i)] = nil
		}
	}
	keep(t, b, values)
	whole(t, b)
	keep(t, b, away)
	whole(t, b)
	got := learnt(t, b)
	if len(got) != 500 {
		t.Errorf("%d are left", len(got))
	}
	for key, value := range got {
		if value != string(values[key]) {
			t.Errorf("%s is %q", key, value)
		}
	}
}

// Keeping what is kept already writes nothing.
func TestKeepingTheSameWritesNothing(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	values := map[string][]byte{"clean-pump": []byte("a fit"), "none": nil}
	keep(t, b, values)
	before, err := os.ReadFile(b.Path())
	if err != nil {
		t.Fatal(err)
	}
	keep(t, b, values)
	if after, err := os.ReadFile(b.Path()); err != nil || !slices.Equal(before, after) {
		t.Errorf("the file was written (%v)", err)
	}
}

// Who keeps something is not told of it, but still of what others wrote before it.
func TestKeepIsNoNews(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	keep(t, b, map[string][]byte{"a": []byte("1")})
	if b.watch.changed(b.file()) {
		t.Error("what it kept itself is news to it")
	}
	write(t, again(t, b), note("of another"))
	keep(t, b, map[string][]byte{"a": []byte("2")})
	if !b.watch.changed(b.file()) {
		t.Error("the act of another is no news")
	}
}

func TestKeepWithoutABook(t *testing.T) {
	b := newBook(t)
	if err := b.Keep(map[string][]byte{"a": []byte("1")}); !errors.Is(err, ErrNoBook) {
		t.Errorf("got %v", err)
	}
	if _, err := b.Learnt(); !errors.Is(err, ErrNoBook) {
		t.Errorf("got %v", err)
	}
}

// A value whose seal does not hold is left out, is in nobody's way, and is found by
// Verify.
func TestLearntIsDamaged(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	keep(t, b, map[string][]byte{"good": []byte("1"), "bad": []byte("2")})
	err := b.update(func(*image) error { return nil }, func(tx *bolt.Tx) error {
		return tx.Bucket(bucketLearnt).Put([]byte("bad"), seal([]byte("other"), []byte("2")))
	})
	if err != nil {
		t.Fatal(err)
	}
	if got := learnt(t, b); !maps.Equal(got, map[string]string{"good": "1"}) {
		t.Errorf("got %q", got)
	}
	write(t, b, note("all the same"))
	findings, err := b.Verify()
	if err != nil || len(findings) != 1 || !strings.Contains(findings[0], `the checksum of "bad" in the table "learnt" does not hold`) {
		t.Errorf("verify: %q %v", findings, err)
	}
	keep(t, b, map[string][]byte{"bad": []byte("3")})
	whole(t, b)
}

// A page of the new tables on the list of free ones would be written over, and then the
// table's next change would free a page of the log.
func TestLivePageOfATableOnTheFreeList(t *testing.T) {
	b := withRecords(t, manyRecords(300))
	values := map[string][]byte{}
	for i := range 300 {
		values[fmt.Sprintf("chore/%04d", i)] = make([]byte, 100)
	}
	keep(t, b, values)
	write(t, b, note("frees pages"))
	original, err := os.ReadFile(b.Path())
	if err != nil {
		t.Fatal(err)
	}
	var list page
	if err := b.read(func(im *image) (err error) { _, list, err = im.freePages(); return err }); err != nil {
		t.Fatal(err)
	}
	for _, id := range slices.Concat(pagesOf(t, b, bucketNow), pagesOf(t, b, bucketChunks), pagesOf(t, b, bucketLearnt)) {
		forged := slices.Clone(original)
		at := int(list.id)*os.Getpagesize() + pageHeaderLen
		for i := range 8 {
			forged[at+i] = byte(id >> (8 * i))
		}
		b := copyOf(t, forged)
		_, err := b.Write(func(*model.Book) ([]model.Entry, error) { return []model.Entry{note("on top")}, nil })
		if !errors.Is(err, ErrDamaged) {
			t.Fatalf("page %d was free to be written over: %v", id, err)
		}
		b.Close()
	}
}

// The list of free pages is taken on trust only while it is as this process left it.
func TestFreeListChangedBehindAnAct(t *testing.T) {
	b := made(t, logOf(300))
	b.backedUp = on
	write(t, b, note("looks at the list"))
	var list page
	var live pageID
	err := b.read(func(im *image) (err error) {
		live = im.root
		_, list, err = im.freePages()
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.OpenFile(b.Path(), os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteAt([]byte{byte(live), byte(live >> 8), 0, 0, 0, 0, 0, 0}, int64(list.id)*int64(os.Getpagesize())+pageHeaderLen); err != nil {
		t.Fatal(err)
	}
	f.Close()
	_, err = b.Write(func(*model.Book) ([]model.Entry, error) { return []model.Entry{note("on top")}, nil })
	if !errors.Is(err, ErrDamaged) {
		t.Errorf("got %v", err)
	}
}

// Records of eight letters lie in the file under keys as long as those of entries.
func TestSalvagePassesOverDerivedRecords(t *testing.T) {
	b := withRecords(t, map[string]string{"chore/01": "a", "chore/02": "b"})
	keep(t, b, map[string][]byte{"12345678": []byte("a fit")})
	content, err := os.ReadFile(b.Path())
	if err != nil {
		t.Fatal(err)
	}
	clear(content[:2*os.Getpagesize()]) // both headers, and so the number of entries
	saved, lost, err := copyOf(t, content).Salvage()
	if err != nil || len(lost) > 0 || saved.Last() != 6 {
		t.Errorf("lost %q of a whole log: %v", lost, err)
	}
}

// The first Load reads along what was learnt, and whoever asks later is told what is there then.
func TestLearntIsReadAlong(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	keep(t, b, map[string][]byte{"clean-pump": []byte("a fit")})
	other := again(t, b)
	load(t, other)
	keep(t, b, map[string][]byte{"clean-pump": []byte("a better fit")})
	for _, want := range []string{"a fit", "a better fit"} {
		if got := learnt(t, other); !maps.Equal(got, map[string]string{"clean-pump": want}) {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

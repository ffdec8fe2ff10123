package storage

import (
	"errors"
	"os"
	"reflect"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"

	"pgregory.net/rapid"
)

// A stretch of the log is the same of a book that reads it and of one that holds it,
// wherever it lies: across what the book holds and what it doesn't, too.
func TestAStretchOfTheLog(t *testing.T) {
	b := made(t, plainLog(3000))
	load(t, b)
	reading := write(t, b, note("held"), note("held too")).Book
	holding := full(t, b)
	rapid.Check(t, func(t *rapid.T) {
		from := model.Seq(rapid.IntRange(0, 3010).Draw(t, "from"))
		to := model.Seq(rapid.IntRange(0, 3010).Draw(t, "to"))
		got, err := reading.Entries(from, to)
		noError(t, err)
		want, _ := holding.Entries(from, to)
		if n := int(min(to, 3002)) - int(max(from, 1)) + 1; len(want) != max(n, 0) || !reflect.DeepEqual(got, want) {
			t.Fatalf("%d entries, want %d, %d", len(got), len(want), n)
		}
	})
}

// A damaged entry is refused, and those around it are read.
func TestAStretchWithDamage(t *testing.T) {
	raw := content(t, 300)
	sound := load(t, copyOf(t, raw))
	entries, err := sound.Entries(1, sound.Last())
	noError(t, err)
	b := copyOf(t, raw)
	book := load(t, b)
	payload := must(model.EncodeEntry(*entries[99]))
	damageAt(t, b, payload)
	if _, err := book.Entries(90, 110); !errors.Is(err, ErrDamaged) {
		t.Fatalf("a damaged entry is read: %v", err)
	} else {
		oneLine(t, err)
	}
	for _, span := range [][2]model.Seq{{1, 99}, {101, book.Last()}} {
		if got, err := book.Entries(span[0], span[1]); err != nil || !reflect.DeepEqual(got, entries[span[0]-1:span[1]]) {
			t.Errorf("from %d to %d: %v", span[0], span[1], err)
		}
	}
}

// An act that looks at damaged entries is refused, and neither it nor the next one waits for ever.
func TestAnActOnAStretchWithDamage(t *testing.T) {
	b := made(t, plainLog(100))
	payload := must(model.EncodeEntry(*must(load(t, b).Written(50))))
	b = again(t, b)
	load(t, b)
	damageAt(t, b, payload)
	for range 2 {
		_, err := b.Write(func(book *ledger.Book) ([]model.Entry, error) { return book.Strike(50, on) })
		if !errors.Is(err, ErrDamaged) {
			t.Fatalf("the act ends with %v", err)
		}
		oneLine(t, err)
	}
}

// damageAt changes the last byte of a text wherever the file of a book holds it.
func damageAt(t *testing.T, b *Book, text []byte) {
	t.Helper()
	raw := must(os.ReadFile(b.Path()))
	changed := 0
	for i := range len(raw) - len(text) {
		if string(raw[i:i+len(text)]) == string(text) {
			raw[i+len(text)-1] ^= 1
			changed++
		}
	}
	if changed == 0 {
		t.Fatal("it is nowhere in the file")
	}
	noError(t, os.WriteFile(b.Path(), raw, 0o600))
}

// A book goes on with a later one of its file, and not with one of a file that was put in
// its place, which it doesn't read either.
func TestAStretchIsOfTheSameFile(t *testing.T) {
	b := made(t, plainLog(100))
	first := load(t, b)
	later := write(t, b, note("one more")).Book
	if !later.Continues(first) || later.Replaces(first) {
		t.Error("a later book of the file is taken for another")
	}
	other := made(t, append(plainLog(99), note("another log"), note("as long")))
	noError(t, os.Rename(other.Path(), b.Path()))
	replaced := load(t, b)
	if replaced.Continues(first) || !replaced.Replaces(first) {
		t.Error("another file is taken for the same")
	}
	if _, err := first.Entries(1, 10); err == nil {
		t.Error("entries of another file are read")
	}
	if _, err := replaced.Entries(1, 10); err != nil {
		t.Error(err)
	}
}

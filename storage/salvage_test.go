package storage

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/storage/exchange"
)

// importable makes sure that a book can be exported and imported.
func importable(t *testing.T, book *ledger.Book) {
	t.Helper()
	if _, err := exchange.Import(strings.NewReader(text(t, book)), on); err != nil {
		t.Errorf("what was salvaged can't be imported: %v", err)
	}
}

func TestSalvageOfASoundBook(t *testing.T) {
	for _, entries := range []int{6, 300} { // a log kept inside its parent page, and one with pages of its own
		b := made(t, plainLog(entries))
		write(t, b, note("a later act"), note("of two"))
		book, lost, err := b.Salvage()
		if err != nil || len(lost) > 0 {
			t.Fatalf("%v %q", err, lost)
		}
		if text(t, book) != text(t, load(t, b)) {
			t.Error("a sound book was not salvaged as it is")
		}
	}
}

// Records that are destroyed in every copy are lost; all others are saved, and what
// referred to a lost one says so.
func TestSalvage(t *testing.T) {
	log := plainLog(300)
	log = append(log, model.NewEntry(on, model.Amend{Entry: 100, Strike: true}),
		model.NewEntry(on, model.Amend{Entry: 50, Strike: true}), model.NewEntry(on, model.Amend{Entry: 302, Strike: true}))
	b := made(t, log)
	write(t, b, note("first of two"), note("second of two"))
	raw := must(os.ReadFile(b.Path()))
	for _, lost := range []string{`{"seq":100,`, `{"seq":101,`, `{"seq":304,`} {
		n := 0
		for at := bytes.Index(raw, []byte(lost)); at >= 0; at = bytes.Index(raw, []byte(lost)) {
			raw[at] = '['
			n++
		}
		if n == 0 {
			t.Fatalf("%s is nowhere in the file", lost)
		}
	}
	damagedBook := copyOf(t, raw)
	book, lost, err := damagedBook.Salvage()
	noError(t, err)
	want := []string{"entries 100 to 101 can't be read", "entry 304 can't be read", "entry 301 can't stand"}
	if len(lost) != len(want) {
		t.Errorf("lost %q, want %q", lost, want)
	}
	for i := range min(len(lost), len(want)) {
		if !strings.HasPrefix(lost[i], want[i]) {
			t.Errorf("lost %q, want %q", lost[i], want[i])
		}
	}
	if book.Last() != 305-4 {
		t.Errorf("%d entries saved, want 301", book.Last())
	}
	if book.Struck(50) {
		t.Error("entry 50 was struck, and the strike struck; it reads as struck")
	}
	if e := must(book.Written(book.Last())); e.Act != e.Seq || e.Body.(model.Note).Text != "second of two" {
		t.Errorf("the rest of an act: %+v", e)
	}
	importable(t, book)
}

// An amend that another amend points elsewhere still points there when the entries are
// numbered anew.
func TestSalvageRetargets(t *testing.T) {
	log := append(plainLog(100),
		model.NewEntry(on, model.Amend{Entry: 60, Strike: true}),
		model.NewEntry(on, model.Amend{Entry: 101, With: model.Fields(`{"entry":70}`)}))
	b := made(t, log)
	raw := must(os.ReadFile(b.Path()))
	raw[bytes.Index(raw, []byte(`{"seq":50,`))] = '['
	book, lost, err := copyOf(t, raw).Salvage()
	if err != nil || len(lost) != 1 {
		t.Fatalf("%v %q", err, lost)
	}
	if !book.Struck(69) || book.Struck(59) || book.Struck(60) || book.Struck(70) {
		t.Error("the strike was moved from entry 60 to 70, which is now 69; another reads as struck")
	}
	importable(t, book)
}

// Where the definition of a chore is lost its ticks can't stand, until it is defined again.
func TestSalvageWithoutADefinition(t *testing.T) {
	log := plainLog(400)
	log[300] = log[5] // the chore
	b := made(t, log)
	raw := must(os.ReadFile(b.Path()))
	raw[bytes.Index(raw, []byte(`{"seq":6,`))] = '['
	book, lost, err := copyOf(t, raw).Salvage()
	noError(t, err)
	before, after := 0, 0
	for i, e := range log {
		if e.Kind == model.KindTick && i < 300 {
			before++
		} else if e.Kind == model.KindTick {
			after++
		}
	}
	if got := len(book.Ticks("clean-pump")); got != after || book.Last() != model.Seq(400-1-before) {
		t.Errorf("%d ticks of %d entries saved, want %d of %d", got, book.Last(), after, 400-1-before)
	}
	if len(lost) != 3 || !strings.Contains(lost[2], fmt.Sprintf("%d later entries", before-1)) {
		t.Errorf("lost %q", lost)
	}
	importable(t, book)
}

// Whatever page is destroyed, the rest can be had; also with both headers gone.
func TestSalvageWithoutAPage(t *testing.T) {
	original := content(t, 300)
	all := load(t, copyOf(t, original)).Last()
	inUse := usedBytes(t, original)
	size := os.Getpagesize()
	for at := 0; at < inUse; at += size {
		raw := append([]byte(nil), original...)
		copy(raw[at:at+size], make([]byte, size))
		if at == 0 {
			copy(raw[size:2*size], make([]byte, size))
		}
		book, lost, err := copyOf(t, raw).Salvage()
		if err != nil {
			t.Fatalf("page %d: %v", at/size, err)
		}
		// The set-up is on the first page of the log; without it little can stand.
		if book.Last() < all*8/10 && len(lost) == 0 {
			t.Errorf("page %d: %d of %d entries, and nothing is said to be lost", at/size, book.Last(), all)
		}
		importable(t, book)
	}
}

package storage

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/model"
)

func TestRestore(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	to := filepath.Join(t.TempDir(), "copy.db")
	noError(t, b.Backup(to))
	write(t, b, note("after the copy"))
	replaced := text(t, load(t, b))
	kept, err := b.Restore(to)
	noError(t, err)
	if book := load(t, b); book.Last() != 6 {
		t.Errorf("%d entries after restoring", book.Last())
	}
	if want := b.Path() + ".replaced-20260331-073015"; kept != want {
		t.Errorf("kept as %s, want %s", kept, want)
	}
	if got := text(t, load(t, At(kept, b.now))); got != replaced {
		t.Error("the file that was replaced is not the one that was kept")
	}
	second, err := b.Restore(kept)
	if err != nil || second == kept {
		t.Fatalf("kept as %s: %v", second, err)
	}
	if got := text(t, load(t, b)); got != replaced {
		t.Error("the kept file can't be brought back")
	}
	whole(t, b)
}

func TestRestoreRefusesADamagedCopy(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	before := text(t, load(t, b))
	raw := content(t, 100)
	at := bytes.Index(raw, []byte(`rinsed under the tap"}`)) // an entry, not the snapshot
	raw[at] ^= 1
	for _, c := range []struct {
		name string
		copy []byte
	}{
		{"damaged", raw},
		{"cut", raw[:len(raw)/8]},
		{"empty", nil},
		{"text", []byte("hello")},
	} {
		bad := filepath.Join(t.TempDir(), "bad.db")
		noError(t, os.WriteFile(bad, c.copy, 0o600))
		kept, err := b.Restore(bad)
		if err == nil || kept != "" || !strings.Contains(err.Error(), bad) || !strings.Contains(err.Error(), "another copy") {
			t.Errorf("%s: kept %q, %v", c.name, kept, err)
		}
	}
	if _, err := b.Restore(filepath.Join(t.TempDir(), "none.db")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("missing: %v", err)
	}
	if got := text(t, load(t, again(t, b))); got != before {
		t.Error("a refused restore changed the book")
	}
	if left, _ := os.ReadDir(filepath.Dir(b.Path())); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}

func TestRestoreWhereThereIsNoBook(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	to := filepath.Join(t.TempDir(), "copy.db")
	noError(t, b.Backup(to))
	other := At(filepath.Join(t.TempDir(), "new", "book.db"), b.now)
	defer other.Close()
	if kept, err := other.Restore(to); err != nil || kept != "" {
		t.Fatalf("kept %q, %v", kept, err)
	}
	whole(t, other)
}

// A damaged file names the newest copy and how to bring it back.
func TestDamageNamesTheWayOut(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	write(t, b, note("makes the copy of the day"))
	raw := must(os.ReadFile(b.Path()))
	raw[pageHeaderLen+20] ^= 1
	noError(t, os.WriteFile(b.Path(), raw, 0o600))
	for name, op := range map[string]func() error{
		"load":  func() error { _, err := again(t, b).Load(); return err },
		"write": func() error { _, err := try(b, note("n")); return err },
	} {
		err := op()
		if !errors.Is(err, ErrDamaged) {
			t.Errorf("%s: got %v", name, err)
			continue
		}
		for _, want := range []string{"header 0", "wrasse --book " + b.Path() + " restore " + b.Path() + ".backups/2026-03-31.db", "export jsonl --salvage", "verify --accept"} {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %q does not say %q", name, err, want)
			}
		}
	}
	if _, err := b.Restore(b.Backups()[0]); err != nil {
		t.Fatal(err)
	}
	if book := whole(t, b); book.Last() != 6 {
		t.Errorf("%d entries restored", book.Last())
	}
}

// The copy that is recommended can be brought back, and the line that does it can be
// typed as it stands: from the book it is about, under any name.
func TestTheCopyNamedIsASoundOne(t *testing.T) {
	c := morning(2026, 3, 29)
	b := At(filepath.Join(t.TempDir(), "kit's reef.db"), c.now)
	defer b.Close()
	write(t, b, setUp()...)
	for range 3 {
		write(t, b, note("a day"))
		c.t = c.t.AddDate(0, 0, 1)
	}
	c.t = c.t.AddDate(8, 0, 0)
	write(t, b, note("while the clock ran ahead"))
	c.t = morning(2026, 4, 1).t
	copies := b.Backups()
	if len(copies) != 4 || filepath.Base(copies[0]) != "2026-03-31.db" || filepath.Base(copies[3]) != "2034-04-01.db" {
		t.Fatalf("copies %v", copies)
	}
	raw := must(os.ReadFile(copies[0]))
	raw = bytes.ReplaceAll(raw, []byte(`"kind":"component"`), []byte(`"kind":"componant"`))
	noError(t, os.WriteFile(copies[0], raw, 0o600))
	held := map[string]int{}
	b.Copies(func(path string, entries int, err error) {
		if err != nil {
			entries = -1
		}
		held[filepath.Base(path)] = entries
	})
	if want := map[string]int{"2026-03-31.db": -1, "2026-03-30.db": 7, "2026-03-29.db": 6, "2034-04-01.db": 9}; !reflect.DeepEqual(held, want) {
		t.Errorf("the copies hold %v, want %v", held, want)
	}
	noError(t, os.WriteFile(b.Path(), []byte("not a book"), 0o600))
	_, err := again(t, b).Load()
	inShell := func(path string) string { return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'" }
	if want := "wrasse --book " + inShell(b.Path()) + " restore " + inShell(copies[1]) + ", or"; err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("%v\ndoes not say %s", err, want)
	}
	if err == nil || strings.Contains(err.Error(), "--accept") {
		t.Errorf("%v\noffers a header that can't be read either", err)
	}
}

// Where copies lie but no book, one has been lost: no act begins another in its place,
// and no reader takes it for a first start.
func TestABookThatIsGoneIsMissed(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	write(t, b, note("makes the copy of the day"))
	noError(t, os.Remove(b.Path()))
	fresh := again(t, b)
	_, err := fresh.Load()
	if !errors.Is(err, ErrGone) || errors.Is(err, ErrNoBook) || !strings.Contains(err.Error(), "restore "+fresh.Backups()[0]) {
		t.Errorf("reading: %v", err)
	}
	if _, err := try(fresh, setUp()...); !errors.Is(err, ErrGone) {
		t.Errorf("writing: %v", err)
	}
	if _, err := fresh.Restore(fresh.Backups()[0]); err != nil {
		t.Fatal(err)
	}
	if n := whole(t, fresh).Last(); n != 6 {
		t.Errorf("%d entries", n)
	}
}

// With one header damaged the book can be had as the other one says, and only when asked.
func TestAccept(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	write(t, b, note("one"))
	write(t, b, note("two"))
	if _, err := b.Accept(); err == nil || !strings.Contains(err.Error(), "nothing to accept") {
		t.Errorf("a whole book: %v", err)
	}
	raw := must(os.ReadFile(b.Path()))
	for page := range 2 {
		broken := append([]byte(nil), raw...)
		broken[page*os.Getpagesize()+pageHeaderLen+50] ^= 1
		b := copyOf(t, broken)
		if _, err := b.Load(); !errors.Is(err, errHeader) {
			t.Fatalf("header %d: %v", page, err)
		}
		kept, err := b.Accept()
		if err != nil {
			t.Fatalf("header %d: %v", page, err)
		}
		if got, _ := os.ReadFile(kept); string(got) != string(broken) {
			t.Errorf("header %d: the damaged file was not kept", page)
		}
		last := whole(t, b).Last()
		if last != 7 && last != 8 {
			t.Errorf("header %d: %d entries", page, last)
		}
		for i := range 4 {
			if w := write(t, b, note("goes on")); w.Act != last+1+model.Seq(i) {
				t.Fatalf("header %d: act %d", page, w.Act)
			}
			whole(t, b)
		}
	}
	both := append([]byte(nil), raw...)
	both[pageHeaderLen+50] ^= 1
	both[os.Getpagesize()+pageHeaderLen+50] ^= 1
	if _, err := copyOf(t, both).Accept(); !errors.Is(err, ErrDamaged) {
		t.Errorf("both headers damaged: %v", err)
	}
}

// Whatever became of a copy: when it is listed with its entries it can be brought back with
// them. Pages are lost, or are as they were some acts before, as after a write that never
// reached the disk.
func TestAListedCopyIsOneThatRestoreTakes(t *testing.T) {
	b := made(t, plainLog(300))
	size := os.Getpagesize()
	var before [][]byte
	for range 6 {
		write(t, b, model.NewEntry(on, model.Tick{Chore: "clean-pump", Found: model.FoundLight}))
		raw := must(os.ReadFile(b.Path()))
		before = append(before, raw)
	}
	newest := before[len(before)-1]
	count, want := load(t, b).Last(), text(t, load(t, b))
	listed, rebuilt := 0, 0
	try := func(what string, raw []byte) {
		other := At(filepath.Join(t.TempDir(), "book.db"), b.now)
		defer other.Close()
		noError(t, os.Mkdir(other.Path()+".backups", 0o700))
		path := filepath.Join(other.Path()+".backups", "2026-03-31.db")
		noError(t, os.WriteFile(path, raw, 0o600))
		entries, wrong := 0, error(nil)
		other.Copies(func(_ string, n int, err error) { entries, wrong = n, err })
		_, err := other.Restore(path)
		switch {
		case wrong != nil && err != nil:
			return
		case wrong != nil || err != nil:
			t.Errorf("%s: listed with %d entries, %v; brought back: %v", what, entries, wrong, err)
			return
		}
		listed++
		if got := whole(t, other); model.Seq(entries) != got.Last() || got.Last() == count && text(t, got) != want {
			t.Errorf("%s: listed with %d entries, %d are brought back", what, entries, got.Last())
		}
		if back, err := os.ReadFile(other.Path()); err != nil || !bytes.Equal(back, raw) {
			rebuilt++
		}
	}
	for at := 0; at+size <= len(newest); at += size {
		for i, old := range before[:len(before)-1] {
			if at+size > len(old) || bytes.Equal(old[at:at+size], newest[at:at+size]) || i > 0 && bytes.Equal(old[at:at+size], before[i-1][at:at+size]) {
				continue
			}
			try(fmt.Sprintf("page %d of %d acts before", at/size, len(before)-1-i), slices.Concat(newest[:at], old[at:at+size], newest[at+size:]))
		}
		if !bytes.Equal(newest[at:at+size], make([]byte, size)) {
			try(fmt.Sprintf("page %d lost", at/size), slices.Concat(newest[:at], make([]byte, size), newest[at+size:]))
		}
	}
	if listed < 20 || rebuilt < 5 {
		t.Errorf("%d copies are listed, %d are made again of their log", listed, rebuilt)
	}
}

package storage

import (
	"os"
	"path/filepath"
	"testing"

	"brine/wrasse/model"
)

func TestStampChangesWithTheFile(t *testing.T) {
	b := newBook(t)
	if got := b.Stamp(); got != "" {
		t.Errorf("without a file: %q", got)
	}
	write(t, b, setUp()...)
	seen := map[string]string{"": "what can't be told"}
	fresh := func(what string) {
		t.Helper()
		stamp := b.Stamp()
		if before, known := seen[stamp]; known {
			t.Errorf("%s has the stamp of %s, %q", what, before, stamp)
		}
		seen[stamp] = what
		load(t, again(t, b))
		if now := again(t, b).Stamp(); now != stamp {
			t.Errorf("%s: %q became %q by looking at it", what, stamp, now)
		}
	}
	fresh("a new book")
	copied, err := os.ReadFile(b.Path())
	if err != nil {
		t.Fatal(err)
	}
	write(t, b, note("first"))
	fresh("a book with an act")
	keep(t, b, map[string][]byte{"clean-pump": []byte("a fit")})
	fresh("a book with a fit kept")
	put := func() {
		t.Helper()
		if err := os.WriteFile(b.Path(), copied, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	put()
	fresh("a copy over it")
	write(t, again(t, b), note("other"))
	fresh("an act after the copy") // with the number of the first
	put()
	fresh("a copy over that")
}

func TestStampOfWhatCannotBeTold(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	data, err := os.ReadFile(b.Path())
	if err != nil {
		t.Fatal(err)
	}
	for at, what := range map[int]string{20: "the first header", os.Getpagesize() + 60: "the second header"} {
		bad := append([]byte(nil), data...)
		bad[at] ^= 1
		if err := os.WriteFile(b.Path(), bad, 0o600); err != nil {
			t.Fatal(err)
		}
		if got := b.Stamp(); got != "" {
			t.Errorf("%s damaged: %q", what, got)
		}
	}
	synced := filepath.Join(t.TempDir(), "synchronised", "book.db")
	if err := os.MkdirAll(filepath.Dir(synced), 0o700); err != nil {
		t.Fatal(err)
	}
	s := At(synced, b.now)
	defer s.Close()
	if _, err := s.Write(func(*model.Book) ([]model.Entry, error) { return setUp(), nil }); err != nil {
		t.Fatal(err)
	}
	if got := s.Stamp(); got != "" {
		t.Errorf("in a folder that is no good place: %q", got)
	}
}

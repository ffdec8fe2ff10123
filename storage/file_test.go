package storage

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// listen is the folders whose names are made durable from now on.
func listen(t *testing.T) *[]string {
	t.Helper()
	var heard []string
	before := lasting
	t.Cleanup(func() { lasting = before })
	lasting = func(dir string) error {
		heard = append(heard, dir)
		return before(dir)
	}
	return &heard
}

// Every new name is synced in the folder that holds it, those of new folders as well, before
// anything is said to be done.
func TestNewNamesAreDurable(t *testing.T) {
	heard := listen(t)
	dir := t.TempDir()
	in := func(parts ...string) string { return filepath.Join(append([]string{dir}, parts...)...) }
	b := At(in("a", "b", "book.db"), morning(2026, 3, 31).now)
	outside := in("outside.db")
	for _, c := range []struct {
		what string
		do   func()
		want []string
	}{
		{"the first act", func() { write(t, b, setUp()...) }, []string{dir, in("a"), in("a", "b")}},
		{"the first act of a day", func() { write(t, b, note("n")) }, []string{in("a", "b"), in("a", "b", "book.db.backups")}},
		{"another act", func() { write(t, b, note("n")) }, nil},
		{"a copy", func() {
			noError(t, b.Backup(outside))
		}, []string{dir}},
		{"a book brought back", func() {
			if _, err := At(in("c", "book.db"), b.now).Restore(outside); err != nil {
				t.Fatal(err)
			}
		}, []string{dir, in("c")}},
		{"an export", func() {
			noError(t, NewFile(in("out.csv"), func(w io.Writer) error { _, err := io.WriteString(w, "x"); return err }))
		}, []string{dir}},
		{"folders", func() {
			noError(t, MakeFolder(in("d", "e")))
		}, []string{dir, in("d")}},
		{"folders that are there", func() {
			noError(t, MakeFolder(in("d", "e")))
		}, nil},
	} {
		*heard = nil
		c.do()
		if !slices.Equal(*heard, c.want) {
			t.Errorf("%s syncs %q, want %q", c.what, *heard, c.want)
		}
	}
}

// A new file is whole or not there, and never takes the place of another.
func TestNewFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new")
	torn := errors.New("torn")
	half := func(w io.Writer) error { _, _ = io.WriteString(w, "half"); return torn }
	if err := NewFile(path, half); !errors.Is(err, torn) {
		t.Errorf("got %v", err)
	}
	if _, err := os.Lstat(path); err == nil {
		t.Error("half a file is left")
	}
	noError(t, os.WriteFile(path, []byte("old"), 0o600))
	if err := NewFile(path, half); err == nil || errors.Is(err, torn) {
		t.Errorf("over another: %v", err)
	}
	if got, _ := os.ReadFile(path); string(got) != "old" {
		t.Errorf("the file that was there holds %q", got)
	}
	if err := MakeFolder(filepath.Join(path, "below")); err == nil {
		t.Error("a folder was made below a file")
	}
}

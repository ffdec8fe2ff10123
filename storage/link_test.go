package storage

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// link makes a link, where the system lets it.
func link(t *testing.T, to, path string) {
	t.Helper()
	if err := os.Symlink(to, path); err != nil {
		if runtime.GOOS == "windows" {
			t.Skip("links need a right of their own here")
		}
		t.Fatal(err)
	}
}

// A book behind a link whose disk is not mounted is away: it is neither gone nor one that was
// never begun, nothing is put in the place of the link, and once the disk is back it is the
// same book.
func TestALinkToWhatIsNotMounted(t *testing.T) {
	for name, path := range map[string]string{
		"to a file":         "link.db",
		"relative":          "near/link.db",
		"to another link":   "second.db",
		"on the way to it":  "disk/book.db",
		"and a folder more": "deep/reef/book.db",
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			file := filepath.Join(dir, "mnt", "reef", "book.db")
			made := At(file, morning(2026, 3, 31).now)
			write(t, made, setUp()...)
			outside := filepath.Join(dir, "copy.db")
			noError(t, made.Backup(outside))
			noError(t, os.Mkdir(filepath.Join(dir, "near"), 0o700))
			link(t, file, filepath.Join(dir, "link.db"))
			link(t, "../mnt/reef/book.db", filepath.Join(dir, "near", "link.db"))
			link(t, "link.db", filepath.Join(dir, "second.db"))
			link(t, filepath.Join(dir, "mnt", "reef"), filepath.Join(dir, "disk"))
			link(t, "mnt", filepath.Join(dir, "deep"))
			noError(t, os.Rename(filepath.Join(dir, "mnt"), filepath.Join(dir, "away")))
			b := At(filepath.Join(dir, filepath.FromSlash(path)), made.now)
			t.Cleanup(b.Close)
			for op, do := range map[string]func() error{
				"load":    func() error { _, err := b.Load(); return err },
				"write":   func() error { _, err := try(b, setUp()...); return err },
				"create":  func() error { _, err := b.Create(setUp()); return err },
				"restore": func() error { _, err := b.Restore(outside); return err },
				"rebuild": func() error { _, err := b.Rebuild(); return err },
				"accept":  func() error { _, err := b.Accept(); return err },
				"verify":  func() error { _, err := b.Verify(); return err },
				"backup":  func() error { return b.Backup(filepath.Join(dir, "new.db")) },
			} {
				err := do()
				if !errors.Is(err, ErrAway) || errors.Is(err, ErrNoBook) || errors.Is(err, ErrGone) {
					t.Errorf("%s: %v", op, err)
					continue
				}
				oneLine(t, err)
				for _, want := range []string{b.Path(), "mount its disk", "--book " + quoted(file)} {
					if !strings.Contains(err.Error(), want) {
						t.Errorf("%s: %q does not say %q", op, err, want)
					}
				}
			}
			if _, err := os.Stat(filepath.Join(dir, "mnt")); err == nil {
				t.Error("what is not mounted was made")
			}
			noError(t, os.Rename(filepath.Join(dir, "away"), filepath.Join(dir, "mnt")))
			write(t, b, note("mounted again"))
			if _, err := b.Restore(outside); err != nil {
				t.Fatal(err)
			}
			if n := whole(t, made).Last(); n != 6 {
				t.Errorf("the book behind the link has %d entries", n)
			}
			if _, err := os.Stat(file + ".backups"); err != nil {
				t.Errorf("the copies don't lie beside the book: %v", err)
			}
		})
	}
}

// A link that leads in a circle is no book either.
func TestALinkToItself(t *testing.T) {
	path := filepath.Join(t.TempDir(), "book.db")
	link(t, "book.db", path)
	b := At(path, morning(2026, 3, 31).now)
	if _, err := b.Load(); err == nil || errors.Is(err, ErrNoBook) {
		t.Errorf("reading gives %v", err)
	}
	if _, err := try(b, setUp()...); err == nil {
		t.Error("a book was written")
	}
	if info, err := os.Lstat(path); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link was replaced")
	}
}

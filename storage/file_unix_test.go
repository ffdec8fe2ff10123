//go:build unix

package storage

import (
	"net"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// soon fails the test when a call takes so long that it may be one that waits for ever.
func soon(t *testing.T, what string, do func() error) (err error) {
	t.Helper()
	done := make(chan error, 1)
	go func() { done <- do() }()
	select {
	case err := <-done:
		return err
	case <-time.After(4 * lockWait):
		t.Fatalf("%s waits", what)
		return nil
	}
}

// What is no file is refused at once, as a book and as a copy, and nothing is put in its place.
func TestOnlyFilesAreOpened(t *testing.T) {
	dir := t.TempDir()
	names := map[string]string{"pipe": "a pipe", "folder": "a folder", "socket": "a socket", "/dev/zero": "a device", "/dev/null": "a device"}
	noError(t, syscall.Mkfifo(filepath.Join(dir, "pipe"), 0o600))
	noError(t, os.Mkdir(filepath.Join(dir, "folder"), 0o700))
	socket, err := net.Listen("unix", filepath.Join(dir, "socket"))
	noError(t, err)
	defer socket.Close()
	sound := At(filepath.Join(dir, "book.db"), morning(2026, 3, 31).now)
	write(t, sound, setUp()...)
	for name, kind := range names {
		path := name
		if !filepath.IsAbs(path) {
			path = filepath.Join(dir, name)
		}
		b := At(path, sound.now)
		for op, do := range map[string]func() error{
			"load":     func() error { _, err := b.Load(); return err },
			"write":    func() error { _, err := try(b, setUp()...); return err },
			"create":   func() error { _, err := b.Create(setUp()); return err },
			"verify":   func() error { _, err := b.Verify(); return err },
			"salvage":  func() error { _, _, err := b.Salvage(); return err },
			"backup":   func() error { return b.Backup(filepath.Join(dir, "copy.db")) },
			"rebuild":  func() error { _, err := b.Rebuild(); return err },
			"accept":   func() error { _, err := b.Accept(); return err },
			"restore":  func() error { _, err := b.Restore(sound.Path()); return err },
			"as copy":  func() error { _, err := sound.Restore(path); return err },
			"OpenFile": func() error { _, err := OpenFile(path); return err },
		} {
			err := soon(t, op+" of "+kind, do)
			if err == nil || !strings.Contains(err.Error(), path+" is "+kind+"; name a file") || strings.Contains(err.Error(), "\n") {
				t.Errorf("%s of %s: %v", op, kind, err)
			}
		}
	}
	whole(t, sound)
}

// A pipe that takes the place of a book is not waited for, wherever it is looked at.
func TestAPipeInThePlaceOfABook(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	noError(t, os.Remove(b.Path()))
	noError(t, syscall.Mkfifo(b.Path(), 0o600))
	_ = soon(t, "an act", func() error {
		_, err := try(b, note("n"))
		if err == nil {
			t.Error("it is written to")
		}
		return nil
	})
	_ = soon(t, "a look for changes", func() error {
		if !b.Wait(make(chan struct{})) {
			t.Error("it is not noticed")
		}
		return nil
	})
	if err := soon(t, "opening it", func() error {
		f, err := openPlain(b.Path(), os.O_RDONLY)
		if err == nil {
			err = f.Close()
		}
		return err
	}); err != nil {
		t.Error(err)
	}
}

// A file that takes the place of another is of the same people.
func TestAReplacedFileKeepsItsOwner(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	write(t, b, note("makes the copy of the day"))
	uid, gid := os.Getuid(), os.Getgid()
	if uid == 0 {
		uid, gid = 65534, 65533
	}
	for name, replace := range map[string]func() error{
		"rebuild": func() error { _, err := b.Rebuild(); return err },
		"restore": func() error { _, err := b.Restore(b.Backups()[0]); return err },
	} {
		for _, mode := range []os.FileMode{0o660, 0o600, 0o644} {
			noError(t, os.Chmod(b.Path(), mode))
			noError(t, os.Chown(b.Path(), uid, gid))
			noError(t, replace())
			info := must(os.Stat(b.Path()))
			stat := info.Sys().(*syscall.Stat_t)
			if info.Mode() != mode || int(stat.Uid) != uid || int(stat.Gid) != gid {
				t.Errorf("%s of a file of mode %v makes it one of %v, of %d:%d", name, mode, info.Mode(), stat.Uid, stat.Gid)
			}
		}
	}
	whole(t, b)
}

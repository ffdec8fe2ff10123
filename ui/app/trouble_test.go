//go:build unix

package app

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"brine/wrasse/ui/termtest"
)

// begun is a book made by keys, in a folder of its own.
func begun(t *testing.T, dir string) string {
	t.Helper()
	book := filepath.Join(dir, "book.db")
	s := inTerminal(t, "--book", book)
	s.WaitFor("A new book")
	begin(s, "Home reef")
	s.WaitFor("Home reef")
	s.Send("q")
	s.Wait()
	return book
}

// shown is a window with a book.
func shown(t *testing.T, book string) *termtest.Terminal {
	t.Helper()
	s := inTerminal(t, "--book", book)
	s.WaitFor("Home reef", "today")
	return s
}

// smallDisk is a file system of its own that holds size bytes.
func smallDisk(t *testing.T, size int) string {
	t.Helper()
	dir := t.TempDir()
	if err := exec.Command("mount", "-t", "tmpfs", "-o", fmt.Sprintf("size=%d", size), "tmpfs", dir).Run(); err != nil {
		t.Skipf("can't mount a small disk here: %v", err)
	}
	t.Cleanup(func() {
		if err := exec.Command("umount", "-l", dir).Run(); err != nil {
			t.Errorf("unmounting %s: %v", dir, err)
		}
	})
	return dir
}

// verified fails the test unless verify finds nothing.
func verified(t *testing.T, book string) {
	t.Helper()
	if out, err := exec.Command(termtest.Build(t, "../.."), "verify", "--book", book).CombinedOutput(); err != nil {
		t.Errorf("verify: %v\n%s", err, out)
	}
}

// logLitres fills in the form for litres and sends it.
func logLitres(s *termtest.Terminal) {
	s.Send("u")
	s.WaitFor("Log usage", "amount")
	s.Send("41.5<enter>")
}

// reads waits until every text is on the screen, in however many lines.
func reads(s *termtest.Terminal, texts ...string) {
	s.Until("it says "+strings.Join(texts, ", "), func(screen string) bool {
		flat := strings.Join(strings.Fields(screen), " ")
		for _, want := range texts {
			if !strings.Contains(flat, want) {
				return false
			}
		}
		return true
	})
}

// refused waits for what the form says, holds it to keep what was typed, and sends it
// once more when mend has mended what was wrong.
func refused(t *testing.T, s *termtest.Terminal, mend func(), says ...string) {
	t.Helper()
	s.WaitFor("Log usage", "41.5", "not saved:")
	reads(s, says...)
	mend()
	s.Send("<enter>")
	s.WaitFor("Water made, 41.5 L")
	s.Send("q")
	if code := s.Wait(); code != 0 {
		t.Errorf("exit code %d", code)
	}
}

func TestFullDiskWhileLogging(t *testing.T) {
	t.Parallel()
	bin := termtest.Build(t, "../..")
	dir := smallDisk(t, 1<<20)
	book := begun(t, dir)
	s := shown(t, book)
	filler := filepath.Join(dir, "filler")
	f, err := os.Create(filler)
	if err != nil {
		t.Fatal(err)
	}
	for block := make([]byte, 4096); ; {
		if _, err := f.Write(block); err != nil {
			break // no room is left
		}
	}
	f.Close()
	// A file that still has pages of its own to spare takes some acts all the same; it
	// has to grow at last.
	for n := 0; ; n++ {
		out, err := exec.Command(bin, "use", "water", "1", "--book", book).CombinedOutput()
		if err == nil {
			if n > 2000 {
				t.Fatal("the disk is never full")
			}
			continue
		}
		if said := string(out); !strings.Contains(said, "nothing was written") || !strings.Contains(said, "make room on the disk") {
			t.Fatalf("the command says %q", said)
		}
		break
	}
	s.WaitFor("Home reef")
	logLitres(s)
	refused(t, s, func() {
		if err := os.Remove(filler); err != nil {
			t.Fatal(err)
		}
	}, "nothing was written to", "make room on the disk")
	verified(t, book)
}

func TestDiskTurnsReadOnlyWhileLogging(t *testing.T) {
	t.Parallel()
	dir := smallDisk(t, 4<<20)
	book := begun(t, dir)
	s := shown(t, book)
	remount := func(how string) {
		if out, err := exec.Command("mount", "-o", "remount,"+how, dir).CombinedOutput(); err != nil {
			t.Skipf("can't remount here: %v %s", err, out)
		}
	}
	remount("ro")
	defer remount("rw")
	logLitres(s)
	refused(t, s, func() { remount("rw") }, "read-only file system", "make file and folder writable")
	verified(t, book)
}

func TestFolderVanishesWhileLogging(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "reef")
	book := begun(t, dir)
	s := shown(t, book)
	if err := os.Rename(dir, dir+".away"); err != nil {
		t.Fatal(err)
	}
	reads(s, "the book is gone; put its file back")
	logLitres(s)
	refused(t, s, func() {
		if err := os.Rename(dir+".away", dir); err != nil {
			t.Fatal(err)
		}
	}, "the book is gone", "put its file back")
	verified(t, book)
}

func TestLockHeldByAnotherWhileLogging(t *testing.T) {
	if testing.Short() {
		t.Skip("waits as long as a keeper would")
	}
	t.Parallel()
	book := begun(t, t.TempDir())
	s := shown(t, book)
	f, err := os.OpenFile(book, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX); err != nil {
		t.Fatal(err)
	}
	logLitres(s)
	says := []string{"the book is in use", "try again"}
	if _, err := os.Stat("/proc/locks"); err == nil {
		says = append(says, fmt.Sprintf("process %d has held it", os.Getpid()))
	}
	refused(t, s, func() {
		if err := syscall.Flock(int(f.Fd()), syscall.LOCK_UN); err != nil {
			t.Fatal(err)
		}
	}, says...)
	verified(t, book)
}

// A damaged book opens to what to do about it; once a copy is back, in another window,
// it is shown without another key.
func TestDamagedBookIsRestoredFromAnotherWindow(t *testing.T) {
	t.Parallel()
	bin := termtest.Build(t, "../..")
	book := begun(t, t.TempDir())
	if out, err := exec.Command(bin, "use", "water", "5", "--book", book).CombinedOutput(); err != nil {
		t.Fatalf("%v %s", err, out)
	}
	raw, err := os.ReadFile(book)
	if err != nil {
		t.Fatal(err)
	}
	for i := 2 * os.Getpagesize(); i < len(raw); i += 97 {
		raw[i] ^= 0x55
	}
	if err := os.WriteFile(book, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	s := inTerminal(t, "--book", book)
	reads(s, "The book can't be read", "the book is damaged", "bring the newest copy back with: wrasse --book", "export jsonl --salvage", "enter try again")
	s.Send("3d<enter>")
	s.WaitFor("The book can't be read", "[Gear]")
	copies, err := filepath.Glob(book + ".backups/*.db")
	if err != nil || len(copies) != 1 {
		t.Fatalf("copies %v: %v", copies, err)
	}
	if out, err := exec.Command(bin, "restore", copies[0], "--book", book).CombinedOutput(); err != nil {
		t.Fatalf("%v %s", err, out)
	}
	s.WaitFor("Home reef", "[Gear]")
	s.WaitGone("can't be read")
	s.Send("q")
	s.Wait()
	verified(t, book)
}

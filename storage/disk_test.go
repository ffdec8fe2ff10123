//go:build unix

package storage

import (
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

func init() {
	jobs["fill the disk"], jobs["no permission"] = fillTheDisk, noPermission
}

// fillTheDisk does one act of long notes while the file may grow by no more than arg
// bytes: the write that goes beyond fails for real. It says how the act ended.
func fillTheDisk(b *Book, arg string) error {
	limit, err := strconv.ParseUint(arg, 10, 64)
	if err != nil {
		return err
	}
	if _, err := b.Load(); err != nil && !errors.Is(err, ErrNoBook) {
		return err
	}
	signal.Ignore(syscall.SIGXFSZ) // the write fails, and not the process
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: limit, Max: limit}); err != nil {
		return err
	}
	_, err = b.Write(func(book *ledger.Book) ([]model.Entry, error) {
		if book.Empty() {
			return append(setUp(), longNote()), nil
		}
		return []model.Entry{longNote(), longNote(), longNote()}, nil
	})
	fmt.Println(err)
	return nil
}

// An act that needs more room than there is, whichever of its writes is the one that
// fails, is refused in one line and leaves the book as it was; given room it goes
// through.
func TestNoRoomAtEachWrite(t *testing.T) {
	master := made(t, plainLog(120))
	write(t, master, note("a second act, so that pages are free"))
	content := must(os.ReadFile(master.Path()))
	want := text(t, load(t, master))
	size := len(content)
	refused, through := 0, 0
	for limit := 0; limit <= size+128<<10; limit += 4 << 10 {
		path := filepath.Join(t.TempDir(), "book.db")
		noError(t, os.WriteFile(path, content, 0o600))
		said, err := process(path, "fill the disk", strconv.Itoa(limit)).Output()
		if err != nil {
			t.Fatalf("limit %d: %v", limit, err)
		}
		b := At(path, morning(2026, 3, 31).now)
		got := text(t, whole(t, b))
		switch {
		case string(said) == "<nil>\n":
			through++
			if !strings.HasPrefix(got, want) || got == want {
				t.Errorf("limit %d: the act is not in the book", limit)
			}
		case got != want:
			t.Errorf("limit %d: %s, but the book changed", limit, said)
		case !strings.Contains(string(said), "file too large") || !strings.Contains(string(said), "make room") || strings.Count(string(said), "\n") != 1:
			t.Errorf("limit %d: said %q", limit, said)
		default:
			refused++
		}
		if w := write(t, b, note("with room again")); w.Warning != nil {
			t.Error(w.Warning)
		}
		whole(t, b)
		b.Close()
	}
	if refused == 0 || through == 0 {
		t.Errorf("%d refused, %d through: the limits miss the act", refused, through)
	}
	t.Logf("refused at %d limits, through at %d", refused, through)
}

// The same for the act that makes the book.
func TestNoRoomForANewBook(t *testing.T) {
	refused := 0
	for limit := 0; limit <= 96<<10; limit += 4 << 10 {
		path := filepath.Join(t.TempDir(), "new", "book.db")
		said, err := process(path, "fill the disk", strconv.Itoa(limit)).Output()
		noError(t, err)
		b := At(path, morning(2026, 3, 31).now)
		if string(said) == "<nil>\n" {
			whole(t, b)
			continue
		}
		refused++
		if _, err := b.Load(); !errors.Is(err, ErrNoBook) {
			t.Errorf("limit %d: %s, and then %v", limit, said, err)
		}
		if left, _ := os.ReadDir(filepath.Dir(path)); len(left) != 0 {
			t.Errorf("limit %d: left behind: %v", limit, left)
		}
	}
	if refused == 0 {
		t.Error("no limit was too low")
	}
}

// noPermission does an act as a user who may read only, and says how it ended.
func noPermission(b *Book, _ string) error {
	book, err := b.Load()
	if err != nil {
		return err
	}
	_, err = try(b, note("not mine"))
	fmt.Println(book.Last(), err)
	return nil
}

func TestPermissionLost(t *testing.T) {
	// Not t.TempDir, whose parents other users may not enter.
	dir, err := os.MkdirTemp("", "book")
	noError(t, err)
	t.Cleanup(func() { os.Chmod(dir, 0o700); os.RemoveAll(dir) })
	b := At(filepath.Join(dir, "book.db"), morning(2026, 3, 31).now)
	write(t, b, setUp()...)
	cmd := process(b.Path(), "no permission", "")
	if os.Getuid() == 0 { // who may write anywhere; read as somebody else
		binary := filepath.Join(dir, "test")
		content := must(os.ReadFile(os.Args[0]))
		noError(t, os.WriteFile(binary, content, 0o755))
		cmd.Path = binary
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
	for path, mode := range map[string]os.FileMode{b.Path(): 0o444, dir: 0o555} {
		noError(t, os.Chmod(path, mode))
	}
	cmd.Stderr = os.Stderr
	said, err := cmd.Output()
	noError(t, err)
	if got := string(said); !strings.HasPrefix(got, "6 nothing was written to ") || !strings.Contains(got, "permission denied; make file and folder writable") {
		t.Errorf("said %q", got)
	}
	whole(t, b)
}

func TestVanishedFolder(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	dir := filepath.Dir(b.Path())
	noError(t, os.Rename(dir, dir+".away"))
	_, err := try(b, note("n"))
	if !errors.Is(err, ErrGone) || !strings.Contains(err.Error(), "put its file back") {
		t.Errorf("got %v", err)
	}
	if _, err := b.Load(); !errors.Is(err, ErrGone) {
		t.Errorf("reading gives %v", err)
	}
	if _, err := os.Stat(dir); err == nil {
		t.Error("the folder was made anew")
	}
	noError(t, os.Rename(dir+".away", dir))
	write(t, b, note("back"))
	whole(t, b)
}

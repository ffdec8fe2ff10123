package storage

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

func TestBuildRunsAgainWhenOthersWrote(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	other := again(t, b)
	overtake := func(text string) {
		t.Helper()
		_, err := other.write(func(*ledger.Book) ([]model.Entry, error) { return []model.Entry{note(text)}, nil }, false, false)
		noError(t, err)
	}
	runs := 0
	w, err := b.Write(func(book *ledger.Book) ([]model.Entry, error) {
		if runs++; runs < 3 {
			overtake("meanwhile") // as one that got tired of waiting for its turn
		}
		return []model.Entry{note("mine")}, nil
	})
	if err != nil || runs != 3 || w.Act != 9 {
		t.Errorf("act %d after %d runs: %v", w.Act, runs, err)
	}
	_, err = b.Write(func(*ledger.Book) ([]model.Entry, error) {
		overtake("always")
		return []model.Entry{note("never")}, nil
	})
	if !errors.Is(err, ErrBusy) {
		t.Errorf("got %v, want ErrBusy", err)
	}
	if book := load(t, b); book.Last() != 12 || strings.Contains(text(t, book), "never") {
		t.Errorf("the book holds %d entries", book.Last())
	}
}

func TestVanishedBookIsNotStartedAnew(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	noError(t, os.Rename(b.Path(), b.Path()+".away"))
	_, err := try(b, note("lost?"))
	if !errors.Is(err, ErrGone) || !strings.Contains(err.Error(), "put its file back") {
		t.Errorf("got %v", err)
	}
	noError(t, os.Rename(b.Path()+".away", b.Path()))
	if w := write(t, b, note("again")); w.Act != 7 {
		t.Errorf("act %d after the file came back", w.Act)
	}
}

// Of two first starts at once one makes the book, and the other finds it.
func TestTwoFirstStarts(t *testing.T) {
	b := newBook(t)
	runs := 0
	w, err := b.Write(func(book *ledger.Book) ([]model.Entry, error) {
		if runs++; runs == 1 {
			write(t, again(t, b), setUp()...)
		}
		if book.Empty() {
			return setUp(), nil
		}
		return []model.Entry{note("second")}, nil
	})
	if err != nil || w.Act != 7 || runs != 2 {
		t.Errorf("act %d after %d runs: %v", w.Act, runs, err)
	}
}

// Who waits for the lock while another file is put in the book's place must not write to
// the one that was replaced.
func TestReplacedWhileWaiting(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	copied := filepath.Join(t.TempDir(), "copy.db")
	noError(t, b.Backup(copied))
	old, err := b.open(true)
	noError(t, err)
	waiting := must(os.OpenFile(b.Path(), os.O_RDWR, 0)) // the file as a waiting process has opened it
	defer waiting.Close()
	noError(t, os.Rename(copied, b.Path()))
	old.Close()
	if here, err := b.lockHere(waiting, true, time.Now().Add(lockWait)); here || err != nil {
		t.Errorf("the replaced file counts as the book: %v", err)
	}
	if w := write(t, b, note("to the new one")); w.Act != 7 {
		t.Errorf("act %d", w.Act)
	}
}

func TestReplacedFileIsReadAnew(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	copied := filepath.Join(t.TempDir(), "copy.db")
	noError(t, b.Backup(copied))
	write(t, b, note("after the copy"))
	noError(t, os.Rename(copied, b.Path()))
	if book := load(t, b); book.Last() != 6 {
		t.Errorf("%d entries, want the 6 of the copy", book.Last())
	}
	if w := write(t, b, note("on the copy")); w.Act != 7 {
		t.Errorf("act %d on the copy", w.Act)
	}
}

// A file that was written over in place, by another book as long and as often written,
// looks the same from its headers. An act must not be worked out on what is gone.
func TestOverwrittenInPlace(t *testing.T) {
	b := made(t, append(setUp(), note("of the one")))
	other := made(t, append(setUp(), note("of another")))
	load(t, b)
	f := must(os.OpenFile(b.Path(), os.O_WRONLY, 0))
	raw, err := os.ReadFile(other.Path())
	if err == nil {
		_, err = f.WriteAt(raw, 0)
	}
	noError(t, errors.Join(err, f.Close()))
	var built []string
	w, err := b.Write(func(book *ledger.Book) ([]model.Entry, error) {
		if e, err := book.Written(7); err == nil {
			built = append(built, e.Body.(model.Note).Text)
		}
		return []model.Entry{note("on top")}, nil
	})
	if err != nil || w.Act != 8 || built[len(built)-1] != "of another" {
		t.Errorf("act %d, worked out on %q: %v", w.Act, built, err)
	}
	if got := text(t, load(t, again(t, b))); !strings.HasPrefix(got, text(t, load(t, other))) || got != text(t, w.Book) {
		t.Errorf("the book is\n%s", got)
	}
}

func TestEachNoticesTheOther(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	other := again(t, b)
	load(t, other)
	for i := range 5 {
		done := make(chan struct{})
		answer := make(chan bool)
		go func() { answer <- other.Wait(done) }()
		write(t, b, note("news"))
		if !<-answer {
			t.Fatal("the other was not told")
		}
		if book := load(t, other); book.Last() != model.Seq(7+i) {
			t.Fatalf("the other sees %d entries", book.Last())
		}
		go func() { answer <- other.Wait(done) }()
		close(done)
		if <-answer {
			t.Fatal("told again of the same act")
		}
	}
}

// A link to the book is followed, and never replaced by what is made for it.
func TestLink(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	link := filepath.Join(t.TempDir(), "link.db")
	noError(t, os.Symlink(b.Path(), link))
	linked := At(link, b.now)
	defer linked.Close()
	write(t, linked, note("through the link"))
	if got := linked.Backups(); len(got) != 1 || !strings.HasPrefix(got[0], b.Path()) {
		t.Errorf("copies %v", got)
	}
	kept, err := linked.Restore(linked.Backups()[0])
	if err != nil || !strings.HasPrefix(kept, b.Path()) {
		t.Fatal(kept, err)
	}
	if book := load(t, b); book.Last() != 6 {
		t.Errorf("%d entries in the file behind the link", book.Last())
	}
	if target, err := os.Readlink(link); err != nil || target != b.Path() {
		t.Errorf("the link leads to %q: %v", target, err)
	}
}

// Where the folder can't be watched, as before it is there, the file is looked at now
// and then.
func TestNoticedWithoutAWatch(t *testing.T) {
	b := newBook(t)
	b.poll = time.Millisecond
	done := make(chan struct{})
	defer close(done)
	answer := make(chan bool)
	b.watch.changed(b.file) // so that what follows is new to it
	go func() { answer <- b.Wait(done) }()
	write(t, again(t, b), setUp()...)
	if !<-answer {
		t.Error("a new book was not noticed")
	}
	load(t, b)
	go func() { answer <- b.Wait(done) }()
	noError(t, os.RemoveAll(filepath.Dir(b.Path())))
	if !<-answer {
		t.Error("a vanished folder was not noticed")
	}
}

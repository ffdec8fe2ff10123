package storage

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"brine/wrasse/model"
)

// patience bounds what a test waits for; only one that fails reaches it.
const patience = 20 * time.Second

// A folder in which more happens than the system keeps for a watch must not make a
// window deaf: what was missed is looked for, and what comes later is noticed.
func TestAnOverflownWatchHearsAgain(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the length of the queue is that of Linux")
	}
	mine := newBook(t)
	write(t, mine, setUp()...)
	other := again(t, mine)
	closed := make(chan struct{})
	close(closed)
	mine.Wait(closed) // the watch has begun, and nobody waits
	for i := range 20_000 {
		noError(t, os.WriteFile(filepath.Join(mine.folder(), fmt.Sprint("x", i)), nil, 0o600))
	}
	for begun := time.Now(); time.Since(begun) < 2*time.Second; { // long enough for the queue to be read to its end
		noticed := waiting(t, mine)
		write(t, other, note("while it waits"))
		noticed()
		load(t, mine)
	}
}

// waiting lets a book wait to be written, and noticed is called for it to have ended.
func waiting(t *testing.T, b *Book) (noticed func()) {
	t.Helper()
	done, changed := make(chan struct{}), make(chan bool, 1)
	go func() { changed <- b.Wait(done) }()
	return func() {
		t.Helper()
		defer close(done)
		select {
		case ok := <-changed:
			if !ok {
				t.Fatal("the wait has ended")
			}
		case <-time.After(patience):
			t.Fatal("the write was not noticed")
		}
	}
}

// Where nothing tells of writes, the file is looked at only as long as somebody may see
// what comes of it, and at once when somebody is there again.
func TestAnUnusedWindowDoesNotPoll(t *testing.T) {
	b := newBook(t)
	b.poll, b.useFor = time.Millisecond, 0
	b.watch.changed(b.file) // so that what follows is new to it
	noError(t, os.RemoveAll(b.folder()))
	changed := make(chan bool, 1)
	done := make(chan struct{})
	defer close(done)
	go func() { changed <- b.Wait(done) }()
	time.Sleep(100 * time.Millisecond) // it has found no folder to watch
	write(t, again(t, b), setUp()...)
	select {
	case <-changed:
		t.Error("it was looked at with nobody there")
	case <-time.After(50 * time.Millisecond):
	}
	b.Used()
	select {
	case <-changed:
	case <-time.After(patience):
		t.Error("it was not looked at when somebody came")
	}
}

// Nor is who writes while it waits, though the file tells of the write before that is over.
func TestAWaitingBookIsNotToldOfItsOwnActs(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	done, told := make(chan struct{}), make(chan bool, 1)
	go func() { told <- b.Wait(done) }()
	for i := range 30 {
		write(t, b, note(fmt.Sprint("act ", i)))
	}
	close(done)
	if <-told {
		t.Error("told of an act of its own")
	}
}

// Who writes is not told of it, neither of the first act, which makes the file, nor of a later one.
func TestNobodyIsToldOfOnesOwnActs(t *testing.T) {
	b := newBook(t)
	closed := make(chan struct{})
	close(closed)
	for i, act := range [][]model.Entry{setUp(), {note("one")}, {note("and more")}} {
		write(t, b, act...)
		if b.Wait(closed) {
			t.Errorf("told of act %d", i)
		}
		if !b.current() {
			t.Errorf("after act %d the file is not taken for what was written", i)
		}
	}
}

package storage

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"time"
)

// lockWait bounds how long an operation waits for other processes. An act holds the
// lock for a few milliseconds; only a stopped or hung process holds it for longer.
const lockWait = 5 * time.Second

// maxPoll bounds the pause between two tries. flock has no fair queue, so the pauses
// are random: then no process is always the one that comes too late.
const maxPoll = 16 * time.Millisecond

// flock takes the lock bbolt itself uses, so that this package and bbolt exclude one
// another. It is let go when f is closed.
func flock(f *os.File, exclusive bool, deadline time.Time) error {
	for pause := time.Millisecond; ; pause = min(2*pause, maxPoll) {
		taken, err := tryLock(f, exclusive)
		if taken || err != nil {
			return err
		}
		if time.Now().After(deadline) {
			return busy(f)
		}
		time.Sleep(rand.N(pause) + time.Millisecond/4)
	}
}

func busy(f *os.File) error {
	who := "another process"
	if pid := holder(f); pid != 0 {
		who = fmt.Sprintf("process %d", pid)
	}
	return fmt.Errorf("%w: %s has held it for more than %v; try again, or end that process", ErrBusy, who, lockWait)
}

// open opens the file and locks it. ErrNoBook when there is none, or an empty one.
func (b *Book) open(exclusive bool) (*os.File, error) {
	flags := os.O_RDONLY
	if exclusive {
		flags = os.O_RDWR
	}
	deadline := time.Now().Add(lockWait)
	for {
		f, err := openFile(b.file, flags)
		if errors.Is(err, fs.ErrNotExist) {
			if err := b.away(); err != nil {
				return nil, err
			}
			return nil, fmt.Errorf("%w; start one with: wrasse", ErrNoBook)
		}
		if errors.Is(err, errNoFile) || err != nil && exclusive {
			return nil, fmt.Errorf("opening the book: %w", err)
		}
		if err != nil {
			return nil, fmt.Errorf("opening the book: %w; %s", err, readable(err))
		}
		here, err := b.lockHere(f, exclusive, deadline)
		if here {
			return f, nil
		}
		f.Close()
		if err != nil {
			return nil, err
		}
	}
}

// lockHere locks f; here is false when meanwhile another file has taken its place, as
// when a copy was brought back. An act written to the old one would be lost.
func (b *Book) lockHere(f *os.File, exclusive bool, deadline time.Time) (here bool, err error) {
	if err := flock(f, exclusive, deadline); err != nil {
		return false, err
	}
	mine, err := f.Stat()
	if err != nil {
		return false, err
	}
	if err := isFile(b.path, mine); err != nil {
		return false, err
	}
	now, err := os.Stat(b.file)
	if err != nil || !os.SameFile(mine, now) {
		return false, nil // opening again says why
	}
	if mine.Size() == 0 {
		return false, fmt.Errorf("%w, only an empty file; start one with: wrasse", ErrNoBook)
	}
	return true, nil
}

// lockFolder locks the folder of files that are made or replaced, and lets other acts
// wait for their turn. release is nil when another process has it past the deadline.
// Where folders can't be locked it does nothing.
func lockFolder(dir string, deadline time.Time) (release func(), err error) {
	d, err := openPlain(dir, os.O_RDONLY)
	if err != nil {
		return nil, err
	}
	if err := flock(d, true, deadline); errors.Is(err, ErrBusy) {
		d.Close()
		return nil, err
	}
	return func() { d.Close() }, nil
}

// inFolder runs fn while no other process makes or replaces files in a folder.
func inFolder(dir string, fn func() error) error {
	release, err := lockFolder(dir, time.Now().Add(lockWait))
	if err != nil {
		return err
	}
	defer release()
	return fn()
}

// turnWait is how long an act waits for its turn before it goes ahead without.
const turnWait = time.Second

// takeTurn keeps acts of several processes from overtaking one another between reading
// and writing: the later one would have to begin again. A process that gets no turn goes
// ahead, and is safe without one. held tells whether the folder
// is locked.
func (b *Book) takeTurn() (held bool, release func()) {
	release, err := lockFolder(b.folder(), time.Now().Add(turnWait))
	if err != nil {
		return false, func() {}
	}
	return true, release
}

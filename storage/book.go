package storage

import (
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"

	"brine/wrasse/model"
)

// Book is one book's file. Its methods may be called from several goroutines; they run
// one at a time. Any number of processes may have a Book of one file.
type Book struct {
	path   string
	file   string // path, or where it leads when it is a link
	now    func() time.Time
	poll   time.Duration
	useFor time.Duration
	used   chan struct{} // the window was used

	dead     atomic.Pointer[error] // what bbolt broke on; this process can't use the file any more
	walkable atomic.Pointer[mark]  // the state of the file in which its leaves were looked at last
	left     atomic.Pointer[mark]  // the state in which its own last act left the file
	summed   atomic.Uint64         // the sum of the table of dates that was checked last

	mu      sync.Mutex // held by the running operation
	closed  bool
	known   *known // what was last read or written
	lineage int    // of the log in the file: how often another was found in its place

	backedUp  model.Date // the day whose copy is known to be there
	cautioned bool       // about the folder
	late      bool       // it was said that the clock is behind
	watch     watch
}

// At is the book kept in the file at path, or in the one that path is a link to, be it
// there or on a disk that is not mounted. Nothing is opened or made before the first operation. now gives the moments entries are
// stamped with and the days of the copies.
func At(path string, now func() time.Time) *Book {
	file, err := filepath.EvalSymlinks(path)
	if err != nil {
		file = leadsTo(path)
	}
	return &Book{path: path, file: file, now: now, poll: pollEvery, useFor: useFor, used: make(chan struct{}, 1)}
}

// Path is the path the book was given.
func (b *Book) Path() string { return b.path }

func (b *Book) folder() string { return filepath.Dir(b.file) }

// begin starts an operation; end is to be called when it is over.
func (b *Book) begin() (end func(), err error) {
	b.mu.Lock()
	if b.closed {
		b.mu.Unlock()
		return nil, errClosed
	}
	return b.mu.Unlock, nil
}

// Close waits for a running operation. The Book can't be used after it.
func (b *Book) Close() {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.closed = true
	b.watch.close()
}

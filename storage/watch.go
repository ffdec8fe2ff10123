package storage

import (
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/fsnotify/fsnotify"
)

// mark tells one state of a file from another: which file it is, and the transaction
// its newer header names. Times of change alone are too coarse for that.
type mark struct {
	device, inode uint64
	txid          uint64
	written       int64 // the file's time: another book may stand at the same transaction
}

func markOf(f *os.File, txid uint64) (mark, error) {
	info, err := f.Stat()
	if err != nil {
		return mark{}, err
	}
	device, inode, err := identityOf(f.Name(), info)
	return mark{device, inode, txid, info.ModTime().UnixNano()}, err
}

// peek is the mark of a file read without its lock: it may be a torn one, which then
// differs from every other and so asks for a proper look. No file is the zero mark.
func peek(path string) mark {
	f, err := openPlain(path, os.O_RDONLY)
	if err != nil {
		return mark{}
	}
	defer f.Close()
	newer, _, _ := readHeaders(f)
	m, _ := markOf(f, newer.txid)
	return m
}

// watch notices that a book was written.
type watch struct {
	mu    sync.Mutex
	begun bool
	last  mark // the state last read or written here, or reported
	on    *fsnotify.Watcher
	dead  bool
}

// seen remembers the state that was just read or written.
func (w *watch) seen(m mark) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.begun, w.last = true, m
}

// changed tells, once, that the file is no longer as it was last seen.
func (w *watch) changed(path string) bool {
	now := peek(path)
	w.mu.Lock()
	defer w.mu.Unlock()
	changed := w.begun && now != w.last
	w.begun, w.last = true, now
	return changed
}

// folder is the watch on a folder; nil when it can't be watched. It lives on between two
// waits, so that nothing in between is missed.
func (w *watch) folder(dir string) *fsnotify.Watcher {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.on == nil && !w.dead {
		on, err := fsnotify.NewWatcher()
		if err != nil {
			return nil
		}
		if err := on.Add(dir); err != nil {
			on.Close()
			return nil
		}
		w.on = on
	}
	return w.on
}

// lost lets go of a watch whose folder has gone, or that missed something.
func (w *watch) lost() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.letGo()
}

// close ends the watch for good. It marks the watch as dead before it gives up the lock:
// a Wait that began the watch again would never end.
func (w *watch) close() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.dead = true
	w.letGo()
}

// letGo closes the folder's watch, under mu.
func (w *watch) letGo() {
	if w.on != nil {
		w.on.Close()
		w.on = nil
	}
}

func (w *watch) closed() bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.dead
}

// Where its folder can't be watched, the file is looked at every pollEvery as long as the
// window was used within useFor. Then nobody is there to see it, and nothing wakes.
const (
	pollEvery = 2 * time.Second
	useFor    = time.Minute
)

// Used tells that the window of this Book is in use, for Wait to look where it can't watch.
func (b *Book) Used() {
	select {
	case b.used <- struct{}{}:
	default:
	}
}

// Wait blocks until the book was written by anyone since it was last loaded, written or
// waited for, and then returns true; or until done is closed or the Book is, and then
// returns false. One Wait at a time, in a goroutine of its own; other methods may be
// called meanwhile.
func (b *Book) Wait(done <-chan struct{}) (changed bool) {
	until, failed := time.Now().Add(b.useFor), false
	for {
		dir, base := b.folder(), filepath.Base(b.file)
		var (
			events <-chan fsnotify.Event
			errs   <-chan error
			tick   <-chan time.Time
		)
		if on := b.watch.folder(dir); on != nil && !failed {
			events, errs = on.Events, on.Errors
		}
		if events == nil && (failed || time.Now().Before(until)) {
			tick = time.After(b.poll)
		}
		failed = false
		if b.watch.closed() {
			return false
		}
		b.mu.Lock() // an act under way isn't news to who writes it
		changed = b.watch.changed(b.file)
		b.mu.Unlock()
		if changed {
			return true
		}
		for waiting := true; waiting; {
			select {
			case <-done:
				return false
			case <-tick:
				waiting = false
			case <-b.used:
				until = time.Now().Add(b.useFor)
				waiting = events != nil
			case <-errs: // some events are lost, and a watch whose errors nobody reads is stuck
				b.watch.lost()
				failed, waiting = true, false
			case ev, ok := <-events:
				if ev.Name == dir && ev.Has(fsnotify.Remove|fsnotify.Rename) {
					b.watch.lost()
				}
				waiting = ok && filepath.Base(ev.Name) != base && ev.Name != dir
			}
		}
	}
}

package app

import (
	"bytes"
	"os"
	"sync/atomic"
	"time"

	"brine/wrasse/ui"
)

// keyboard is the terminal as keys are read from it. A terminal that marks pastes is
// believed. For one that does not, keyboard counts what comes at once, as nothing else
// tells a paste from typing; and it drops what is more than any field takes, since each
// word of it would be drawn.
type keyboard struct {
	*os.File
	keys   atomic.Int32 // that came at once up to now; one that is held down counts once
	before atomic.Int32 // of a paste of several lines before them
	until  atomic.Int64 // the moment, in ns, up to which keys may still be of that paste

	at     time.Time // of the last read
	full   bool      // it brought as much as there was room for: there is more
	last   byte      // of the keys
	lines  bool      // they are several lines
	size   int       // of the text that came at once
	seq    []byte    // the escape sequence that is being read
	pasted bool      // the terminal says that this is a paste
}

const (
	// The longest pause between two reads of what came at once, for which nobody types fast
	// enough; when something is dropped, and much seems to come; and after a read that
	// brought as much as there was room for.
	together     = 2 * time.Millisecond
	whenDropping = 50 * time.Millisecond
	whenFull     = time.Second

	// The last key of a paste is acted on after the next keys may be read already, and has this long to be.
	lingering = 200 * time.Millisecond

	mostTyped  = 4 << 10  // bytes at once that are no marked paste
	mostPasted = 64 << 10 // bytes of a marked one
	longest    = 32       // bytes of a sequence
)

// Read reads keys. It may bring none, where all is dropped.
func (k *keyboard) Read(p []byte) (int, error) {
	asked := time.Now() // all before has gone to the window, which still has the last key to act on
	n, err := k.File.Read(p)
	pause := together
	switch {
	case k.full:
		pause = whenFull
	case k.size > mostTyped:
		pause = whenDropping
	}
	if !k.pasted && time.Since(k.at) > pause {
		if n := k.keys.Load(); n > ui.MostKeys && k.lines {
			k.before.Store(n)
			k.until.Store(asked.Add(lingering).UnixNano())
		}
		k.keys.Store(0)
		k.last, k.size, k.lines = 0, 0, false
	}
	k.full = n == len(p)
	kept := p[:0]
	for _, c := range p[:n] {
		if k.take(c) {
			kept = append(kept, c)
		}
	}
	if k.atOnce() > ui.MostKeys {
		k.oneLine(kept)
	}
	k.at = time.Now()
	return len(kept), err
}

// oneLine makes blanks of the ends of all lines but the last, as a marked paste has them in
// a field: the first would send a form off, and what follows would be keys.
func (k *keyboard) oneLine(text []byte) {
	if !k.full {
		text = bytes.TrimRight(text, "\r\n")
	}
	for i, c := range text {
		if !k.pasted && (c == '\r' || c == '\n') {
			text[i] = ' '
		}
	}
}

// take counts a byte, and tells whether it is kept.
func (k *keyboard) take(c byte) bool {
	switch in := len(k.seq); {
	case c == '\x1b':
		k.seq = append(k.seq[:0], c)
		return true
	case in == 1 && (c == '[' || c == 'O'), in > 1 && in < longest && c < '@':
		k.seq = append(k.seq, c)
		return true
	case in > 1: // its last byte
		switch string(append(k.seq, c)) {
		case "\x1b[200~":
			k.pasted, k.size = true, 0
		case "\x1b[201~":
			k.pasted = false
		}
		k.seq = k.seq[:0]
		return true
	}
	k.seq = k.seq[:0]
	k.size++
	if k.pasted {
		return k.size <= mostPasted
	}
	if c != k.last || c >= 0x80 {
		k.keys.Add(1)
		k.lines = k.lines || k.last == '\r'
	}
	k.last = c
	const ctrlC = 3 // somebody has had enough
	return k.size <= mostTyped || c == ctrlC
}

// atOnce is how many keys came together with the one that is being acted on.
func (k *keyboard) atOnce() int {
	if time.Now().UnixNano() < k.until.Load() {
		return int(max(k.keys.Load(), k.before.Load()))
	}
	return int(k.keys.Load())
}

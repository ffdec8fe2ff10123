package storage

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"os"
	"testing"
	"time"
)

// Where a header of bbolt says what, from the beginning of its page on, and how long that is.
var headerFields = map[string]struct{ at, length int }{
	"page size": {24, 4}, "root": {32, 8}, "free list": {48, 8}, "pages": {56, 8}, "act": {64, 8},
}

// reseal sets a field of one header, or of both (-1), as one would who makes the checksum hold.
func reseal(raw []byte, id int, field string, value uint64) []byte {
	raw = append([]byte(nil), raw...)
	for page := range 2 {
		if id >= 0 && id != page {
			continue
		}
		m := raw[page*os.Getpagesize():]
		f := headerFields[field]
		if f.length == 4 {
			binary.NativeEndian.PutUint32(m[f.at:], uint32(value))
		} else {
			binary.NativeEndian.PutUint64(m[f.at:], value)
		}
		hash := fnv.New64a()
		hash.Write(m[16:72])
		binary.NativeEndian.PutUint64(m[72:], hash.Sum64())
	}
	return raw
}

// Whatever a header says under a checksum that holds: a book is refused at once and in one line,
// or it is the book that it was, and goes on as one.
func TestCraftedHeaders(t *testing.T) {
	raw := content(t, 200)
	before := load(t, copyOf(t, raw)).Last()
	values := []uint64{0, 1, 2, 3, 7, 64, 512, 1 << 12, 1 << 13, 1 << 20, 1 << 32, 1 << 51, 1 << 52, 1 << 53, 1<<63 - 1, 1 << 63, ^uint64(1), ^uint64(0)}
	refused, through := 0, 0
	for field := range headerFields {
		for _, value := range values {
			for id := -1; id < 2; id++ {
				what := fmt.Sprintf("header %d, %s %d", id, field, value)
				b := copyOf(t, reseal(raw, id, field, value))
				begun := time.Now()
				for op, do := range map[string]func() error{
					"load":   func() error { _, err := b.Load(); return err },
					"verify": func() error { _, err := b.Verify(); return err },
				} {
					if err := do(); err != nil && !errors.Is(err, ErrDamaged) {
						t.Errorf("%s: %s: %v", what, op, err)
					}
				}
				w, err := try(b, note("goes on"))
				if took := time.Since(begun); took > 3*time.Second {
					t.Errorf("%s: it takes %v", what, took)
				}
				if err != nil {
					refused++
					if !errors.Is(err, ErrDamaged) {
						t.Errorf("%s: %v", what, err)
					}
					oneLine(t, err)
					continue
				}
				through++
				book, err := again(t, b).Load()
				if err != nil || book.Last() != w.Act || w.Act > before+1 {
					t.Errorf("%s: act %d is written, and then %v", what, w.Act, err)
				}
			}
		}
	}
	if refused < 100 || through < 10 {
		t.Errorf("%d headers are refused, with %d the book goes on", refused, through)
	}
}

package storage

import (
	"errors"
	"fmt"
)

// What a caller can act on; test with errors.Is. The errors themselves are one line and
// say what to do.
var (
	ErrNoBook  = errors.New("there is no book")
	ErrBusy    = errors.New("the book is in use")
	ErrDamaged = errors.New("the book is damaged")
	ErrNewer   = errors.New("the book was written by a newer wrasse")
	ErrHolds   = errors.New("there is a book already")

	errClosed = errors.New("the book has been closed")
	errMoved  = errors.New("entries were written meanwhile")
)

// damaged is a finding about the file; advise adds the path and the way out.
func damaged(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrDamaged, fmt.Sprintf(format, args...))
}

// advise makes the one line the keeper sees of an error of an operation on the book.
func (b *Book) advise(err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, ErrDamaged):
		return fmt.Errorf("%s: %w; %s", b.path, err, b.wayOut(err))
	case errors.Is(err, ErrNoBook), errors.Is(err, ErrBusy), errors.Is(err, ErrNewer), errors.Is(err, ErrHolds):
		return fmt.Errorf("%s: %w", b.path, err)
	}
	return err
}

// wayOut says how to get a damaged book back.
func (b *Book) wayOut(err error) string {
	const salvage = "save what can be read with: wrasse export jsonl --salvage"
	out := salvage
	if copies := b.Backups(); len(copies) > 0 {
		out = fmt.Sprintf("bring the newest copy back with: wrasse restore %s, or %s", copies[0], salvage)
	}
	if errors.Is(err, errHeader) {
		out += ", or look with: wrasse verify --accept"
	}
	return out
}

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
	errHeader = errors.New("one of the headers is damaged")
	errMoved  = errors.New("entries were written meanwhile")
)

// damageError is damage to the file, in the words of what was found.
type damageError struct {
	what   string
	header bool // it is one of the headers
}

func (e *damageError) Error() string { return ErrDamaged.Error() + ": " + e.what }

// Is makes every damage an ErrDamaged, and that of a header errHeader too.
func (e *damageError) Is(target error) bool {
	return target == ErrDamaged || e.header && target == errHeader
}

func damaged(format string, args ...any) error {
	return &damageError{what: fmt.Sprintf(format, args...)}
}

func damagedHeader(format string, args ...any) error {
	return &damageError{what: fmt.Sprintf(format, args...), header: true}
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

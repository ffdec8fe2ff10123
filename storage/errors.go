package storage

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"
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
		out += ", or go on with what the other header says: wrasse verify --accept"
	}
	return out
}

// notWritten says that an act was not written, why, and what helps.
func (b *Book) notWritten(err error) error {
	if err == nil || errors.Is(err, errMoved) {
		return err
	}
	for _, known := range []error{ErrDamaged, ErrBusy, ErrNoBook, ErrNewer, ErrHolds} {
		if errors.Is(err, known) {
			return err
		}
	}
	return fmt.Errorf("nothing was written to %s: %w; %s", b.path, err, remedy(err))
}

// remedy is what helps against an error of writing. bbolt does not pass on the cause of
// every one, so the common one of a full disk is also the last guess.
func remedy(err error) string {
	if errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS) {
		return "make file and folder writable and try again, or name another book with --book"
	}
	return "make room on the disk or mend the folder, and try again"
}

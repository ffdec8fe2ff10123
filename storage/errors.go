package storage

import (
	"errors"
	"fmt"
	"io/fs"
	"runtime"
	"strings"
	"syscall"
)

// What a caller can act on; test with errors.Is. The errors themselves are one line and
// say what to do.
var (
	ErrNoBook  = errors.New("there is no book")
	ErrGone    = errors.New("the book is gone")
	ErrAway    = errors.New("the book's file is not there")
	ErrBusy    = errors.New("the book is in use")
	ErrDamaged = errors.New("the book is damaged")
	ErrNewer   = errors.New("the book was written by a newer wrasse")
	ErrHolds   = errors.New("there is a book already")

	errClosed  = errors.New("the book has been closed")
	errHeader  = errors.New("one of the headers is damaged")
	errDerived = errors.New("what is kept beside the log is damaged")
	errMoved   = errors.New("entries were written meanwhile")
)

// damageError is damage to the file, in the words of what was found.
type damageError struct {
	what string

	header  bool // it is one of the headers
	derived bool // it lies beside the log, of which it can be made again
}

func (e *damageError) Error() string { return ErrDamaged.Error() + ": " + e.what }

// Is makes every damage an ErrDamaged. Damage of a header is also an errHeader, damage beside the log an errDerived.
func (e *damageError) Is(target error) bool {
	return target == ErrDamaged || e.header && target == errHeader || e.derived && target == errDerived
}

func damaged(format string, args ...any) error {
	return &damageError{what: fmt.Sprintf(format, args...)}
}

func damagedHeader(format string, args ...any) error {
	return &damageError{what: fmt.Sprintf(format, args...), header: true}
}

func damagedDerived(format string, args ...any) error {
	return &damageError{what: fmt.Sprintf(format, args...), derived: true}
}

// advise makes the one line the keeper sees of an error of an operation on the book.
func (b *Book) advise(err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, ErrDamaged):
		return fmt.Errorf("%s: %w; %s", b.path, err, b.wayOut(err))
	case errors.Is(err, ErrNoBook), errors.Is(err, ErrGone), errors.Is(err, ErrAway), errors.Is(err, ErrBusy), errors.Is(err, ErrNewer), errors.Is(err, ErrHolds):
		return fmt.Errorf("%s: %w", b.path, err)
	}
	return err
}

// WayOut says how to get the book back after Verify has found something.
func (b *Book) WayOut() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	err := b.headers()
	if err == nil {
		if _, failed := strictly(b.file); failed == nil {
			err = errDerived // whatever was found, the log is whole
		}
	}
	return b.wayOut(err)
}

// wayOut says how to get a damaged book back, in lines that can be typed as they stand.
func (b *Book) wayOut(err error) string {
	out := "save what can be read with: " + b.line("export jsonl --salvage")
	if copied := b.soundCopy(); copied != "" {
		out = fmt.Sprintf("bring the newest copy back with: %s, or %s", b.line("restore "+quoted(copied)), out)
	}
	if errors.Is(err, errDerived) {
		return "make it anew of the log with: " + b.line("verify --rebuild") + ", or " + out
	}
	if errors.Is(err, errHeader) && b.hasHeader() {
		out += ", or go on with what the other header says: " + b.line("verify --accept")
	}
	return out
}

// hasHeader tells whether one header of the file can be read.
func (b *Book) hasHeader() bool {
	f, err := OpenFile(b.file)
	if err != nil {
		return false
	}
	defer f.Close()
	_, err = readAnyHeader(f)
	return err == nil
}

// soundCopy is the newest daily copy that is worth bringing back, "" when there is none.
func (b *Book) soundCopy() string {
	for _, path := range b.Backups() {
		if entries, err := sound(path); err == nil && entries > 0 {
			return path
		}
	}
	return ""
}

// line is a command line about this book, whichever way it was named this time.
func (b *Book) line(words string) string { return "wrasse --book " + quoted(b.path) + " " + words }

// bare are the characters that mean nothing to a shell.
const bare = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-./:@%+=,"

// quoted is a path as a shell takes it for one word.
func quoted(path string) string {
	switch {
	case strings.Trim(path, bare) == "" && path != "":
		return path
	case runtime.GOOS == "windows":
		return `"` + path + `"`
	}
	return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
}

// missed makes an ErrGone of an ErrNoBook where there has been a book: this process read
// it, or daily copies of it lie there. To begin a new one in its place would hide the
// loss.
func (b *Book) missed(err error) error { return b.missedOf(err, b.known != nil) }

func (b *Book) missedOf(err error, known bool) error {
	if !errors.Is(err, ErrNoBook) {
		return err
	}
	copied := b.soundCopy()
	switch {
	case copied != "":
		return fmt.Errorf("%w; put its file back, or bring the newest copy back with: %s; to begin another book, move %s away",
			ErrGone, b.line("restore "+quoted(copied)), b.copies())
	case known:
		return fmt.Errorf("%w; put its file back and try again", ErrGone)
	}
	return err
}

// notWritten says that an act was not written, why, and what helps.
func (b *Book) notWritten(err error) error {
	if err == nil || errors.Is(err, errMoved) {
		return err
	}
	for _, known := range []error{errNoFile, ErrDamaged, ErrBusy, ErrNoBook, ErrGone, ErrAway, ErrNewer, ErrHolds} {
		if errors.Is(err, known) {
			return err
		}
	}
	return fmt.Errorf("nothing was written to %s: %w; %s", b.path, err, remedy(err))
}

// copyRemedy is what helps against an error of making a copy in a folder; "" where the error
// says it itself.
func copyRemedy(err error, dir string) string {
	switch {
	case errors.Is(err, errInTheWay), errors.Is(err, ErrBusy), errors.Is(err, ErrDamaged), errors.Is(err, ErrGone), errors.Is(err, ErrNoBook):
		return ""
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return "; make " + dir + " writable"
	case diskFull(err):
		return "; make room in " + dir
	}
	return "; mend " + dir + ", or the disk it lies on"
}

// remedy is what helps against an error of writing. bbolt does not pass on the cause of
// every one, so the common one of a full disk is also the last guess.
func remedy(err error) string {
	if errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS) {
		return "make file and folder writable and try again, or name another book with --book"
	}
	return "make room on the disk or mend the folder, and try again"
}

// readable is what helps against an error of opening the book to read it.
func readable(err error) string {
	if errors.Is(err, fs.ErrPermission) {
		return "make file and folder readable and try again, or name another book with --book"
	}
	return "mend the folder or the disk and try again, or name another book with --book"
}

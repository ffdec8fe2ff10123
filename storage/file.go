package storage

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// OpenFile opens a file to read it. What is no file (a folder, a pipe, a device) is refused,
// and not waited for.
func OpenFile(path string) (*os.File, error) { return openFile(path, os.O_RDONLY) }

// openFile opens a file that is there.
func openFile(path string, flags int) (*os.File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if err := isFile(path, info); err != nil {
		return nil, err
	}
	return openPlain(path, flags)
}

// errNoFile is the error of a name that something else than a file has.
var errNoFile = errors.New("name a file")

// isFile refuses what is no file: to open or to read it may take for ever.
func isFile(path string, info fs.FileInfo) error {
	kind := "a device"
	switch mode := info.Mode(); {
	case mode.IsRegular():
		return nil
	case mode.IsDir():
		kind = "a folder"
	case mode&fs.ModeNamedPipe != 0:
		kind = "a pipe"
	case mode&fs.ModeSocket != 0:
		kind = "a socket"
	}
	return fmt.Errorf("%s is %s; %w", path, kind, errNoFile)
}

// errInTheWay is the error of a name that something else has.
var errInTheWay = errors.New("move it away")

// NewFile makes a file that must not be there yet. It is on the disk, name and all, when
// NewFile returns without an error; with one there is no file.
func NewFile(path string, write func(io.Writer) error) (err error) {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already; name a new file, or remove it first", path)
	}
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(path)
		}
	}()
	if err = write(f); err == nil {
		err = f.Sync()
	}
	if closing := f.Close(); err == nil {
		err = closing
	}
	if err != nil {
		return err
	}
	return lasting(filepath.Dir(path))
}

// ReplaceFile is NewFile for a file of text that may be there already, and is then as it was until
// the new one is whole. What is no text is not replaced: it may be a book.
func ReplaceFile(path string, write func(io.Writer) error) error {
	old, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return NewFile(path, write)
	}
	if err != nil {
		return err
	}
	if bytes.IndexByte(old, 0) >= 0 {
		return fmt.Errorf("%s is no text and not replaced; name another file", path)
	}
	beside := path + ".new"
	if err := NewFile(beside, write); err != nil {
		return err
	}
	if err := os.Rename(beside, path); err != nil {
		os.Remove(beside)
		return err
	}
	return lasting(filepath.Dir(path))
}

// MakeFolder makes a folder and those above it that are not there yet. Their names are on
// the disk when it returns.
func MakeFolder(dir string) error {
	if info, err := os.Stat(dir); err == nil {
		if !info.IsDir() {
			err = fmt.Errorf("%s is no folder; %w", dir, errInTheWay)
		}
		return err
	}
	above := filepath.Dir(dir)
	if above != dir {
		if err := MakeFolder(above); err != nil {
			return err
		}
	}
	err := os.Mkdir(dir, 0o700)
	if info, _ := os.Stat(dir); err != nil && (info == nil || !info.IsDir()) { // else another process was faster
		return err
	}
	return lasting(above)
}

// lasting makes the names in a folder durable. Tests listen in.
var lasting = syncFolder

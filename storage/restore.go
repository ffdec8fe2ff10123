package storage

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"io/fs"
	"os"

	"brine/wrasse/model/ledger"
)

// Restore puts a copy in the book's place, once it has been verified from end to end: the
// copy itself, or a file made again of its log where nothing else in it is damaged. The file
// that it replaces is kept under the name that comes back, "" when there was none.
func (b *Book) Restore(from string) (kept string, err error) {
	end, err := b.begin()
	if err != nil {
		return "", err
	}
	defer end()
	findings, err := verifyFile(from)
	if err != nil {
		return "", err
	}
	write := func(path string) error { return copyFile(from, path) }
	if len(findings) > 0 {
		book, err := strictly(from)
		if err != nil {
			return "", fmt.Errorf("%s: %w: %s; restore another copy", from, ErrDamaged, findings[0])
		}
		write = func(path string) error { _, err := build(path, book); return err }
	}
	kept, err = b.replace(write)
	return kept, b.advise(err)
}

// Accept makes a book whole again of which one header is damaged, with what the other
// one says. When the damaged one was the newer, the last act is not in the book any
// more. It refuses where anything else is damaged, or nothing. The damaged file is kept
// under the name that comes back.
func (b *Book) Accept() (kept string, err error) {
	end, err := b.begin()
	if err != nil {
		return "", err
	}
	defer end()
	if err := b.headers(); !errors.Is(err, errHeader) {
		if err == nil {
			err = errors.New("both headers are whole, there is nothing to accept; look with: wrasse verify")
		}
		return "", b.advise(err)
	}
	kept, err = b.replace(func(path string) error {
		if err := copyFile(b.file, path); err != nil {
			return err
		}
		if err := mendHeaders(path); err != nil {
			return err
		}
		findings, err := verifyFile(path)
		if err == nil && len(findings) > 0 {
			err = damaged("its other header is no help: %s", findings[0])
		}
		return err
	})
	return kept, b.advise(err)
}

// Rebuild makes the book's file again of its log alone, when anything else in it is damaged. It refuses when the log is
// damaged. The old file is kept under the name that comes back. O(n), in memory for the whole log.
func (b *Book) Rebuild() (kept string, err error) {
	end, err := b.begin()
	if err != nil {
		return "", err
	}
	defer end()
	kept, err = b.replace(func(path string) error {
		book, err := strictly(b.file)
		if err == nil {
			_, err = build(path, book)
		}
		return err
	})
	return kept, b.advise(err)
}

// strictly is the book that the log of a file comes to, each entry as strictly looked at as in an import. What
// is beside the log may be damaged. Nobody writes to the file meanwhile.
func strictly(path string) (*ledger.Book, error) {
	f, err := OpenFile(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	im, err := newImage(f)
	if err != nil {
		return nil, err
	}
	var v verifier
	book, _, err := v.fold(im)
	if err == nil && book == nil {
		err = damaged("%s", v.findings[0])
	}
	return book, err
}

// mendHeaders writes the header that can be read over the other one, as the transaction
// before it: then both say the same.
func mendHeaders(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	good, err := readAnyHeader(f)
	if err != nil {
		return err
	}
	size := int64(good.pageSize)
	bad := pageID(1)
	if _, err := readHeader(f, 1, size); err == nil {
		bad = 0
	}
	page := make([]byte, size)
	if _, err := f.ReadAt(page, int64(1-bad)*size); err != nil {
		return err
	}
	ne := binary.NativeEndian
	ne.PutUint64(page, uint64(bad))
	m := page[pageHeaderLen:]
	ne.PutUint64(m[48:], good.txid-1)
	hash := fnv.New64a()
	hash.Write(m[:headerLen-8])
	ne.PutUint64(m[headerLen-8:], hash.Sum64())
	_, err = f.WriteAt(page, int64(bad)*size)
	return err
}

// replace puts a new file in the book's place while no process is in the middle of an
// act, and keeps the old one. Who waits for the old file's lock finds the new one.
func (b *Book) replace(write func(path string) error) (kept string, err error) {
	dir := b.folder()
	if err := b.makeFolder(); err != nil {
		return "", err
	}
	err = inFolder(dir, func() error {
		if b.dead.Load() == nil { // else bbolt's own lock is still held by this process
			old, err := b.open(true)
			if err == nil {
				defer old.Close()
			} else if !errors.Is(err, ErrNoBook) {
				return err
			}
		}
		return install(b.file, func(path string) error {
			if err := write(path); err != nil {
				return err
			}
			kept, err = b.keep()
			return err
		})
	})
	if err != nil {
		return "", b.notWritten(err)
	}
	b.dead.Store(nil)
	return kept, nil
}

// keep gives the book's file a second name, "" when there is none.
func (b *Book) keep() (string, error) {
	stamp := b.file + ".replaced-" + b.now().Format("20060102-150405")
	for n := 1; ; n++ {
		name := stamp
		if n > 1 {
			name = fmt.Sprintf("%s-%d", stamp, n)
		}
		err := os.Link(b.file, name)
		switch {
		case err == nil:
			return name, nil
		case errors.Is(err, fs.ErrExist):
			continue
		case errors.Is(err, fs.ErrNotExist):
			return "", nil
		}
		// A file system without links.
		if _, err := os.Lstat(name); err == nil {
			continue
		}
		return name, install(name, func(path string) error { return copyFile(b.file, path) })
	}
}

// copyFile copies the bytes of a file into one that is there already.
func copyFile(from, to string) error {
	in, err := OpenFile(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_TRUNC, 0)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}

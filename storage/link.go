package storage

import (
	"fmt"
	"os"
	"path/filepath"
)

// maxLinks bounds how many links are followed, as systems do.
const maxLinks = 40

// leadsTo is where a path leads when it is a link, or one to another, whether anything is
// there or not.
func leadsTo(path string) string {
	for range maxLinks {
		to, err := os.Readlink(path)
		if err != nil {
			break
		}
		if !filepath.IsAbs(to) {
			dir := filepath.Dir(path)
			if real, err := filepath.EvalSymlinks(dir); err == nil {
				dir = real
			}
			to = filepath.Join(dir, to)
		}
		path = to
	}
	return path
}

// away is the error of a book on the way to which a link leads nowhere. The book is on what
// is not mounted; a new one in the place of the link would hide it.
func (b *Book) away() error {
	link, file := astray(filepath.Clean(b.path))
	if link == "" {
		return nil
	}
	return fmt.Errorf("%w: %s is a link to %s; mount its disk, or begin a book there with: wrasse --book %s",
		ErrAway, link, leadsTo(link), quoted(file))
}

// makeFolder makes the folder of the book, unless that is away.
func (b *Book) makeFolder() error {
	if err := b.away(); err != nil {
		return err
	}
	if err := MakeFolder(b.folder()); err != nil {
		return fmt.Errorf("making the folder of the book: %w", err)
	}
	return nil
}

// astray is the link on the way to a file behind which nothing is, and where the file would
// lie; "" when there is none.
func astray(path string) (link, file string) {
	for link = path; ; link = filepath.Dir(link) {
		info, err := os.Lstat(link)
		switch {
		case err == nil && info.Mode()&os.ModeSymlink != 0:
			if _, err := os.Stat(link); err == nil {
				return "", ""
			}
			return link, filepath.Join(leadsTo(link), path[len(link):])
		case err == nil || link == filepath.Dir(link):
			return "", ""
		}
	}
}

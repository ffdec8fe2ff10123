package storage

import (
	"fmt"
	"os"
)

// Stamp is a text that the book's file has as long as nobody writes to it, and never again after: of which file it is,
// the transaction its newer header names, and when it was written last. It is "" where that can't be told for sure: there
// is no file, a header is damaged, somebody is writing it, or its folder is no good place for a book. Nothing is locked,
// and nothing but the headers is looked at.
func (b *Book) Stamp() string {
	f, err := openPlain(b.file(), os.O_RDONLY)
	if err != nil {
		return ""
	}
	defer f.Close()
	newer, _, err := readHeaders(f)
	if err != nil {
		return ""
	}
	info, err := f.Stat()
	if err != nil {
		return ""
	}
	device, inode, err := identityOf(b.file(), info)
	if err != nil || b.doubtful() != "" {
		return ""
	}
	// The transaction alone would do, but for a file that another program copies over this one: it keeps its number.
	return fmt.Sprintf("%d/%d %d %d %d %d", device, inode, newer.txid, newer.root, info.Size(), info.ModTime().UnixNano())
}

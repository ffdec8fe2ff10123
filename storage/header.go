package storage

import (
	"encoding/binary"
	"errors"
	"hash/fnv"
	"io"
)

// pageID numbers the pages of a file from 0. Pages 0 and 1 are the two headers, of which
// bbolt writes one in turn at the end of each transaction.
type pageID uint64

// header is what one of the two headers says.
type header struct {
	pageSize int
	root     pageID // of the tree of buckets
	freelist pageID
	pages    pageID // how many pages are in use or free
	txid     uint64
}

const (
	pageHeaderLen = 16
	headerLen     = 64
	headerMagic   = 0xED0CDAED
	headerVersion = 2

	flagBranch   = 0x01
	flagLeaf     = 0x02
	flagHeader   = 0x04
	flagFreelist = 0x10

	minPageSize = 512
	maxPageSize = 64 << 10

	// More pages than those of a hundred million entries, or more acts than anyone can do, are no book's.
	maxPages = 1 << 24
	maxTxid  = 1 << 48
)

// readHeader reads the header on page id, which lies at off.
func readHeader(r io.ReaderAt, id pageID, off int64) (header, error) {
	buf := make([]byte, pageHeaderLen+headerLen)
	if _, err := r.ReadAt(buf, off); err != nil && !errors.Is(err, io.EOF) {
		return header{}, err
	} else if err != nil {
		return header{}, damagedHeader("the file breaks off inside header %d", id)
	}
	h, what := parseHeader(buf, id)
	if what != "" {
		return header{}, damagedHeader("header %d of the file: %s", id, what)
	}
	return h, nil
}

// parseHeader reads a header page; what says in words what is wrong with it, if anything.
func parseHeader(buf []byte, id pageID) (h header, what string) {
	ne := binary.NativeEndian
	m := buf[pageHeaderLen:]
	hash := fnv.New64a()
	hash.Write(m[:headerLen-8])
	h = header{
		pageSize: int(ne.Uint32(m[8:])),
		root:     pageID(ne.Uint64(m[16:])),
		freelist: pageID(ne.Uint64(m[32:])),
		pages:    pageID(ne.Uint64(m[40:])),
		txid:     ne.Uint64(m[48:]),
	}
	switch {
	case ne.Uint32(m) != headerMagic:
		what = "not the mark of a book"
	case ne.Uint32(m[4:]) != headerVersion:
		what = "a format this program does not know"
	case ne.Uint64(m[headerLen-8:]) != hash.Sum64():
		what = "the checksum does not hold"
	case pageID(ne.Uint64(buf)) != id || ne.Uint16(buf[8:]) != flagHeader:
		what = "the page is not marked as a header"
	case h.pageSize < minPageSize || h.pageSize > maxPageSize || h.pageSize&(h.pageSize-1) != 0:
		what = "the page size is impossible"
	case h.pages > maxPages || h.root >= h.pages || h.freelist >= h.pages:
		what = "the number of pages is impossible"
	case h.txid > maxTxid || h.txid%2 != uint64(id):
		what = "the number of its act is impossible"
	}
	return h, what
}

// readHeaders reads both headers, the newer one first. One that is damaged is damage,
// even though bbolt would open the file with the other: the other is one act older.
func readHeaders(r io.ReaderAt) (newer, older header, err error) {
	first, err := readHeader(r, 0, 0)
	if err != nil {
		return header{}, header{}, err
	}
	second, err := readHeader(r, 1, int64(first.pageSize))
	if err != nil {
		return header{}, header{}, err
	}
	if second.pageSize != first.pageSize {
		return header{}, header{}, damagedHeader("the two headers of the file disagree on the page size")
	}
	if first.txid > second.txid {
		return first, second, nil
	}
	return second, first, nil
}

// readAnyHeader is the newest header that can be read, for looking into a damaged file.
func readAnyHeader(r io.ReaderAt) (header, error) {
	newer, _, err := readHeaders(r)
	if err == nil {
		return newer, nil
	}
	if h, e := readHeader(r, 0, 0); e == nil {
		return h, nil
	}
	for size := minPageSize; size <= maxPageSize; size *= 2 {
		if h, e := readHeader(r, 1, int64(size)); e == nil && h.pageSize == size {
			return h, nil
		}
	}
	return header{}, err
}

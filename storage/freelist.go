package storage

import (
	"bytes"
	"encoding/binary"
	"os"
	"slices"
)

// freePages reads the list of pages that the next transaction may overwrite. bbolt keeps
// no checksum of it, so a flipped byte there would let it write over live entries.
func (im *image) freePages() ([]pageID, page, error) {
	buf, err := im.raw(im.freelist)
	if err != nil {
		return nil, page{}, err
	}
	own := page{id: im.freelist, overflow: pageID(len(buf)/im.pageSize - 1)}
	ne := binary.NativeEndian
	if ne.Uint16(buf[8:]) != flagFreelist {
		return nil, own, damaged("page %d is not the list of free pages", im.freelist)
	}
	const many = 0xFFFF // then the first id is the true number
	n, at := uint64(ne.Uint16(buf[10:])), pageHeaderLen
	if n == many {
		n, at = ne.Uint64(buf[at:]), at+8
	}
	if n > uint64(len(buf)-at)/8 {
		return nil, own, damaged("the list of free pages is longer than its page")
	}
	free := make([]pageID, n)
	for i := range free {
		free[i] = pageID(ne.Uint64(buf[at+8*i:]))
		if free[i] < 2 || free[i] >= im.pages {
			return nil, own, damaged("the list of free pages names page %d, outside the file", free[i])
		}
	}
	slices.Sort(free)
	if len(slices.Compact(slices.Clone(free))) != len(free) {
		return nil, own, damaged("the list of free pages names a page twice")
	}
	return free, own, nil
}

// freeList is the list of free pages as an act of this process left it, which had
// checked the one before. While the file goes on from there, the same bytes are right.
type freeList struct {
	file   mark
	header header
	raw    []byte
}

// freeListOf is the list that was just written; the zero one when it can't be read.
func freeListOf(f *os.File) freeList {
	im, err := newImage(f)
	if err != nil {
		return freeList{}
	}
	raw, err := im.raw(im.freelist)
	if err != nil {
		return freeList{}
	}
	return freeList{im.file, im.header, raw}
}

// still tells whether a file and its list are as they were left.
func (l *freeList) still(im *image) bool {
	if l.raw == nil || l.header != im.header || l.file != im.file {
		return false
	}
	raw, err := im.raw(im.freelist)
	return err == nil && bytes.Equal(raw, l.raw)
}

// checkFree makes sure that no page on the list of free ones is in use. It looks at the
// free pages and the ways to them alone: a book has few of them however long it grows.
func (im *image) checkFree() error {
	free, own, err := im.freePages()
	if err != nil {
		return err
	}
	trees, err := im.trees()
	if err != nil {
		return err
	}
	for _, id := range free {
		if id >= own.id && id <= own.id+own.overflow {
			return damaged("the list of free pages names itself")
		}
		start, p, ok := im.startOf(id)
		for _, tree := range trees {
			used := start == tree.root
			if !used && ok && p.n > 0 {
				if used, err = im.onWay(tree, p, id); err != nil {
					return err
				}
			}
			if used {
				return damaged("page %d is in use and on the list of free pages", id)
			}
		}
	}
	return nil
}

// trees are the tree of tables and those of the tables that have pages of their own.
func (im *image) trees() ([]bucket, error) {
	out := []bucket{im.rootBucket()}
	for _, name := range tables {
		b, ok, err := im.bucket(name)
		if err != nil {
			return nil, err
		}
		if ok && b.root != 0 {
			out = append(out, b)
		}
	}
	return out, nil
}

// onWay tells whether a page that runs over page id belongs to a tree. One that does
// lies on the way to its own first key.
func (im *image) onWay(tree bucket, p page, id pageID) (bool, error) {
	c := im.cursor(tree)
	if _, err := c.seek(p.key(0)); err != nil {
		return false, err
	}
	return slices.ContainsFunc(c.way, func(s step) bool { return s.id == p.id && id <= s.id+s.overflow }), nil
}

// startOf finds the branch or leaf page that page id is part of; ok is false when there
// is none, and so nothing in it to lose.
func (im *image) startOf(id pageID) (start pageID, p page, ok bool) {
	buf := make([]byte, pageHeaderLen)
	for start = id; start >= 2 && id-start <= maxOverflow; start-- {
		if p, err := im.again(start); err == nil {
			return start, p, true
		}
		if im.readAt(buf, start) != nil {
			return 0, p, false
		}
		if pageID(binary.NativeEndian.Uint64(buf)) == start {
			return start, p, false
		}
	}
	return 0, p, false
}

package storage

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"iter"
	"os"
	"slices"
	"sort"
	"unsafe"
)

// image reads the pages of a bbolt file without mapping it. bbolt trusts what a page says, so that a damaged one is a
// panic, a fault or an endless walk; an image checks every number before it uses it. With it a file is looked at before
// bbolt may open it, its pages are verified, and what is left of a damaged one is read.
type image struct {
	r io.ReaderAt
	header
}

// newImage looks at both headers of a file and at its length.
func newImage(f *os.File) (*image, error) {
	h, _, err := readHeaders(f)
	if err != nil {
		return nil, err
	}
	im := &image{f, h}
	return im, im.whole(f)
}

// whole makes sure that all pages of a file are there.
func (im *image) whole(f *os.File) error {
	info, err := f.Stat()
	if err == nil && uint64(info.Size()) < uint64(im.pages)*uint64(im.pageSize) {
		err = damaged("the file is cut short: %d bytes instead of %d", info.Size(), uint64(im.pages)*uint64(im.pageSize))
	}
	return err
}

// element is one element of a branch or leaf page.
type element struct {
	key   []byte
	value []byte // of a leaf
	child pageID // of a branch
	sub   bool   // a leaf's value is a bucket
}

// page is one branch or leaf page with what overflows from it, checked as a whole.
type page struct {
	id       pageID
	overflow pageID // how many pages after it belong to it
	leaf     bool
	n        int // elements
	buf      []byte
}

const (
	elementLen      = 16 // of a branch and of a leaf
	bucketHeaderLen = 16
	subBucket       = 1 // flag of a leaf element

	maxOverflow = 1 << 16 // 256 MiB with pages of 4 KiB: a snapshot of 10 million entries
	maxDepth    = 40
)

// overflow is how many pages after a page belong to it.
func (im *image) overflow(id pageID) (pageID, error) {
	if id < 2 || id >= im.pages {
		return 0, damaged("page %d is outside the file", id)
	}
	var head [pageHeaderLen]byte
	if err := im.readAt(head[:], id); err != nil {
		return 0, err
	}
	if got := pageID(binary.NativeEndian.Uint64(head[:])); got != id {
		return 0, damaged("page %d says it is page %d", id, got)
	}
	overflow := pageID(binary.NativeEndian.Uint32(head[12:]))
	if overflow > maxOverflow || id+overflow >= im.pages {
		return 0, damaged("page %d runs beyond the file", id)
	}
	return overflow, nil
}

// raw reads the bytes of a page and what overflows from it.
func (im *image) raw(id pageID) ([]byte, error) {
	overflow, err := im.overflow(id)
	if err != nil {
		return nil, err
	}
	buf := make([]byte, im.pageSize*int(overflow+1))
	return buf, im.readAt(buf, id)
}

func (im *image) readAt(buf []byte, id pageID) error {
	_, err := im.r.ReadAt(buf, int64(id)*int64(im.pageSize))
	if errors.Is(err, io.EOF) {
		return damaged("the file breaks off before page %d", id)
	}
	return err
}

// page reads a branch or leaf page.
func (im *image) page(id pageID) (page, error) {
	buf, err := im.raw(id)
	if err != nil {
		return page{}, err
	}
	p, what := parsePage(buf)
	p.id, p.overflow = id, pageID(len(buf)/im.pageSize-1)
	if what != "" {
		return page{}, damaged("page %d: %s", id, what)
	}
	return p, nil
}

// parsePage looks at every element of a branch or leaf page; what says in words what is
// wrong with it, if anything. bbolt lays keys and values one behind the other after the
// table of elements, so that a wrong number or size in the table is noticed.
func parsePage(buf []byte) (p page, what string) {
	ne := binary.NativeEndian
	if len(buf) < pageHeaderLen {
		return p, "too short"
	}
	switch ne.Uint16(buf[8:]) {
	case flagLeaf:
		p.leaf = true
	case flagBranch:
	default:
		return p, "neither a branch nor a leaf"
	}
	p.n, p.buf = int(ne.Uint16(buf[10:])), buf
	next := uint64(pageHeaderLen + p.n*elementLen)
	if next > uint64(len(buf)) || (p.n == 0 && !p.leaf) {
		return p, "an impossible number of elements"
	}
	var last []byte
	for i := range p.n {
		pos, ksize, vsize := p.place(i)
		start := uint64(pageHeaderLen+i*elementLen) + pos
		if start != next || ksize == 0 || start+ksize+vsize > uint64(len(buf)) {
			return p, "an element that does not lie where it should"
		}
		next = start + ksize + vsize
		key := buf[start : start+ksize]
		if i > 0 && bytes.Compare(last, key) >= 0 {
			return p, "elements out of order"
		}
		last = key
		if p.leaf && ne.Uint32(buf[pageHeaderLen+i*elementLen:]) > subBucket {
			return p, "an element of unknown kind"
		}
	}
	return p, ""
}

// place is where the table of a page says that an element lies, from its own line in
// the table on.
func (p *page) place(i int) (pos, ksize, vsize uint64) {
	ne := binary.NativeEndian
	e := p.buf[pageHeaderLen+i*elementLen:][:elementLen]
	if p.leaf {
		return uint64(ne.Uint32(e[4:])), uint64(ne.Uint32(e[8:])), uint64(ne.Uint32(e[12:]))
	}
	return uint64(ne.Uint32(e)), uint64(ne.Uint32(e[4:])), 0
}

// at is an element.
func (p *page) at(i int) element {
	pos, ksize, vsize := p.place(i)
	line := pageHeaderLen + i*elementLen
	start := uint64(line) + pos
	end := start + ksize + vsize
	e := element{key: p.buf[start : start+ksize : start+ksize], value: p.buf[start+ksize : end : end]}
	if p.leaf {
		e.sub = binary.NativeEndian.Uint32(p.buf[line:]) == subBucket
	} else {
		e.child = pageID(binary.NativeEndian.Uint64(p.buf[line+8:]))
	}
	return e
}

// all are the elements in order.
func (p *page) all() iter.Seq2[int, element] {
	return func(yield func(int, element) bool) {
		for i := range p.n {
			if !yield(i, p.at(i)) {
				return
			}
		}
	}
}

// within tells whether the keys of a page lie from low to below high, nil for open.
func (p *page) within(low, high []byte) bool {
	return bytes.Compare(p.at(0).key, low) >= 0 && (high == nil || bytes.Compare(p.at(p.n-1).key, high) < 0)
}

// bucket is a tree of pages, or one leaf kept inside its parent.
type bucket struct {
	root   pageID // 0: inline
	inline page
}

func parseBucket(value []byte) (b bucket, what string) {
	if len(value) < bucketHeaderLen {
		return b, "a bucket without a header"
	}
	b.root = pageID(binary.NativeEndian.Uint64(value))
	if b.root != 0 {
		if len(value) != bucketHeaderLen {
			return b, "a bucket with text behind its header"
		}
		return b, ""
	}
	b.inline, what = parsePage(value[bucketHeaderLen:])
	if what == "" && !b.inline.leaf {
		what = "an inline bucket that is no leaf"
	}
	return b, what
}

// walker visits the pages of trees in order of keys, each page once.
type walker struct {
	im      *image
	shallow bool                   // leaves below a branch are not read
	used    []pageID               // the first pages of what was met
	leaves  []pageID               // those of them that were not read
	extent  func(id, pages pageID) // called for each page that was read, with those that it runs over; may be nil
	leaf    func(page)             // called for each leaf that was read; may be nil
	found   func(err error) error  // called for each damaged page; what it returns ends the walk
}

// walker is one that ends at the first damage.
func (im *image) walker() *walker {
	return &walker{im: im, found: func(err error) error { return err }}
}

// buckets walks the tree of tables, and gives the tables.
func (w *walker) buckets() (map[string]bucket, error) {
	out := map[string]bucket{}
	leaf, shallow := w.leaf, w.shallow
	defer func() { w.leaf, w.shallow = leaf, shallow }()
	var failed error
	w.leaf, w.shallow = func(p page) {
		for _, e := range p.all() {
			b, what := parseBucket(e.value)
			if !e.sub || what != "" {
				failed = w.found(damaged("page %d: the table %q can't be read", p.id, e.key))
				continue
			}
			out[string(e.key)] = b
		}
	}, false
	if err := w.tree(w.im.root, 0, nil, nil); err != nil {
		return nil, err
	}
	return out, failed
}

// bucket walks a table.
func (w *walker) bucket(b bucket) error {
	if b.root != 0 {
		return w.tree(b.root, 0, nil, nil)
	}
	if w.leaf != nil {
		w.leaf(b.inline)
	}
	return nil
}

// tree walks what hangs from a page; its keys lie from low to below high, nil for open.
func (w *walker) tree(id pageID, depth int, low, high []byte) error {
	p, err := w.im.page(id)
	if err != nil {
		return w.found(err)
	}
	if w.used = append(w.used, id); depth > maxDepth || pageID(len(w.used)) > w.im.pages {
		return damaged("page %d is in use twice", id)
	}
	if w.extent != nil {
		w.extent(id, p.overflow+1)
	}
	if p.n > 0 && !p.within(low, high) {
		return w.found(damaged("page %d holds a key that belongs on another", id))
	}
	if p.leaf {
		if w.leaf != nil {
			w.leaf(p)
		}
		return nil
	}
	above := w.shallow && !w.im.isBranch(p.at(0).child) // all leaves of a tree are as deep
	for i, e := range p.all() {
		if above {
			w.used, w.leaves = append(w.used, e.child), append(w.leaves, e.child)
			continue
		}
		below := high
		if i+1 < p.n {
			below = p.at(i + 1).key
		}
		if err := w.tree(e.child, depth+1, e.key, below); err != nil {
			return err
		}
	}
	return nil
}

// isBranch tells whether a page is a branch.
func (im *image) isBranch(id pageID) bool {
	var head [pageHeaderLen]byte
	return id < im.pages && im.readAt(head[:], id) == nil && binary.NativeEndian.Uint16(head[8:]) == flagBranch
}

// skeleton is what is looked at of a file before bbolt may walk through it: every branch, and no leaf below one.
type skeleton struct {
	tables map[string]bucket
	used   []pageID // all pages in use, by their first ones in order
	leaves []pageID // those that were not looked at
}

func (im *image) skeleton() (s skeleton, err error) {
	w := im.walker()
	s.tables, err = w.buckets()
	w.shallow = true
	for _, b := range s.tables {
		switch {
		case err != nil || b.root == 0:
		case im.isBranch(b.root):
			err = w.bucket(b)
		default: // that of the snapshot is as long as the book
			w.used, w.leaves = append(w.used, b.root), append(w.leaves, b.root)
		}
	}
	if err != nil {
		return s, err
	}
	slices.Sort(w.used)
	for i, id := range w.used {
		if id < 2 || id >= im.pages {
			return s, damaged("page %d is outside the file", id)
		}
		if i > 0 && id == w.used[i-1] {
			return s, damaged("page %d is in use twice", id)
		}
	}
	s.used, s.leaves = w.used, w.leaves
	return s, nil
}

// walkable makes sure that the leaves of a mapped file say that they are: bbolt takes any other page for a branch, and may
// walk from it for ever.
func (im *image) walkable(mapped unsafe.Pointer, s skeleton) error {
	for _, id := range s.leaves {
		at := unsafe.Add(mapped, int(id)*im.pageSize+8)
		if *(*uint16)(at) != flagLeaf {
			return damaged("page %d is no leaf, where one was expected", id)
		}
	}
	return nil
}

// way looks at the pages on the way to where a key is, or would come: bbolt puts it where they say.
func (im *image) way(b bucket, key []byte) error {
	var low, high []byte
	for id := b.root; id != 0; {
		p, err := im.page(id)
		if err != nil {
			return err
		}
		if p.n > 0 && !p.within(low, high) {
			return damaged("page %d holds a key that belongs on another", id)
		}
		if p.leaf {
			return nil
		}
		i := max(0, sort.Search(p.n, func(i int) bool { return bytes.Compare(p.at(i).key, key) > 0 })-1)
		if e := p.at(i); i+1 < p.n {
			low, high, id = e.key, p.at(i+1).key, e.child
		} else {
			low, id = e.key, e.child
		}
	}
	return nil
}

// freePages reads the list of pages that the next transaction may overwrite.
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

// checkFree makes sure that no page on the list of free ones is in use. bbolt keeps no checksum of that list, and lets the
// next act write over what is on it. used are the pages in use, by their first ones in order.
func (im *image) checkFree(used []pageID) error {
	free, own, err := im.freePages()
	if err != nil {
		return err
	}
	used = append(slices.Clone(used), own.id)
	slices.Sort(used)
	last := pageID(0) // up to which the used page before the free one runs
	for i, id := range free {
		at, in := slices.BinarySearch(used, id)
		if before := max(at-1, 0); !in && at > 0 && (i == 0 || free[i-1] < used[before]) {
			overflow, err := im.overflow(used[before])
			if err != nil {
				return err
			}
			last = used[before] + overflow
		}
		if in || id <= last {
			return damaged("page %d is in use and on the list of free pages", id)
		}
	}
	return nil
}

package storage

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"iter"
)

// image reads the pages of a bbolt file without mapping it. bbolt trusts what a page
// says, so that a damaged one is a panic, a fault or an endless walk; an image checks
// every number before it uses it. It is how a file is looked at before bbolt may open
// it, how it is verified, and how what is left of it is read.
type image struct {
	r io.ReaderAt
	header
	file mark
	kept map[pageID]page // what was read already; an image lives no longer than its lock
	slab slab

	last  pageID // read
	ahead []byte // pages after one that followed on the last
	from  pageID // the first of them
}

// slab is room for the pages of one look at a file, used again for the next: what is
// read into it must not be kept. Where it is full, or nil, new room is made.
type slab []byte

const slabLen = 48 << 12 // an act looks at some 30 pages

func (s *slab) room(n int) []byte {
	if n > len(*s) {
		return make([]byte, n)
	}
	out := (*s)[:n:n]
	*s = (*s)[n:]
	return out
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

	maxOverflow = 1 << 14 // 64 MiB with pages of 4 KiB; a leaf of ours is below 2 MiB
	maxDepth    = 40
)

// raw reads the bytes of a page and what overflows from it.
func (im *image) raw(id pageID) ([]byte, error) {
	if id < 2 || id >= im.pages {
		return nil, damaged("page %d is outside the file", id)
	}
	buf, err := im.one(id)
	if err != nil {
		return nil, err
	}
	if got := pageID(binary.NativeEndian.Uint64(buf)); got != id {
		return nil, damaged("page %d says it is page %d", id, got)
	}
	overflow := pageID(binary.NativeEndian.Uint32(buf[12:]))
	im.last = id + overflow
	if overflow == 0 {
		return buf, nil
	}
	if overflow > maxOverflow || id+overflow >= im.pages {
		return nil, damaged("page %d runs beyond the file", id)
	}
	buf = make([]byte, im.pageSize*int(overflow+1))
	return buf, im.readAt(buf, id)
}

// readAhead is how many pages are read at once where pages are read one after another,
// as they lie in a file that was written in one go: as much as the runtime has at hand in
// one piece.
const readAhead = 7

// one reads the bytes of a page.
func (im *image) one(id pageID) ([]byte, error) {
	if i := int(id-im.from) * im.pageSize; id >= im.from && i < len(im.ahead) {
		return im.ahead[i : i+im.pageSize : i+im.pageSize], nil
	}
	if n := min(readAhead, im.pages-id); im.slab == nil && id == im.last+1 {
		ahead := make([]byte, int(n)*im.pageSize)
		if im.readAt(ahead, id) == nil {
			im.ahead, im.from = ahead, id
			return ahead[:im.pageSize:im.pageSize], nil
		}
	}
	buf := im.slab.room(im.pageSize)
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

// again is a page that is likely to be asked for more than once.
func (im *image) again(id pageID) (page, error) {
	if p, ok := im.kept[id]; ok {
		return p, nil
	}
	p, err := im.page(id)
	if err != nil {
		return page{}, err
	}
	im.keep(p)
	return p, nil
}

func (im *image) keep(p page) {
	if im.kept == nil {
		im.kept = map[pageID]page{}
	}
	im.kept[p.id] = p
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

// key is the key of an element.
func (p *page) key(i int) []byte {
	pos, ksize, _ := p.place(i)
	start := uint64(pageHeaderLen+i*elementLen) + pos
	return p.buf[start : start+ksize : start+ksize]
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

// search finds the first element whose key is not below key.
func (p *page) search(key []byte) (i int, found bool) {
	low, high := 0, p.n
	for low < high {
		mid := int(uint(low+high) / 2)
		switch c := bytes.Compare(p.key(mid), key); {
		case c == 0:
			return mid, true
		case c < 0:
			low = mid + 1
		default:
			high = mid
		}
	}
	return low, false
}

// bucket is a tree of pages, or one leaf kept inside its parent.
type bucket struct {
	root   pageID // 0: inline
	inline page
}

func (im *image) rootBucket() bucket { return bucket{root: im.root} }

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

// bucket finds a bucket of ours by name; ok is false when the file has none.
func (im *image) bucket(name []byte) (b bucket, ok bool, err error) {
	e, ok, err := im.find(im.rootBucket(), name)
	if err != nil || !ok || !e.sub {
		return b, false, err
	}
	b, what := parseBucket(e.value)
	if what != "" {
		return b, false, damaged("%s", what)
	}
	return b, true, nil
}

// find finds the element of a key.
func (im *image) find(b bucket, key []byte) (element, bool, error) {
	c := im.cursor(b)
	found, err := c.seek(key)
	if err != nil || !found {
		return element{}, false, err
	}
	e, _ := c.here()
	return e, true, nil
}

// walker visits the pages of trees in order of keys, each page once.
type walker struct {
	im    *image
	seen  []bool                // by page: in use
	leaf  func(page) error      // called for each leaf
	found func(err error) error // called for each damaged page; what it returns ends the walk
}

func (im *image) walker() *walker {
	return &walker{
		im:    im,
		seen:  make([]bool, im.pages),
		leaf:  func(page) error { return nil },
		found: func(err error) error { return err },
	}
}

func (w *walker) bucket(b bucket) error {
	if b.root == 0 {
		return w.leaf(b.inline)
	}
	return w.tree(b.root, 0, nil, nil)
}

// within tells whether the keys of a page lie from low to below high, nil for open.
func (p *page) within(low, high []byte) bool {
	return bytes.Compare(p.key(0), low) >= 0 && (high == nil || bytes.Compare(p.key(p.n-1), high) < 0)
}

// tree walks what hangs from a page; its keys lie from low to below high, nil for open.
func (w *walker) tree(id pageID, depth int, low, high []byte) error {
	p, err := w.im.page(id)
	if err != nil {
		return w.found(err)
	}
	for i := range p.overflow + 1 {
		if w.seen[id+i] || depth > maxDepth {
			return w.found(damaged("page %d is in use twice", id+i))
		}
		w.seen[id+i] = true
	}
	if p.n > 0 && !p.within(low, high) {
		return w.found(damaged("page %d holds a key that belongs on another", id))
	}
	if p.leaf {
		return w.leaf(p)
	}
	for i, e := range p.all() {
		below := high
		if i+1 < p.n {
			below = p.key(i + 1)
		}
		if err := w.tree(e.child, depth+1, e.key, below); err != nil {
			return err
		}
	}
	return nil
}

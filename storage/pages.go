package storage

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
)

// image reads the pages of a bbolt file without mapping it. bbolt trusts what a page
// says, so that a damaged one is a panic, a fault or an endless walk; an image checks
// every number before it uses it. It is how a file is looked at before bbolt may open
// it, how it is verified, and how what is left of it is read.
type image struct {
	r io.ReaderAt
	header
}

// element is one element of a branch or leaf page.
type element struct {
	key   []byte
	value []byte // of a leaf
	child pageID // of a branch
	sub   bool   // a leaf's value is a bucket
}

// page is one branch or leaf page with what overflows from it.
type page struct {
	id       pageID
	overflow pageID // how many pages after it belong to it
	leaf     bool
	elements []element
}

const (
	branchElementLen = 16
	leafElementLen   = 16
	bucketHeaderLen  = 16
	subBucket        = 1 // flag of a leaf element

	maxOverflow = 1 << 14 // 64 MiB with pages of 4 KiB; a leaf of ours is below 2 MiB
	maxDepth    = 40
)

// raw reads the bytes of a page and what overflows from it.
func (im *image) raw(id pageID) ([]byte, error) {
	if id < 2 || id >= im.pages {
		return nil, damaged("page %d is outside the file", id)
	}
	buf := make([]byte, im.pageSize)
	if err := im.readAt(buf, id); err != nil {
		return nil, err
	}
	if got := pageID(binary.NativeEndian.Uint64(buf)); got != id {
		return nil, damaged("page %d says it is page %d", id, got)
	}
	overflow := pageID(binary.NativeEndian.Uint32(buf[12:]))
	if overflow == 0 {
		return buf, nil
	}
	if overflow > maxOverflow || id+overflow >= im.pages {
		return nil, damaged("page %d runs beyond the file", id)
	}
	buf = make([]byte, im.pageSize*int(overflow+1))
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

// parsePage reads the elements of a branch or leaf page; what says in words what is
// wrong with it, if anything.
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
	n := int(ne.Uint16(buf[10:]))
	if pageHeaderLen+n*leafElementLen > len(buf) || (n == 0 && !p.leaf) {
		return p, "an impossible number of elements"
	}
	p.elements = make([]element, n)
	for i := range p.elements {
		at := pageHeaderLen + i*leafElementLen
		e := buf[at:]
		var pos, ksize, vsize uint64
		if p.leaf {
			flags := ne.Uint32(e)
			pos, ksize, vsize = uint64(ne.Uint32(e[4:])), uint64(ne.Uint32(e[8:])), uint64(ne.Uint32(e[12:]))
			if flags > subBucket {
				return p, "an element of unknown kind"
			}
			p.elements[i].sub = flags == subBucket
		} else {
			pos, ksize = uint64(ne.Uint32(e)), uint64(ne.Uint32(e[4:]))
			p.elements[i].child = pageID(ne.Uint64(e[8:]))
		}
		start := uint64(at) + pos
		if pos < leafElementLen || ksize == 0 || start+ksize+vsize > uint64(len(buf)) {
			return p, "an element that lies outside it"
		}
		p.elements[i].key = buf[start : start+ksize]
		p.elements[i].value = buf[start+ksize : start+ksize+vsize]
		if i > 0 && bytes.Compare(p.elements[i-1].key, p.elements[i].key) >= 0 {
			return p, "elements out of order"
		}
	}
	return p, ""
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
	path, err := im.path(im.rootBucket(), name)
	if err != nil {
		return b, false, err
	}
	for _, e := range path[len(path)-1].elements {
		if e.sub && bytes.Equal(e.key, name) {
			b, what := parseBucket(e.value)
			if what != "" {
				return b, false, damaged("%s", what)
			}
			return b, true, nil
		}
	}
	return b, false, nil
}

// path is the pages from the root of a bucket to the leaf where key would stand.
func (im *image) path(b bucket, key []byte) ([]page, error) {
	if b.root == 0 {
		return []page{b.inline}, nil
	}
	var path []page
	for id := b.root; len(path) < maxDepth; {
		p, err := im.page(id)
		if err != nil {
			return nil, err
		}
		path = append(path, p)
		if p.leaf {
			return path, nil
		}
		next := 0
		for next+1 < len(p.elements) && bytes.Compare(p.elements[next+1].key, key) <= 0 {
			next++
		}
		id = p.elements[next].child
	}
	return nil, damaged("page %d: the tree is too deep", b.root)
}

// walker visits the pages of trees in order of keys, each page once.
type walker struct {
	im    *image
	seen  []bool                // by page: in use
	from  []byte                // leaves that end before this key are passed over
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
	if n := len(p.elements); n > 0 && (bytes.Compare(p.elements[0].key, low) < 0 ||
		high != nil && bytes.Compare(p.elements[n-1].key, high) >= 0) {
		return w.found(damaged("page %d holds a key that belongs on another", id))
	}
	if p.leaf {
		return w.leaf(p)
	}
	for i, e := range p.elements {
		below := high
		if i+1 < len(p.elements) {
			below = p.elements[i+1].key
			if bytes.Compare(below, w.from) <= 0 {
				continue
			}
		}
		if err := w.tree(e.child, depth+1, e.key, below); err != nil {
			return err
		}
	}
	return nil
}

package storage

import "bytes"

// reader reads a table of sealed values under keys of text, as package model keeps a
// folded book. A value whose seal does not hold is damage. So is a key that is missing
// because its page was damaged: beside a gap the seals of both neighbours must hold, and
// a changed key can only lie beside its old place or out of order.
//
// A reader lives as long as its image. What it gives may be kept beyond that, and keeps
// the page alive that it stands on.
type reader struct {
	im   *image
	tree bucket
	get  *cursor // of Get, which is called over and over
	leaf page    // read last; those on the way to it are kept
}

// reader is that of a table; one that is missing is empty.
func (im *image) reader(table []byte) (*reader, error) {
	own := &image{r: im.r, header: im.header, file: im.file} // without the slab, which is used again
	b, _, err := own.bucket(table)
	r := &reader{im: own, tree: b}
	r.get = newCursor(r.page, b)
	return r, err
}

// page reads the pages on the way to leaves once, and of the leaves keeps the last: others
// of a long book would take as much room as the book itself.
func (r *reader) page(id pageID) (page, error) {
	if r.leaf.id == id {
		return r.leaf, nil
	}
	if p, ok := r.im.kept[id]; ok {
		return p, nil
	}
	p, err := r.im.page(id)
	switch {
	case err != nil:
		return page{}, err
	case p.leaf:
		r.leaf = p
		return p, nil
	}
	r.im.keep(p)
	return p, nil
}

// Get is the value under a key, nil when there is none.
func (r *reader) Get(key string) ([]byte, error) {
	c := r.get
	found, err := c.seek([]byte(key))
	if err != nil {
		return nil, err
	}
	if !found {
		return nil, gap(c, []byte(key))
	}
	e, _ := c.here()
	return opened(e)
}

// Scan calls each for the keys from one to below another, in their order.
func (r *reader) Scan(from, to string, each func(key string, value []byte) error) error {
	c := newCursor(r.page, r.tree)
	found, err := c.seek([]byte(from))
	if err != nil {
		return err
	}
	if !found {
		if err := gap(c, []byte(from)); err != nil {
			return err
		}
	}
	if _, ok := c.here(); !ok {
		if _, err := c.move(1); err != nil {
			return err
		}
	}
	for e, ok := c.here(); ok; e, ok = c.here() {
		value, err := opened(e) // of the one behind the last, too: it could have been the next
		if err != nil || string(e.key) >= to {
			return err
		}
		if err := each(string(e.key), value); err != nil {
			return err
		}
		if _, err := c.move(1); err != nil {
			return err
		}
	}
	return nil
}

// opened is the payload of an element.
func opened(e element) ([]byte, error) {
	payload, ok := unseal(e.key, e.value)
	if e.sub || !ok {
		return nil, damaged("the checksum of its record %q does not hold", e.key)
	}
	return payload, nil
}

// gap makes sure that nothing is missing where a cursor looked for a key in vain.
func gap(c *cursor, key []byte) error {
	for _, by := range []int{-1, 1} {
		n := c.split()
		_, here := n.here()
		if by < 0 || !here {
			if ok, err := n.move(by); err != nil || !ok {
				if err != nil {
					return err
				}
				continue
			}
		}
		e, _ := n.here()
		if bytes.Compare(e.key, key) != by {
			return damaged("its record %q lies out of order", e.key)
		}
		if _, err := opened(e); err != nil {
			return err
		}
	}
	return nil
}

package storage

import "slices"

// cursor stands at an element of a tree, or behind the last one. What it can't trust it
// refuses: pages whose keys belong elsewhere, empty ones, and ways that never end.
type cursor struct {
	read func(pageID) (page, error)
	tree bucket
	way  []step  // from the root to a leaf
	room [5]step // for the way, as deep as a tree of ours grows
}

// step is one page on the way, with the element the way goes on at.
type step struct {
	page
	i         int
	low, high []byte // its keys lie from low to below high, nil for open
}

// cursor is one for going to and fro: what it has read is kept.
func (im *image) cursor(b bucket) *cursor { return newCursor(im.again, b) }

// pass is one for passing through once: it keeps nothing.
func (im *image) pass(b bucket) *cursor { return newCursor(im.page, b) }

func newCursor(read func(pageID) (page, error), b bucket) *cursor {
	c := &cursor{read: read, tree: b}
	c.way = c.room[:0]
	return c
}

// seek goes to the first element whose key is not below key, in the leaf where key
// would stand; found tells whether the key is there.
func (c *cursor) seek(key []byte) (found bool, err error) {
	if err := c.begin(); err != nil {
		return false, err
	}
	for {
		top := c.top()
		i, found := top.search(key)
		top.i = i
		if top.leaf {
			return found, nil
		}
		if !found && i > 0 {
			top.i--
		}
		if err := c.down(); err != nil {
			return false, err
		}
	}
}

func (c *cursor) top() *step { return &c.way[len(c.way)-1] }

// begin goes to the root.
func (c *cursor) begin() error {
	c.way = c.way[:0]
	if c.tree.root == 0 {
		root := step{page: c.tree.inline}
		root.leaf = true // of a table that is missing, too: it is empty
		c.way = append(c.way, root)
		return nil
	}
	p, err := c.read(c.tree.root)
	c.way = append(c.way, step{page: p})
	return err
}

// down goes to the page that hangs from where the way ends.
func (c *cursor) down() error {
	from := c.top()
	e := from.at(from.i)
	next := step{low: e.key, high: from.high}
	if from.i+1 < from.n {
		next.high = from.key(from.i + 1)
	}
	var err error
	switch next.page, err = c.read(e.child); {
	case err != nil:
		return err
	case len(c.way) >= maxDepth:
		return damaged("page %d: the tree is too deep", e.child)
	case next.n == 0:
		return damaged("page %d is empty", e.child)
	case !next.within(next.low, next.high):
		return damaged("page %d holds a key that belongs on another", e.child)
	}
	c.way = append(c.way, next)
	return nil
}

// here is the element the cursor stands at; ok is false behind the last of a leaf.
func (c *cursor) here() (e element, ok bool) {
	top := c.top()
	if top.i < 0 || top.i >= top.n {
		return element{}, false
	}
	return top.at(top.i), true
}

// move goes by 1 to the element after this one, by -1 to the one before it, across
// leaves; ok is false when there is none.
func (c *cursor) move(by int) (ok bool, err error) {
	up := len(c.way) - 1
	for c.way[up].i += by; c.way[up].i < 0 || c.way[up].i >= c.way[up].n; c.way[up].i += by {
		if up == 0 {
			return false, nil
		}
		up--
	}
	c.way = c.way[:up+1]
	for !c.top().leaf {
		if err := c.down(); err != nil {
			return false, err
		}
		if by < 0 {
			c.top().i = c.top().n - 1
		}
	}
	return true, nil
}

// split is another cursor that stands at the same place.
func (c *cursor) split() *cursor {
	return &cursor{read: c.read, tree: c.tree, way: slices.Clone(c.way)}
}

package request

import (
	"errors"
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Define writes definitions, all as one act. Make is called with the book as it is
// at the moment of writing, so that a change made meanwhile by another process is
// built upon and not undone: what it returns replaces earlier definitions whole.
type Define struct {
	Stamp
	Make func(b *ledger.Book) ([]model.Body, error)
}

// Entries is the definitions.
func (r Define) Entries(b *ledger.Book) ([]model.Entry, error) {
	bodies, err := r.Make(b)
	if err != nil {
		return nil, err
	}
	if len(bodies) == 0 {
		return nil, errors.New("this changes nothing; give another value")
	}
	if n := len(bodies); n > model.MaxActLen {
		return nil, fmt.Errorf("%d definitions are more than one act may hold; do it in parts of at most %d", n, model.MaxActLen)
	}
	return r.entries(bodies...), nil
}

// EditComponent is a Define that changes one component.
func EditComponent(s Stamp, id model.ID, change func(*model.Component)) Define {
	return Define{s, func(b *ledger.Book) ([]model.Body, error) { return changed(b.Component, id, change) }}
}

// EditChore is a Define that changes one chore. The lists of the chore are the
// book's: change replaces them and does not write into them.
func EditChore(s Stamp, id model.ID, change func(*model.Chore)) Define {
	return Define{s, func(b *ledger.Book) ([]model.Body, error) { return changed(b.Chore, id, change) }}
}

// changed is a definition of the book as change makes it.
func changed[D model.Body](find func(model.ID) (D, bool), id model.ID, change func(*D)) ([]model.Body, error) {
	d, err := known(find, id)
	if err != nil {
		return nil, err
	}
	change(&d)
	return []model.Body{d}, nil
}

// known is what the book defines by an id; it must be there.
func known[D model.Body](find func(model.ID) (D, bool), id model.ID) (D, error) {
	d, ok := find(id)
	if !ok {
		return d, fmt.Errorf("%s: %q is not in the book; give the id of a %[1]s", d.Kind(), id)
	}
	return d, nil
}

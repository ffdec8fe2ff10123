package act

import (
	"errors"
	"fmt"

	"brine/wrasse/model"
)

func unknown(kind string, id model.ID) error {
	return fmt.Errorf("%s: %q is not in the book; give the id of a %s", kind, id, kind)
}

// plain takes the number off the error of an entry that was not written yet: the
// keeper never saw it. An older entry that stands in the way keeps its number.
func plain(b *model.Book, err error) error {
	var e *model.EntryError
	if errors.As(err, &e) && e.Seq > b.Last() {
		return e.Err
	}
	return err
}

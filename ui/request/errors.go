package request

import (
	"fmt"

	"brine/wrasse/model"
)

func unknown(kind string, id model.ID) error {
	return fmt.Errorf("%s: %q is not in the book; give the id of a %s", kind, id, kind)
}

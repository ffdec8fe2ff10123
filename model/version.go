package model

import (
	"slices"

	"github.com/go-json-experiment/json"
)

// FormatVersion is the version of the book format that this program writes at the most.
const FormatVersion = 2

// newFields are the fields of entries that came with version 2.
var newFields = []string{"care", "rated", "safe"}

// Version is the version of the book format that knows the entry: 2 where its kind, or a field that it holds or amends,
// came with version 2, else 1.
func (e *Entry) Version() int {
	later := false
	switch b := e.Body.(type) {
	case BookDef:
		later = b.Care != ""
	case Component:
		later = b.Rated != nil
	case Gauge:
		later = b.Safe != nil
	case Chore:
		later = slices.ContainsFunc(b.Clocks, func(c Clock) bool { return c.Meq })
	case Normal:
		later = true
	case Amend:
		fields, _ := members(b.With) // a bad one was refused when it was read
		for _, f := range fields {
			later = later || slices.Contains(newFields, f.name) || f.name == "clocks" && mentionsMeq(f.value)
		}
	}
	if later {
		return 2
	}
	return 1
}

// mentionsMeq tells whether one of some clocks, as they are written, states its life in meq.
func mentionsMeq(clocks []byte) bool {
	var read []Clock
	return json.Unmarshal(clocks, &read) == nil && slices.ContainsFunc(read, func(c Clock) bool { return c.Meq })
}

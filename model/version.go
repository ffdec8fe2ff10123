package model

// FormatVersion is the version of the book format that this program writes at the most.
const FormatVersion = 2

// Version is the version of the book format that knows the entry: 2 where it holds, or amends, a field that came with
// version 2, else 1.
func (e *Entry) Version() int {
	switch b := e.Body.(type) {
	case BookDef:
		if b.Care != "" {
			return 2
		}
	case Amend:
		fields, _ := members(b.With) // a bad one was refused when it was read
		for _, f := range fields {
			if f.name == "care" {
				return 2
			}
		}
	}
	return 1
}

package model

import (
	"bytes"
	"reflect"
	"slices"
	"strings"
	"sync"

	"github.com/go-json-experiment/json"
)

// FormatVersion is the version of the book format that this program writes at the most.
const FormatVersion = 2

// A field of an entry that came with version 2 has the tag `since:"2"`, a kind of entry a codec that is later. An entry
// that uses neither is written as version 1 knows it.

// later is a codec of a kind that came with version 2.
func (c codec) later() codec {
	c.version = 2
	return c
}

// laterFields are the fields of an entry that came with version 2: their indices, and their names in the format.
func laterFields(t reflect.Type) (index []int, names []string) {
	for i := range t.NumField() {
		if f := t.Field(i); f.Tag.Get("since") != "" {
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			index, names = append(index, i), append(names, name)
		}
	}
	return index, names
}

// newNames are the names of all fields that came with version 2.
var newNames = sync.OnceValue(func() (out []string) {
	for _, c := range codecs() {
		out = append(out, c.newNames...)
	}
	return out
})

// Version is the version of the book format that knows the entry: 2 where its kind, or a field that it holds or amends,
// came with version 2, else 1.
func (e *Entry) Version() int {
	if e.later() {
		return 2
	}
	return 1
}

func (e *Entry) later() bool {
	c := codecs()[e.Kind]
	if c.version > 1 {
		return true
	}
	body := reflect.ValueOf(e.Body)
	if slices.ContainsFunc(c.newFields, func(i int) bool { return !body.Field(i).IsZero() }) {
		return true
	}
	switch b := e.Body.(type) {
	case Component:
		return b.ServiceAbout()
	case Chore:
		return slices.ContainsFunc(b.Clocks, Clock.later)
	case Note:
		return strings.HasPrefix(b.OnWhat, string(KindVessel)+":")
	case Amend:
		fields, _ := members(b.With) // a bad one was refused when it was read
		return slices.ContainsFunc(fields, func(f member) bool {
			return slices.Contains(newNames(), f.name) || f.name == "clocks" && laterClock(f.value) ||
				f.name == "guess" && bytes.Contains(f.value, []byte(guessService))
		})
	}
	return false
}

// later tells whether a clock came with version 2, or states its life in a unit that did.
func (c Clock) later() bool { return c.Kind == ClockLevel || c.Meq }

// laterClock tells whether one of some clocks, as they are written, came with version 2.
func laterClock(clocks []byte) bool {
	var read []Clock
	return json.Unmarshal(clocks, &read) == nil && slices.ContainsFunc(read, Clock.later)
}

// wasPutOff is the name of the kind put-off in version 1 of the format. The decoder reads both names.
const wasPutOff Kind = "defer"

// kindOf is a kind by either of its names.
func kindOf(name Kind) Kind {
	if name == wasPutOff {
		return KindPutOff
	}
	return name
}

// EncodeFor writes an entry as one line of a version of the book format that knows it.
func EncodeFor(e Entry, version int) ([]byte, error) {
	c, err := codecOfKind(e.Kind)
	if err != nil {
		return nil, err
	}
	if e.Kind == KindPutOff && version == 1 {
		e.Kind = wasPutOff
	}
	return c.encode(e)
}

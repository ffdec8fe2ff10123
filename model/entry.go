package model

import (
	"slices"
	"time"
)

// Seq numbers the entries of a log in writing order: 1, 2, 3 and so on.
type Seq uint64

// Kind is the kind of an entry, as the book format spells it.
type Kind string

// The kinds of entry. The first eight define things; the rest happened on a date.
const (
	KindBook       Kind = "book"
	KindPlace      Kind = "place"
	KindComponent  Kind = "component"
	KindCounter    Kind = "counter"
	KindGauge      Kind = "gauge"
	KindSpare      Kind = "spare"
	KindChore      Kind = "chore"
	KindVessel     Kind = "vessel"
	KindTick       Kind = "tick"
	KindUsage      Kind = "usage"
	KindMeterReset Kind = "meter-reset"
	KindReading    Kind = "reading"
	KindStock      Kind = "stock"
	KindFlag       Kind = "flag"
	KindPutOff     Kind = "put-off"
	KindBatch      Kind = "batch"
	KindAway       Kind = "away"
	KindFault      Kind = "fault"
	KindRepair     Kind = "repair"
	KindNormal     Kind = "normal"
	KindLevel      Kind = "level"
	KindDraw       Kind = "draw"
	KindNeed       Kind = "need"
	KindNote       Kind = "note"
	KindAmend      Kind = "amend"
)

// Header is what every entry carries beside its body.
type Header struct {
	Seq  Seq    `json:"seq,omitzero"` // 0 until it is written
	At   string `json:"at,omitzero"`  // RFC 3339, when it was written; "" when not known
	On   Date   `json:"on,omitzero"`  // when it happened; definitions may have none
	Kind Kind   `json:"kind"`
	Act  Seq    `json:"act,omitzero"` // the first entry of its act, when the act has several
	By   string `json:"by,omitzero"`  // who, when that was said
}

// Entry is one line of the log. Entries are appended and never changed.
type Entry struct {
	Header
	Body Body
}

// Body is the part of an entry that its kind decides. The types that implement it
// are the nouns and events of this package, as values.
type Body interface {
	// Kind is the kind of entry that carries this body.
	Kind() Kind
	// check finds the first field that no log could accept, whatever else it holds.
	check() error
}

// NewEntry is an entry of a body that happened on a date; seq, at and act are
// given to it when it is written.
func NewEntry(on Date, body Body) Entry {
	return Entry{Header: Header{On: on, Kind: body.Kind()}, Body: body}
}

// Written is the civil date on which the entry was written, by its own `at`;
// no date when that is missing.
func (e *Entry) Written() Date {
	t, err := time.Parse(time.RFC3339Nano, e.At)
	if err != nil {
		return 0
	}
	return DateOf(t)
}

// Defines tells whether entries of a kind define something, the book itself included.
func (k Kind) Defines() bool { return k == KindBook || slices.Contains(Defined, k) }

// DefinedID is the id of what an entry defines; "" of one that defines nothing that has an id.
func (e *Entry) DefinedID() ID {
	switch b := e.Body.(type) {
	case Place:
		return b.ID
	case Component:
		return b.ID
	case Counter:
		return b.ID
	case Gauge:
		return b.ID
	case Spare:
		return b.ID
	case Vessel:
		return b.ID
	case Chore:
		return b.ID
	}
	return ""
}

// Defined are the kinds of entry that define something under an id, in the order in which they refer to one another.
var Defined = []Kind{KindPlace, KindComponent, KindCounter, KindGauge, KindSpare, KindVessel, KindChore}

// dated tells whether entries of a kind must say when they happened.
func (k Kind) dated() bool { return !k.Defines() && k != KindAmend }

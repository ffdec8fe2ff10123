package ledger

import (
	"fmt"
	"slices"
	"sync"
	"sync/atomic"

	"brine/wrasse/model"
)

// Happening is what an event keeps of its header: when it happened, its place in the log, and who wrote it.
type Happening struct {
	Seq model.Seq
	On  model.Date
	By  string // "" when that was not said
}

func happening(e *model.Entry) Happening { return Happening{e.Seq, e.On, e.By} }

// Mark is the place of an event.
func (h *Happening) Mark() model.Mark { return model.Mark{On: h.On, Seq: h.Seq} }

// Logged is an event as it reads today.
type Logged[B model.Body] struct {
	Happening
	What B
}

func logged[B model.Body](e *model.Entry, b B) Logged[B] { return Logged[B]{happening(e), b} }

// list is the events of a kind and a thing in order of time; nil is an empty one. A list that came with a snapshot is
// unpacked when it is first asked for: a round asks for few of them. Others may see a list, so it is never changed.
type list[E any] struct {
	events []E
	taken  *atomic.Int64 // events on the array below events, in the longest list that shares it

	once   sync.Once
	n      int                 // events in a packed list
	packed string              // their columns
	unpack func() ([]E, error) // nil when events are there from the start
}

func newList[E any](events []E) *list[E] {
	l := &list[E]{events: events, taken: new(atomic.Int64)}
	l.taken.Store(int64(len(events)))
	return l
}

// all are the events. They may not be written to. A list that can't be unpacked is a fault of the program: the seal of
// the snapshot held when it was read.
func (l *list[E]) all() []E {
	if l == nil {
		return nil
	}
	if l.unpack != nil {
		var err error
		l.once.Do(func() {
			l.events, err = l.unpack()
			l.taken = new(atomic.Int64)
			l.taken.Store(int64(len(l.events)))
		})
		if err != nil || len(l.events) != l.n { // somebody may have recovered from the panic of the first who asked
			panic(fmt.Sprintf("ledger: a list of the snapshot can't be unpacked: %v", err))
		}
	}
	return l.events
}

// len is how many events there are, without unpacking them.
func (l *list[E]) len() int {
	switch {
	case l == nil:
		return 0
	case l.unpack != nil:
		return l.n
	}
	return len(l.events)
}

// with is the list with e in it. Behind the last event it shares the array with l, if no other list has done so.
func (l *list[E]) with(e E) *list[E] {
	events := l.all()
	n := len(events)
	if n > 0 && n < cap(events) && !markOf(&e).Before(markOf(&events[n-1])) && l.taken.CompareAndSwap(int64(n), int64(n+1)) {
		return &list[E]{events: append(events, e), taken: l.taken}
	}
	i := placeOf(events, markOf(&e))
	grown := make([]E, n+1, n+1+max(8, n/8))
	copy(grown, events[:i])
	grown[i] = e
	copy(grown[i+1:], events[i:])
	return newList(grown)
}

// put puts e into a list that nobody else sees.
func (l *list[E]) put(e E) *list[E] {
	if l == nil {
		l = newList[E](nil)
	}
	events := l.all()
	l.events = slices.Insert(events, placeOf(events, markOf(&e)), e)
	l.taken.Store(int64(len(l.events)))
	return l
}

// without is the list without the event at a place; ok is false when there is none.
func (l *list[E]) without(at model.Mark) (out *list[E], ok bool) {
	events := l.all()
	i := placeOf(events, at)
	if i == len(events) || markOf(&events[i]) != at {
		return l, false
	}
	return newList(slices.Concat(events[:i], events[i+1:])), true
}

// placeOf is the index of the first event that doesn't stand before a place. Most are asked for the end.
func placeOf[E any](events []E, at model.Mark) int {
	if n := len(events); n == 0 || markOf(&events[n-1]).Before(at) {
		return n
	}
	return len(upTo(events, markOf, at))
}

// markOf is the place of an event.
func markOf[E any](e *E) model.Mark { return any(e).(interface{ Mark() model.Mark }).Mark() }

// events keeps the lists of a kind by the id of their thing; those of the book itself are under no id.
type events[E any] map[model.ID]*list[E]

// of are the events of an id.
func (ev events[E]) of(id model.ID) []E { return ev[id].all() }

// add puts e among the events of id. Where the lists are shared with another book, id gets a list of its own.
func (ev events[E]) add(id model.ID, e E, shared bool) {
	if shared {
		ev[id] = ev[id].with(e)
	} else {
		ev[id] = ev[id].put(e)
	}
}

// remove takes the event at a place from those of id; false when there is none.
func (ev events[E]) remove(id model.ID, at model.Mark) bool {
	l, ok := ev[id].without(at)
	switch {
	case !ok:
		return false
	case l.len() == 0:
		delete(ev, id)
	default:
		ev[id] = l
	}
	return true
}

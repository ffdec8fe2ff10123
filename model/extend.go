package model

import (
	"maps"
	"slices"
	"strings"
)

// Source is the file of a folded book, for what the book doesn't hold.
type Source interface {
	Records
	// Entry is an entry of the log as it was written, nil when there is none.
	Entry(Seq) (*Entry, error)
}

// made is what Extend changed, for a store to keep.
type made struct {
	things  things // whose past and whose latest events are to be written anew
	defined things // definitions that came in
	amended map[Seq]bool
	events  map[list]int // the first event of a list that changed, counted from its beginning
	longer  map[list]int // how many events a list had before
	chunks  []Change
	taught  map[ID]int // the first lesson of a chore that changed
	knew    map[ID]int // how many lessons a chore had before
}

func newMade() *made {
	return &made{things: things{}, defined: things{}, amended: map[Seq]bool{}, events: map[list]int{}, longer: map[list]int{}, taught: map[ID]int{}, knew: map[ID]int{}}
}

// extendFolded is Extend for a book that was opened from records.
func (b *Book) extendFolded(entries []Entry) (*Book, error) {
	next := b.clone()
	next.made = newMade()
	maps.Copy(next.made.things, b.whole) // their past is still to be made
	next.whole = nil
	if slices.ContainsFunc(entries, defines) {
		next.cloneDefinitions()
	}
	f := folder{book: next, shared: true, counters: map[ID]bool{}}
	own := slices.Clone(entries)
	for i := range own {
		e := &own[i]
		if err := next.checkNext(e); err != nil {
			return nil, err
		}
		next.log = append(next.log, e)
		next.struck = append(next.struck, false)
		_, amends := e.Body.(Amend)
		if amends {
			next.effective = append(next.effective, nil)
		} else {
			next.effective = append(next.effective, e)
		}
		if err := f.takeIn(e); err != nil {
			return nil, asEntryError(e.Seq, err)
		}
		if i+1 == len(own) || e.Act == 0 || own[i+1].Act != e.Act {
			if err := f.endAct(); err != nil {
				return nil, err
			}
		}
	}
	for _, id := range slices.Sorted(maps.Keys(f.counters)) {
		if err := f.count(id); err != nil {
			return nil, err
		}
	}
	next.packChunks()
	if err := next.settle(next.made.things); err != nil {
		return nil, err
	}
	return next, nil
}

// defines tells whether an entry may change a definition: it is one, or a flag that grades a component anew.
func defines(e Entry) bool {
	_, event := listOf(e.Body)
	f, flag := e.Body.(Flag)
	return !event && e.Kind != KindAmend || flag && (f.Reach != 0 || f.AccessMinutes != nil)
}

// asEntryError says of which entry an error is, save where it says only what must be held.
func asEntryError(seq Seq, err error) error {
	switch err.(type) {
	case *EntryError, *errPast:
		return err
	}
	if err == ErrRebuild {
		return err
	}
	return &EntryError{seq, err}
}

// takeIn takes in one entry of a folded book.
func (f *folder) takeIn(e *Entry) error {
	if a, ok := e.Body.(Amend); ok {
		return f.amend(e, a)
	}
	if _, event := listOf(e.Body); event {
		return f.put(e)
	}
	changed, err := f.book.redefines(e)
	if err != nil {
		return err
	}
	maps.Copy(f.book.made.things, changed)
	if err := f.apply(e); err != nil {
		return err
	}
	d := definedBy(e.Body)
	f.book.made.defined[d] = true
	f.book.made.things[d] = true
	return nil
}

// definedBy names what a definition defines.
func definedBy(body Body) thing {
	switch d := body.(type) {
	case Place:
		return thing{KindPlace, d.ID}
	case Component:
		return thing{KindComponent, d.ID}
	case Counter:
		return thing{KindCounter, d.ID}
	case Gauge:
		return thing{KindGauge, d.ID}
	case Spare:
		return thing{KindSpare, d.ID}
	case Chore:
		return thing{KindChore, d.ID}
	}
	return thing{kind: KindBook}
}

// put takes in an event as it reads.
func (f *folder) put(e *Entry) error {
	if err := f.book.reaches(e); err != nil {
		return err
	}
	l, _ := listOf(e.Body)
	f.book.changes(l, e.Mark())
	if err := f.event(e); err != nil {
		return err
	}
	if w, ok := e.Body.(Flag); ok {
		f.book.made.defined[thing{KindComponent, w.Component}] = true // regraded, perhaps
	}
	return nil
}

// take takes an event out again.
func (f *folder) take(e *Entry) error {
	if err := f.book.reaches(e); err != nil {
		return err
	}
	l, _ := listOf(e.Body)
	f.book.changes(l, e.Mark())
	if !listKindOf(l.kind).remove(f.book, l.id, e.Mark()) {
		return &errPast{f.book.closure(thingOf(l))}
	}
	if l.kind == KindUsage || l.kind == KindMeterReset {
		f.counters[l.id] = true
	}
	return nil
}

// changes remembers that a list changes at a place and behind it.
func (b *Book) changes(l list, at Mark) {
	k := listKindOf(l.kind)
	n := b.past.dropped[l].n
	if _, known := b.made.longer[l]; !known {
		b.made.longer[l] = n + k.size(b, l.id)
		b.made.events[l] = n + k.size(b, l.id)
	}
	b.made.events[l] = min(b.made.events[l], n+k.placeOf(b, l.id, at))
	b.made.things[thingOf(l)] = true
}

// amend takes in an entry that changes how another one reads.
func (f *folder) amend(e *Entry, a Amend) error {
	b := f.book
	if a.Entry >= e.Seq {
		return wrong("entry", a.Entry, "the seq of an earlier entry")
	}
	if b.reordered || reorders(a) {
		return ErrRebuild
	}
	family, err := b.family(a.Entry)
	if err != nil {
		return err
	}
	before, _, err := resolve(family[:len(family)-1]) // e is the last of it
	if err != nil {
		return err
	}
	after, struck, err := resolve(family)
	if err != nil {
		return err
	}
	for i, of := range family {
		if of.Seq > b.base {
			b.effective[of.Seq-b.base-1], b.struck[of.Seq-b.base-1] = after[i], struck[i]
		}
	}
	b.made.amended[a.Entry] = true
	return f.replace(before[0], after[0])
}

// reorders tells whether an amend makes another one amend another entry.
func reorders(a Amend) bool { return strings.Contains(string(a.With), `"entry"`) }

// family is an entry that is no amend and everything that amends it, or amends that, in the order of writing: the one
// that a seq belongs to.
func (b *Book) family(seq Seq) ([]*Entry, error) {
	root, err := b.Written(seq)
	for err == nil && root != nil {
		a, ok := root.Body.(Amend)
		if !ok {
			break
		}
		root, err = b.Written(a.Entry)
	}
	if err != nil {
		return nil, err
	}
	if root == nil {
		return nil, ErrRebuild
	}
	out := []*Entry{root}
	for i := 0; i < len(out); i++ {
		amends, err := b.amendsOf(out[i].Seq)
		if err != nil {
			return nil, err
		}
		for _, by := range amends {
			e, err := b.Written(by)
			if err != nil {
				return nil, err
			}
			out = append(out, e)
		}
	}
	slices.SortFunc(out, func(a, b *Entry) int { return int(a.Seq) - int(b.Seq) })
	return out, nil
}

// amendsOf are the entries that amend one, in the order of writing.
func (b *Book) amendsOf(seq Seq) (out []Seq, err error) {
	if b.base > 0 && seq <= b.base {
		if out, err = b.keptAmends(seq); err != nil {
			return nil, err
		}
	}
	for _, e := range b.log {
		if a, ok := e.Body.(Amend); ok && a.Entry == seq {
			out = append(out, e.Seq)
		}
	}
	return out, nil
}

// replace puts an event in the place of another; either may be nil.
func (f *folder) replace(before, after *Entry) error {
	for _, e := range []*Entry{before, after} {
		if e == nil {
			continue
		}
		if _, event := listOf(e.Body); !event {
			return ErrRebuild
		}
		if w, ok := e.Body.(Flag); ok && (w.Reach != 0 || w.AccessMinutes != nil) {
			return ErrRebuild
		}
	}
	if before != nil {
		if err := f.take(before); err != nil {
			return err
		}
	}
	if after != nil {
		return f.put(after)
	}
	return nil
}

package ledger

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"

	"brine/wrasse/model"
)

// EntryError says which entry of a log is wrong.
type EntryError struct {
	Seq model.Seq
	Err error
}

func (e *EntryError) Error() string { return fmt.Sprintf("entry %d: %v", e.Seq, e.Err) }

func (e *EntryError) Unwrap() error { return e.Err }

// Fold is the Book of a whole log, which it holds. The entries are numbered 1, 2, 3 and so on. O(n).
func Fold(log []model.Entry) (*Book, error) {
	return new(Book).Extend(log)
}

// Append is Extend with entries that have no numbers yet; it leaves them so.
func (b *Book) Append(entries ...model.Entry) (*Book, error) {
	numbered := slices.Clone(entries)
	for i := range numbered {
		numbered[i].Seq = b.Last() + model.Seq(i) + 1
	}
	return b.Extend(numbered)
}

// Extend is the book with entries written after its last one. They must be numbered
// on from it. Either all of them stand in the new book or the error, an *EntryError,
// says which can't and why.
//
// The new book shares what doesn't change with this one, so that an event that is appended costs O(1). A backdated event,
// and one that is amended or struck, copies its list: O(its length). A definition that is amended or struck folds the whole
// log again, which is read from the file of the book: O(n). Extend is for commands, and for the store inside an act.
func (b *Book) Extend(entries []model.Entry) (*Book, error) {
	if len(entries) == 0 {
		return b, nil
	}
	next := b.clone()
	next.log = slices.Grow(slices.Clip(b.log), len(entries))
	own := slices.Clone(entries)
	amends := false
	for i := range own {
		e := &own[i]
		if err := next.checkNext(e); err != nil {
			return nil, err
		}
		next.log = append(next.log, e)
		if a, ok := e.Body.(model.Amend); ok {
			next.amends.add("", logged(e, a), !b.Empty())
			amends = true
		}
	}
	if amends {
		next.corrected = &corrections{amends: next.amends[""]}
		if err := next.corrected.settle(); err != nil {
			return nil, err
		}
		next.touched = slices.DeleteFunc(b.corrected.changed(next.corrected), func(s model.Seq) bool { return s > b.Last() })
	}
	if slices.ContainsFunc(own, defines) {
		next.ownDefinitions()
	}
	f := folder{book: next, shared: !b.Empty()}
	again, err := f.correct(b)
	if err != nil {
		return nil, err
	}
	if again {
		return next.refolded()
	}
	for _, e := range next.log[b.Last()-b.base:] {
		if err := f.take(e); err != nil {
			return nil, err
		}
	}
	return f.end()
}

// Refused is an error of Extend, without the number of an entry that the book doesn't hold yet: nobody has seen that. An
// older entry that stands in the way keeps its number.
func (b *Book) Refused(err error) error {
	var e *EntryError
	if errors.As(err, &e) && e.Seq > b.Last() {
		return e.Err
	}
	return err
}

// checkNext finds what keeps an entry from being the next of the log, whatever the book holds.
func (b *Book) checkNext(e *model.Entry) error {
	if e.Seq != b.Last()+1 {
		return &EntryError{e.Seq, model.Wrong("seq", e.Seq, "%d, the next in order", b.Last()+1)}
	}
	if err := e.Check(); err != nil {
		return &EntryError{e.Seq, err}
	}
	if err := b.checkAct(e); err != nil {
		return &EntryError{e.Seq, err}
	}
	return nil
}

// refolded is the book with its whole log folded again, of which it goes on holding what it held.
func (b *Book) refolded() (*Book, error) {
	next := new(Book).clone()
	next.ownDefinitions()
	next.source, next.base, next.log = b.source, b.base, b.log
	next.amends, next.corrected, next.touched, next.again = b.amends, b.corrected, b.touched, true
	f := folder{book: next}
	for e, err := range b.All() {
		if err == nil {
			err = f.take(e)
		}
		if err != nil {
			return nil, err
		}
	}
	return f.end()
}

// clone is a book that shares all lists and definitions with b, but not the maps that they stand in.
func (b *Book) clone() *Book {
	n := *b
	n.touched, n.again = nil, false
	n.tallies = copied(b.tallies)
	for _, k := range listOrder {
		k.own(&n)
	}
	if b.versions == nil {
		n.ownDefinitions()
	}
	return &n
}

// ownDefinitions makes the definitions of a clone its own, so that they can be written to.
func (b *Book) ownDefinitions() {
	for _, kind := range model.Defined {
		b.definitions(kind).own()
	}
	b.versions = copied(b.versions)
}

// copied is a copy of m that can be written to, even where m is nil.
func copied[M ~map[K]V, K comparable, V any](m M) M {
	if m == nil {
		return M{}
	}
	return maps.Clone(m)
}

// defines tells whether an entry may change a definition: it is one, or a flag that grades a component again.
func defines(e model.Entry) bool {
	_, _, event := thingOf(e.Body)
	f, flag := e.Body.(model.Flag)
	return !event && e.Kind != model.KindAmend || flag && (f.Reach != 0 || f.AccessMinutes != nil)
}

// checkAct holds the entries of an act together: they carry the seq of the first and
// stand side by side.
func (b *Book) checkAct(e *model.Entry) error {
	if e.Act == 0 || e.Act == e.Seq {
		return nil
	}
	last, err := b.Written(b.Last())
	if err != nil {
		return err
	}
	if e.Act > e.Seq || last == nil || last.Act != e.Act {
		return model.Wrong("act", e.Act, "the seq of the first entry of its act, with the act's entries side by side")
	}
	if e.Seq-e.Act >= model.MaxActLen {
		return model.Wrong("act", e.Act, "at most %d entries in one act", model.MaxActLen)
	}
	return nil
}

// folder moves a book forward by entries.
type folder struct {
	book   *Book
	shared bool         // the book's lists may be seen by an older book
	at     model.Seq    // of the entry that is being applied
	act    *model.Entry // the last entry, whose act may go on

	openings model.Seq         // last entry of the present act that may change who opens with whom, or 0
	roles    model.Seq         // last entry of the present act that may give a role, or 0
	faults   bool              // a fault or a repair came, went or changed
	calling  []*model.Entry    // chores of the present act that call for others
	counters map[model.ID]bool // whose amounts must be counted again at the end
}

// correct takes the entries that read differently in an older book out of their lists, and puts them in as they read now.
// again is true when the whole log must be folded instead: later entries were accepted for what such an entry said.
func (f *folder) correct(older *Book) (again bool, err error) {
	for _, seq := range f.book.touched {
		e, err := older.Written(seq)
		if err != nil {
			return false, err
		}
		before, err := older.corrected.reads(e)
		if err != nil {
			return false, err
		}
		after, err := f.book.corrected.reads(e)
		if err != nil {
			return false, err
		}
		if before != nil && defines(*before) || after != nil && defines(*after) {
			return true, nil
		}
		if before != nil {
			f.remove(before)
		}
		if after != nil {
			if err := f.apply(after); err != nil {
				return false, &EntryError{seq, err}
			}
		}
	}
	return false, nil
}

// remove takes an event out of its list.
func (f *folder) remove(e *model.Entry) {
	_, id, _ := thingOf(e.Body)
	lists[e.Kind].remove(f.book, id, e.Mark())
	f.touch(e.Kind, id)
}

// touch notes what must be looked at again at the end, now that an event of a kind came or went.
func (f *folder) touch(kind model.Kind, id model.ID) {
	switch kind {
	case model.KindUsage, model.KindMeterReset:
		f.counted(id)
	case model.KindFault, model.KindRepair:
		f.faults = true
	}
}

// counted notes that a counter's amounts must be counted again.
func (f *folder) counted(counter model.ID) {
	if f.counters == nil {
		f.counters = map[model.ID]bool{}
	}
	f.counters[counter] = true
}

// take applies the entry that follows, as it was written.
func (f *folder) take(e *model.Entry) error {
	if f.act != nil && (e.Act == 0 || f.act.Act != e.Act) {
		if err := f.endAct(); err != nil {
			return err
		}
	}
	f.act = e
	reads, err := f.book.corrected.reads(e)
	if err != nil || reads == nil {
		return err
	}
	if err := f.apply(reads); err != nil {
		return &EntryError{e.Seq, err}
	}
	return nil
}

// end is the book once all entries are in, and what only has to hold then.
func (f *folder) end() (*Book, error) {
	if err := f.endAct(); err != nil {
		return nil, err
	}
	if f.faults {
		if err := f.book.checkRepairs(); err != nil {
			return nil, err
		}
	}
	for _, id := range slices.Sorted(maps.Keys(f.counters)) {
		t, err := f.book.count(id)
		if err != nil {
			return nil, err
		}
		f.book.tallies[id] = func() *Tally { return t }
	}
	return f.book, nil
}

func (f *folder) apply(e *model.Entry) error {
	f.at = e.Seq
	switch b := e.Body.(type) {
	case model.BookDef:
		f.book.def = b
	case model.Place:
		f.book.places.put(b.ID, b, e.Seq)
		f.openings = e.Seq
	case model.Component:
		return f.component(e, b)
	case model.Counter:
		f.book.counters.put(b.ID, b, e.Seq)
		f.roles = e.Seq
		f.counted(b.ID)
	case model.Gauge:
		if err := cmp.Or(f.optional(model.KindComponent, "component", b.Component), f.optional(model.KindComponent, "instrument", b.Instrument)); err != nil {
			return err
		}
		f.book.gauges.put(b.ID, b, e.Seq)
		f.roles = e.Seq
	case model.Spare:
		f.book.spares.put(b.ID, b, e.Seq)
		f.roles = e.Seq
	case model.Vessel:
		return f.vessel(e, b)
	case model.Chore:
		return f.chore(e, b)
	default:
		return f.event(e)
	}
	return nil
}

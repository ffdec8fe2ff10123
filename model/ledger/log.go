package ledger

import (
	"cmp"
	"iter"
	"slices"

	"brine/wrasse/model"
)

// Source is the file of a book: where the entries are that the book doesn't hold. Its methods read the file and may be
// called from any goroutine, but not within an operation of the file.
type Source interface {
	// Entries are the entries from one seq to another, both of them too, as they were written.
	Entries(from, to model.Seq) ([]model.Entry, error)
	// Newest are the rows before a place, the newest first and n at most, with their entries as they were written.
	Newest(before model.Mark, n int) ([]Row, error)
	// Oldest are the rows after a place, the oldest first and n at most, with their entries as they were written.
	Oldest(after model.Mark, n int) ([]Row, error)
	// Same tells whether another source is the same log: what was read of one stands in the other.
	Same(Source) bool
}

// Row is an entry of the log in its place in the order of time. An entry that reads with a date stands on that, a struck
// one on the date it was written with; without a date, an entry stands on that of the nearest one written before it.
type Row struct {
	model.Mark
	Struck  bool         // it was taken back
	Amended bool         // it reads otherwise than it was written
	Written *model.Entry // as it was written
	Reads   *model.Entry // as it reads; nil of a struck entry and of an amend
}

// Written is the entry of a seq as it was written; nil when the log has none. Written is for commands only: an entry that
// the book doesn't hold is read from its file, in O(log n).
func (b *Book) Written(seq model.Seq) (*model.Entry, error) {
	if seq > b.base && seq <= b.Last() {
		return b.log[seq-b.base-1], nil
	}
	entries, err := b.Entries(seq, seq)
	if err != nil || len(entries) == 0 {
		return nil, err
	}
	return entries[0], nil
}

// Entries are the entries from one seq to another, both of them too, as they were written; nil when the log has none of
// them. Like Written they may be read from the file, in O(their number).
func (b *Book) Entries(from, to model.Seq) ([]*model.Entry, error) {
	from, to = max(from, 1), min(to, b.Last())
	if from > to {
		return nil, nil
	}
	out := make([]*model.Entry, 0, to-from+1)
	if from <= b.base {
		read, err := b.source.Entries(from, min(to, b.base))
		if err != nil {
			return nil, err
		}
		for i := range read {
			out = append(out, &read[i])
		}
		from = b.base + 1
	}
	if from <= to {
		out = append(out, b.log[from-b.base-1:to-b.base]...)
	}
	return out, nil
}

// stretchLen is how many entries are read at once by what goes through a whole log.
const stretchLen = 8192

// All are the entries of the whole log as they were written, read from the file of the book in O(n), a stretch at a time
// in memory. An error is the last it gives.
func (b *Book) All() iter.Seq2[*model.Entry, error] {
	return func(yield func(*model.Entry, error) bool) {
		for from := model.Seq(1); from <= b.Last(); from += stretchLen {
			entries, err := b.Entries(from, from+stretchLen-1)
			for _, e := range entries {
				if !yield(e, nil) {
					return
				}
			}
			if err != nil {
				yield(nil, err)
				return
			}
		}
	}
}

// Reads is the entry of a seq as it reads after all amends: nil when it is struck, and for amends, which read as what they
// change. Like Written it may read the file; it is also nil when the file can't be read.
func (b *Book) Reads(seq model.Seq) *model.Entry {
	e, err := b.Written(seq)
	if err != nil || e == nil {
		return nil
	}
	reads, _ := b.corrected.reads(e)
	return reads
}

// Struck tells whether the entry of a seq is struck. It reads nothing, and costs O(1) after the first call of a book, which
// costs O(amends).
func (b *Book) Struck(seq model.Seq) bool {
	_, struck := b.corrected.of(seq)
	return struck
}

// StruckEntries is how many entries are struck. Like Struck it reads nothing; it costs O(amends).
func (b *Book) StruckEntries() int {
	n := len(b.corrected.strikes())
	for _, on := range b.corrected.standing() {
		if strikes(on) {
			n++
		}
	}
	return n
}

// Amends are the amends that were written of an entry, in the order of writing, whether or not they stand; nil without
// any. It reads nothing, and costs O(amends).
func (b *Book) Amends(seq model.Seq) []Logged[model.Amend] {
	var out []Logged[model.Amend]
	for _, a := range b.amends.of("") {
		if a.What.Entry == seq {
			out = append(out, a)
		}
	}
	slices.SortFunc(out, func(a, b Logged[model.Amend]) int { return cmp.Compare(a.Seq, b.Seq) })
	return out
}

// Act is the entries of the act that holds seq, as written; none when the log has no such entry. Like Written it may read
// the file.
func (b *Book) Act(seq model.Seq) ([]*model.Entry, error) {
	e, err := b.Written(seq)
	if err != nil || e == nil {
		return nil, err
	}
	if e.Act == 0 {
		return []*model.Entry{e}, nil
	}
	entries, err := b.Entries(e.Act, e.Act+model.MaxActLen-1)
	if err != nil {
		return nil, err
	}
	if n := slices.IndexFunc(entries, func(of *model.Entry) bool { return of.Act != e.Act }); n >= 0 {
		entries = entries[:n:n]
	}
	return entries, nil
}

// Newest are the rows before a place in the order of time, the newest first and n at most. It reads the file of the book,
// in O(n); a book without a file sorts its log, in O(log). What others have written since shows in the flags and places of
// the rows, but has no rows of its own. It is for commands only.
func (b *Book) Newest(before model.Mark, n int) ([]Row, error) {
	if b.source == nil {
		return b.sorted(n, func(r model.Mark) bool { return r.Before(before) }, func(a, b Row) int { return b.Mark.Compare(a.Mark) })
	}
	return b.read(before, n, b.source.Newest)
}

// Oldest are the rows after a place in the order of time, the oldest first and n at most. It costs what Newest costs.
func (b *Book) Oldest(after model.Mark, n int) ([]Row, error) {
	if b.source == nil {
		return b.sorted(n, after.Before, func(a, b Row) int { return a.Mark.Compare(b.Mark) })
	}
	return b.read(after, n, b.source.Oldest)
}

// read reads n rows of entries of this book from its file: which may hold later ones.
func (b *Book) read(from model.Mark, n int, next func(model.Mark, int) ([]Row, error)) (rows []Row, err error) {
	for len(rows) < n {
		more, err := next(from, n-len(rows))
		if err != nil {
			return nil, err
		}
		if len(more) == 0 {
			break
		}
		from = more[len(more)-1].Mark
		rows = append(rows, slices.DeleteFunc(more, func(r Row) bool { return r.Seq > b.Last() })...)
	}
	for i := range rows {
		if rows[i].Reads, err = b.corrected.reads(rows[i].Written); err != nil {
			return nil, err
		}
	}
	return rows, nil
}

// sorted are the first n of the rows that within takes, in an order.
func (b *Book) sorted(n int, within func(model.Mark) bool, order func(a, b Row) int) (rows []Row, err error) {
	for r, err := range b.Rows() {
		if err != nil {
			return nil, err
		}
		if within(r.Mark) {
			rows = append(rows, r)
		}
	}
	slices.SortFunc(rows, order)
	return rows[:min(n, len(rows))], nil
}

// Rows are the rows of all entries in the order of writing, read from the file of the book as All does.
func (b *Book) Rows() iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		var before model.Date
		for e, err := range b.All() {
			var r Row
			if err == nil {
				r, err = b.row(e)
			}
			if err != nil {
				yield(Row{}, err)
				return
			}
			if r.On.IsZero() {
				r.On = before
			}
			if !e.On.IsZero() {
				before = e.On
			}
			if !yield(r, nil) {
				return
			}
		}
	}
}

// RowOf is the row of an entry, which must be in the book. Like Written it may read the file, for an entry without a date
// also each entry before it up to the nearest that has one.
func (b *Book) RowOf(seq model.Seq) (Row, error) {
	e, err := b.Written(seq)
	if err != nil {
		return Row{}, err
	}
	r, err := b.row(e)
	for seq--; err == nil && r.On.IsZero() && seq > 0; seq-- {
		if e, err = b.Written(seq); err == nil {
			r.On = e.On
		}
	}
	return r, err
}

// row is that of an entry, without a date when it has none of its own.
func (b *Book) row(e *model.Entry) (Row, error) {
	on, struck := b.corrected.of(e.Seq)
	reads, err := b.corrected.reads(e)
	r := Row{model.Mark{On: e.On, Seq: e.Seq}, struck, len(on) > 0 && !struck, e, reads}
	if reads != nil {
		r.On = reads.On
	}
	return r, err
}

// Touched are the entries of the older book that the last Extend made to read differently, in order; nil without any. O(1).
func (b *Book) Touched() []model.Seq { return b.touched }

// Refolded tells whether the last Extend folded the whole log again.
func (b *Book) Refolded() bool { return b.again }

// In is the book in a file that holds all its entries, none of which it holds itself any more.
func (b *Book) In(source Source) *Book {
	n := *b
	n.source, n.base, n.log = source, b.Last(), nil
	return &n
}

// Continues tells whether a book is of the same log as an earlier one: what was known of that may stand. It reads nothing.
func (b *Book) Continues(old *Book) bool {
	if b.source == nil || old.source == nil {
		return b.source == old.source
	}
	return b.source.Same(old.source)
}

// Replaces tells whether a book is of another log than an earlier one, which was put in its place.
func (b *Book) Replaces(old *Book) bool {
	return b.source != nil && old.source != nil && !b.source.Same(old.source)
}

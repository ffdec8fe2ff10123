package logbook

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
)

// index is the log of one book in the order it is shown.
type index struct {
	book   *model.Book
	seqs   []model.Seq // newest first: by date, then by writing
	dates  []model.Date
	amends map[model.Seq][]model.Seq // of each entry, in the order written
	struck int
}

func newIndex(b *model.Book) *index {
	x := &index{book: b, amends: map[model.Seq][]model.Seq{}}
	n := int(b.Last())
	x.seqs, x.dates = make([]model.Seq, n), make([]model.Date, n)
	last := model.Date(0)
	for i := range n {
		seq := model.Seq(i + 1)
		if d := dated(reads(b, seq)); !d.IsZero() {
			last = d
		}
		x.dates[i] = last
		x.seqs[n-1-i] = seq
		if a, ok := b.Written(seq).Body.(model.Amend); ok {
			x.amends[a.Entry] = append(x.amends[a.Entry], seq)
		}
		if b.Struck(seq) {
			x.struck++
		}
	}
	slices.SortFunc(x.seqs, func(p, q model.Seq) int {
		return cmp.Or(cmp.Compare(x.date(q), x.date(p)), cmp.Compare(q, p))
	})
	return x
}

// date is the day an entry stands under: its own or, of a definition that gives
// none, the day it was written, else that of the entry before it.
func (x *index) date(seq model.Seq) model.Date { return x.dates[seq-1] }

func dated(e *model.Entry) model.Date {
	if !e.On.IsZero() {
		return e.On
	}
	return e.Written()
}

// reads is an entry as it reads today or, when it is struck, as it was written.
func reads(b *model.Book, seq model.Seq) *model.Entry {
	if e := b.Reads(seq); e != nil {
		return e
	}
	return b.Written(seq)
}

// amended tells whether an entry reads otherwise than it was written.
func amended(b *model.Book, seq model.Seq) bool {
	e := b.Reads(seq)
	return e != nil && e != b.Written(seq)
}

// striker is the amend that holds an entry struck, 0 when none does.
func (x *index) striker(seq model.Seq) model.Seq {
	for _, a := range slices.Backward(x.amends[seq]) {
		if x.book.Written(a).Body.(model.Amend).Strike && !x.book.Struck(a) {
			return a
		}
	}
	return 0
}

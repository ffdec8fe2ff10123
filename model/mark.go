package model

import "cmp"

// Mark is a place in the order of time: a date and, within it, the order of writing. Seq 0 stands before all entries
// of the date.
type Mark struct {
	On  Date
	Seq Seq
}

// Before tells whether m stands before o.
func (m Mark) Before(o Mark) bool { return m.On < o.On || m.On == o.On && m.Seq < o.Seq }

// Compare orders places: -1, 0 or 1.
func (m Mark) Compare(o Mark) int { return cmp.Or(cmp.Compare(m.On, o.On), cmp.Compare(m.Seq, o.Seq)) }

// EndOf is the place after all entries of a date.
func EndOf(d Date) Mark { return Mark{On: d + 1} }

// Mark is the place of an entry.
func (h *Header) Mark() Mark { return Mark{h.On, h.Seq} }

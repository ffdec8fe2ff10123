package logbook

import "slices"

// search is how far a filter has been applied. Rows are looked at from the newest on, a
// stretch at a time; what comes in above, or reads otherwise, is looked at again.
type search struct {
	query query
	id    int // of this search; an answer for another is dropped
	found order
	at    key   // the rows from here on have been looked at, or are being
	again []key // but for these
	gone  []key // of those that are being looked at, what went or reads otherwise by now

	looking bool // a command is at it
	begun   bool // some have been looked at
}

func newSearch(q query, id int) search { return search{query: q, id: id, at: ^key(0)} }

// How many rows are looked at in one command: of the first, so that something is seen at
// once, and of the others, so that they take little memory and hold up no act.
const (
	lookFirst = 512
	lookMore  = 4096
)

// rest is the places of the rows that no command has been given, from one to below another.
func (s *search) rest(x *index) (from, end int) {
	first, below := s.query.span()
	return x.rows.rank(first), x.rows.rank(min(below, s.at))
}

// behind tells whether rows are still to be looked at.
func (s *search) behind(x *index) bool {
	from, end := s.rest(x)
	return s.looking || !s.begun || len(s.again) > 0 || from < end
}

// next is the rows to be looked at in the next command.
func (s *search) next(x *index) []key {
	n := lookMore
	if !s.begun {
		n = lookFirst
	}
	first, below := s.query.span()
	rows := slices.DeleteFunc(s.again, func(k key) bool { return k < first || k >= below })
	if from, end := s.rest(x); from < end {
		from = max(from, end-n)
		rows = append(rows, x.rows.slice(from, end)...)
		s.at = x.rows.at(from)
	}
	s.again, s.gone, s.looking = nil, nil, true
	return rows
}

// part is what a search found among some rows.
type part struct {
	id    int
	found []key
}

// look finds the rows that pass the filter.
func (q query) look(x *index, rows []key) (found []key, err error) {
	if q.words == "" {
		return rows, nil
	}
	r := &reader{book: x.book, amends: x.amends}
	if err := r.load(seqsOf(rows)); err != nil {
		return nil, err
	}
	for _, k := range rows {
		g, err := r.reading(k.seq())
		if err != nil {
			return nil, err
		}
		if q.takes(x.book, g) {
			found = append(found, k)
		}
	}
	return found, nil
}

// take takes in what was found.
func (s *search) take(p part) {
	found := slices.DeleteFunc(p.found, func(k key) bool { return slices.Contains(s.gone, k) })
	s.found = s.found.with(found, nil)
	s.looking, s.begun = false, true
}

// follow takes in what a step made of the rows.
func (s *search) follow(st step) {
	s.found = s.found.with(nil, st.out)
	s.gone = append(s.gone, st.out...)
	s.again = slices.DeleteFunc(s.again, func(k key) bool { return slices.Contains(st.out, k) })
	for _, k := range st.in {
		if k >= s.at {
			s.again = append(s.again, k)
		}
	}
}

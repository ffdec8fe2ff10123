package uitest

import (
	"slices"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Store keeps a book in memory as a file does: apart from its log, which a book asks for. Everything in it runs at
// once, in the goroutine of the test.
type Store struct {
	log  []model.Entry
	full *ledger.Book // that holds its log
	book *ledger.Book // that asks for it
	at   time.Time
	// Fail, if set, is what the next write ends with instead of being written.
	Fail error
	// Unread, if set, is what reading a stretch of the log ends with.
	Unread error
	// Warn is what the next read or write warns of, once.
	Warn string
	// asked, if set, is called whenever the store is asked for anything.
	asked func()
}

func (s *Store) ask() {
	if s.asked != nil {
		s.asked()
	}
}

// newStore is a store of a book that holds its log.
func newStore(full *ledger.Book) (*Store, error) {
	s := &Store{at: now, full: full, book: full}
	if !full.Empty() {
		s.book = full.In(s)
	}
	for e, err := range full.All() {
		if err != nil {
			return nil, err
		}
		s.log = append(s.log, *e)
	}
	return s, nil
}

// Entries are entries of the log.
func (s *Store) Entries(from, to model.Seq) ([]model.Entry, error) {
	s.ask()
	if s.Unread != nil {
		return nil, s.Unread
	}
	return slices.Clone(s.log[from-1 : to]), nil
}

// Newest are rows of the log.
func (s *Store) Newest(before model.Mark, n int) ([]ledger.Row, error) {
	s.ask()
	if s.Unread != nil {
		return nil, s.Unread
	}
	return s.full.Newest(before, n)
}

// Oldest are rows of the log.
func (s *Store) Oldest(after model.Mark, n int) ([]ledger.Row, error) {
	s.ask()
	if s.Unread != nil {
		return nil, s.Unread
	}
	return s.full.Oldest(after, n)
}

// Same tells whether it is the same store.
func (s *Store) Same(other ledger.Source) bool { return other == ledger.Source(s) }

// Load is the book.
func (s *Store) Load() (*ledger.Book, error) {
	s.ask()
	return s.book, nil
}

// Full is the book that holds its log.
func (s *Store) Full() *ledger.Book { return s.full }

// Warning is Warn, once.
func (s *Store) Warning() string {
	w := s.Warn
	s.Warn = ""
	return w
}

// Wait reports no write by anybody else: in a test there is nobody else.
func (s *Store) Wait(<-chan struct{}) bool { return false }

// Write numbers the entries of an act, stamps them and takes them into the book.
func (s *Store) Write(build func(*ledger.Book) ([]model.Entry, error)) (*ledger.Book, model.Seq, error) {
	if err := s.Fail; err != nil {
		s.Fail = nil
		return nil, 0, err
	}
	made, err := build(s.book)
	if err != nil || len(made) == 0 {
		return s.book, 0, err
	}
	entries, first := slices.Clone(made), s.book.Last()+1
	for i := range entries {
		entries[i].Seq = first + model.Seq(i)
		entries[i].At = s.at.Format(time.RFC3339)
		if len(entries) > 1 {
			entries[i].Act = first
		}
	}
	next, err := s.book.Extend(entries)
	if err != nil {
		return nil, 0, s.book.Refused(err)
	}
	full, err := s.full.Extend(entries)
	if err != nil {
		return nil, 0, err
	}
	s.log, s.full, s.book = append(s.log, entries...), full, next.In(s)
	return s.book, first, nil
}

package stage

import (
	"slices"
	"time"

	"brine/wrasse/model"
)

// Store keeps a book in memory, as desk.Store wants it. Everything in it runs at
// once, in the goroutine of the test.
type Store struct {
	book *model.Book
	at   time.Time
	// Fail, if set, is what the next write ends with instead of being written.
	Fail error
	// Warn is what the next read or write warns of, once.
	Warn string
}

// Load is the book.
func (s *Store) Load() (*model.Book, error) { return s.book, nil }

// Wide is the book: nothing of it is left out.
func (s *Store) Wide() (*model.Book, error) { return s.book, nil }

// Full is the book.
func (s *Store) Full() (*model.Book, error) { return s.book, nil }

// Warning is Warn, once.
func (s *Store) Warning() string {
	w := s.Warn
	s.Warn = ""
	return w
}

// Wait reports no write by anybody else: in a test there is nobody else.
func (s *Store) Wait(<-chan struct{}) bool { return false }

// Write numbers the entries of an act, stamps them and takes them into the book.
func (s *Store) Write(build func(*model.Book) ([]model.Entry, error)) (*model.Book, model.Seq, error) {
	if err := s.Fail; err != nil {
		s.Fail = nil
		return nil, 0, err
	}
	made, err := build(s.book)
	if err != nil || len(made) == 0 {
		return s.book, 0, err
	}
	entries := slices.Clone(made)
	first := s.book.Last() + 1
	for i := range entries {
		entries[i].Seq = first + model.Seq(i)
		entries[i].At = s.at.Format(time.RFC3339)
		if len(entries) > 1 {
			entries[i].Act = first
		}
	}
	next, err := s.book.Extend(entries)
	if err != nil {
		return nil, 0, err
	}
	s.book = next
	return next, first, nil
}

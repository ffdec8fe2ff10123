package stage

import (
	"errors"
	"slices"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/longlog"
)

// Store keeps a book in memory as a file does: its log, and folded as records. Screens get
// the brief, the wide or the full book of it, as from a file. Everything in it runs at
// once, in the goroutine of the test.
type Store struct {
	longlog.Records
	log  []model.Entry
	book *model.Book
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

// newStore is a store of a full book.
func newStore(full *model.Book) (*Store, error) {
	s := &Store{at: now, book: full}
	log, err := full.Entries(1, full.Last())
	if err != nil {
		return nil, err
	}
	for _, e := range log {
		s.log = append(s.log, *e)
	}
	if full.Empty() {
		return s, nil
	}
	return s, s.keep(full)
}

// keep takes in the records that changed in a book, and opens it anew.
func (s *Store) keep(b *model.Book) error {
	err := s.Take(b)
	if err != nil {
		return err
	}
	if s.book = b; !b.Brief() {
		s.book, err = s.open(model.Hold{})
	}
	return err
}

func (s *Store) open(hold model.Hold) (*model.Book, error) {
	return model.Open(s, model.Seq(len(s.log)), s, hold)
}

// Entry is an entry of the log.
func (s *Store) Entry(seq model.Seq) (*model.Entry, error) {
	s.ask()
	if seq < 1 || int(seq) > len(s.log) {
		return nil, nil
	}
	e := s.log[seq-1]
	return &e, nil
}

// Entries are entries of the log.
func (s *Store) Entries(from, to model.Seq) ([]model.Entry, error) {
	s.ask()
	if s.Unread != nil {
		return nil, s.Unread
	}
	return slices.Clone(s.log[from-1 : to]), nil
}

// Same tells whether it is the same store.
func (s *Store) Same(other model.Source) bool { return other == model.Source(s) }

// Get is a record.
func (s *Store) Get(key string) ([]byte, error) {
	s.ask()
	return s.Records.Get(key)
}

// Scan gives records in order.
func (s *Store) Scan(from, to string, each func(string, []byte) error) error {
	s.ask()
	return s.Records.Scan(from, to, each)
}

// Load is the brief book.
func (s *Store) Load() (*model.Book, error) {
	s.ask()
	return s.book, nil
}

// Wide is the book with every event of everything.
func (s *Store) Wide() (*model.Book, error) {
	s.ask()
	if len(s.log) == 0 {
		return s.book, nil
	}
	return s.open(model.HoldAll)
}

// Full is the book folded from the log.
func (s *Store) Full() (*model.Book, error) {
	s.ask()
	return model.Fold(s.log)
}

// Warning is Warn, once.
func (s *Store) Warning() string {
	w := s.Warn
	s.Warn = ""
	return w
}

// Wait reports no write by anybody else: in a test there is nobody else.
func (s *Store) Wait(<-chan struct{}) bool { return false }

// Write numbers the entries of an act, stamps them and takes them into the book: into the
// brief one or, as a file does, into one that holds what that lacks.
func (s *Store) Write(build func(*model.Book) ([]model.Entry, error)) (*model.Book, model.Seq, error) {
	if err := s.Fail; err != nil {
		s.Fail = nil
		return nil, 0, err
	}
	const holds = 3 // what an act of several steps lacks after that, the whole log has
	b, hold := s.book, model.Hold{}
	for try := 0; ; try++ {
		next, entries, err := s.extended(b, build)
		switch {
		case errors.Is(err, model.ErrRebuild), errors.Is(err, model.ErrPast) && try == holds:
			b, err = s.Full()
		case errors.Is(err, model.ErrPast):
			hold = hold.With(err)
			b, err = s.open(hold)
		case err == nil && len(entries) == 0:
			return s.book, 0, nil
		case err == nil:
			s.log = append(s.log, entries...)
			return next, entries[0].Seq, s.keep(next)
		}
		if err != nil {
			return nil, 0, err
		}
	}
}

func (s *Store) extended(b *model.Book, build func(*model.Book) ([]model.Entry, error)) (*model.Book, []model.Entry, error) {
	made, err := build(b)
	if err != nil || len(made) == 0 {
		return nil, nil, err
	}
	entries := slices.Clone(made)
	first := b.Last() + 1
	for i := range entries {
		entries[i].Seq = first + model.Seq(i)
		entries[i].At = s.at.Format(time.RFC3339)
		if len(entries) > 1 {
			entries[i].Act = first
		}
	}
	next, err := b.Extend(entries)
	return next, entries, err
}

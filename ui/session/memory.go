package session

import (
	"sync"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Memory is a store that lives as long as the program does: the demo entered from
// the first start. Nobody else writes to it.
type Memory struct {
	mu   sync.Mutex
	book *ledger.Book
	make func() (*ledger.Book, error)
}

// NewMemory is a store that holds the book that make makes when it is first asked
// for, which is off the event loop.
func NewMemory(make func() (*ledger.Book, error)) *Memory { return &Memory{make: make} }

// Load is the book as it is now.
func (m *Memory) Load() (*ledger.Book, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.load()
}

func (m *Memory) load() (*ledger.Book, error) {
	if m.book != nil {
		return m.book, nil
	}
	b, err := m.make()
	m.book = b
	return b, err
}

// Write writes what build makes of the present book as one act.
func (m *Memory) Write(build func(*ledger.Book) ([]model.Entry, error)) (*ledger.Book, model.Seq, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if _, err := m.load(); err != nil {
		return nil, 0, err
	}
	entries, err := build(m.book)
	if err != nil || len(entries) == 0 {
		return m.book, 0, err
	}
	first := m.book.Last() + 1
	for i := range entries {
		entries[i].Seq = first + model.Seq(i)
		if len(entries) > 1 {
			entries[i].Act = first
		}
	}
	next, err := m.book.Extend(entries)
	if err != nil {
		return nil, 0, m.book.Refused(err)
	}
	m.book = next
	return next, first, nil
}

// Warning is always "": nothing can go wrong beside it.
func (m *Memory) Warning() string { return "" }

// Wait ends at once: nobody else writes.
func (m *Memory) Wait(<-chan struct{}) bool { return false }

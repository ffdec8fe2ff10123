package session

import (
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"

	tea "github.com/charmbracelet/bubbletea"
)

// readFirst carries out the commands of Init and hands the session what they bring. The
// watch ends at once on a store in memory.
func readFirst(d *Session) {
	for _, cmd := range d.Init()().(tea.BatchMsg) {
		d.Msg(cmd())
	}
}

func TestReadingAhead(t *testing.T) {
	d, begun, read := newTimed(), make(chan bool), 0
	first := model.NewEntry(d.Today(), model.Place{ID: "vat-room", Name: "Vat room"})
	first.Seq = 1
	book, err := ledger.Fold([]model.Entry{first})
	if err != nil {
		t.Fatal(err)
	}
	d.store = NewMemory(func() (*ledger.Book, error) {
		read++
		begun <- true
		return book, nil
	})
	d.Ahead()
	<-begun // without Init
	readFirst(d.Session)
	if !d.Loaded() || d.Book != book || read != 1 {
		t.Errorf("loaded: %v, read %d times", d.Loaded(), read)
	}
}

func TestReadingAheadOutlivesAPanic(t *testing.T) {
	d := newTimed()
	d.store = NewMemory(func() (*ledger.Book, error) { panic("page 7") })
	d.Ahead()
	readFirst(d.Session)
	if d.Loaded() || d.Unread() == nil || len(d.Root.Panics()) != 1 {
		t.Errorf("loaded: %v, %v, panics: %d", d.Loaded(), d.Unread(), len(d.Root.Panics()))
	}
}

// TestWhatIsReadAheadIsTakenOnce goes over to another store, whose book is read anew.
func TestWhatIsReadAheadIsTakenOnce(t *testing.T) {
	d := newTimed()
	d.Ahead()
	readFirst(d.Session)
	read := 0
	d.Msg(d.Use(NewMemory(func() (*ledger.Book, error) {
		read++
		return new(ledger.Book), nil
	}))().(tea.BatchMsg)[0]())
	if !d.Loaded() || read != 1 {
		t.Errorf("loaded: %v, the other store read %d times", d.Loaded(), read)
	}
}

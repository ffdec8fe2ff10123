package desk_test

import (
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui/stage"
)

// swapped is a store whose file is replaced by another one.
type swapped struct{ *stage.Store }

// kept is a store of the demo with notes after it.
func kept(t *testing.T, notes ...string) *stage.Store {
	t.Helper()
	s := stage.Kept(t, stage.Demo(t))
	for _, text := range notes {
		_, _, err := s.Write(func(*model.Book) ([]model.Entry, error) {
			return []model.Entry{model.NewEntry(stage.Today, model.Note{Text: text})}, nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return s
}

// Another file in the place of the book, longer or not, is said once and shown, and what
// this window did in the one before can't be taken back in it.
func TestAnotherFileInPlaceOfTheBook(t *testing.T) {
	for name, theirs := range map[string][]string{"an older one": nil, "as long a one": {"theirs"}, "a longer one": {"theirs", "and theirs"}} {
		t.Run(name, func(t *testing.T) {
			store := &swapped{kept(t)}
			s := stage.OpenOn(t, store, view, 80, 24)
			s.Keys("dl")
			s.Sees("ticked")
			store.Store = kept(t, theirs...)
			before, _ := store.Load()
			s.Reload()
			s.Sees("another file was put in the place of the book")
			if s.Desk.Book != before {
				t.Errorf("the book ends with entry %d, want %d", s.Desk.Book.Last(), before.Last())
			}
			s.Keys("<esc>")
			s.Reload()
			s.Misses("another file")
			s.Keys("z")
			s.Sees("nothing to take back")
			if after, _ := store.Load(); after.Last() != before.Last() {
				t.Errorf("%d entries were written", after.Last()-before.Last())
			}
		})
	}
}

// An act that finds another file in the place of the book is written there, and it alone
// can be taken back.
func TestAnActInAnotherFile(t *testing.T) {
	store := &swapped{kept(t)}
	s := stage.OpenOn(t, store, view, 80, 24)
	s.Keys("dl")
	store.Store = kept(t, "theirs")
	s.Keys("dl")
	s.Sees("another file was put in the place of the book")
	s.Keys("<esc>z")
	s.Sees("took back: ticked")
	s.Keys("z")
	s.Sees("nothing to take back")
	if struck, err := s.Desk.Book.Struck(s.Desk.Book.Last() - 2); struck || err != nil {
		t.Errorf("a note of others is struck: %v, %v", struck, err)
	}
}

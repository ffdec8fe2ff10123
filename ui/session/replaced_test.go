package session_test

import (
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/uitest"
)

// swapped is a store whose file is replaced by another one.
type swapped struct{ *uitest.Store }

// kept is a store of the demo with notes after it.
func kept(t *testing.T, notes ...string) *uitest.Store {
	t.Helper()
	s := uitest.Kept(t, uitest.Demo(t))
	for _, text := range notes {
		_, _, err := s.Write(func(*ledger.Book) ([]model.Entry, error) {
			return []model.Entry{model.NewEntry(uitest.Today, model.Note{Text: text})}, nil
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
			s := uitest.OpenOn(t, store, view, 80, 24)
			s.Keys("dl")
			s.Sees("ticked")
			store.Store = kept(t, theirs...)
			before, _ := store.Load()
			s.Reload()
			s.Sees("another file was put in the place of the book")
			if s.Session.Book != before {
				t.Errorf("the book ends with entry %d, want %d", s.Session.Book.Last(), before.Last())
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
	s := uitest.OpenOn(t, store, view, 80, 24)
	s.Keys("dl")
	store.Store = kept(t, "theirs")
	s.Keys("d<enter>")
	s.Sees("another file was put in the place of the book")
	s.Keys("<esc>z")
	s.Sees("took back: ticked")
	s.Keys("z")
	s.Sees("nothing to take back")
	if s.Session.Book.Struck(s.Session.Book.Last() - 2) {
		t.Error("a note of others is struck")
	}
}

// slow is a store whose writes begin late, while what is read is another file already.
type slow struct {
	*uitest.Store
	other *uitest.Store
}

func (s *slow) Load() (*ledger.Book, error) { return s.other.Load() }

func (s *slow) Write(build func(*ledger.Book) ([]model.Entry, error)) (*ledger.Book, model.Seq, error) {
	time.Sleep(100 * time.Millisecond) // nothing that would order it after what the window does meanwhile
	return s.Store.Write(build)
}

// What a window did may be forgotten while it is being taken back: run it with -race.
func TestTakingBackWhileTheFileIsReplaced(t *testing.T) {
	mine := kept(t)
	store := &slow{mine, mine}
	s := uitest.OpenOn(t, store, view, 80, 24)
	s.Keys("dl")
	s.Sees("ticked")
	store.other = kept(t, "theirs", "theirs", "theirs")
	s.Apart()
	s.Keys("z")
	s.Reload()
	s.Settle()
	if want, _ := store.other.Load(); s.Session.Book != want {
		t.Errorf("the book ends with entry %d, want that of the other file", s.Session.Book.Last())
	}
}

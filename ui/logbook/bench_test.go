package logbook

import (
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui/uitest"
)

// long is a book of n entries.
func long(b *testing.B, n int) *model.Book {
	entries := []model.Entry{
		model.NewEntry(uitest.Today.AddDays(-2000), model.Counter{ID: "made", Name: "Water made", Unit: "L", Style: model.StyleAmount}),
	}
	for i := len(entries); i < n; i++ {
		v := float64(i % 50)
		entries = append(entries, model.NewEntry(uitest.Today.AddDays(-2000+i*2000/n), model.Usage{Counter: "made", Amount: &v}))
	}
	return uitest.Book(b, entries)
}

// indexed is the whole index of a book.
func indexed(t testing.TB, b *model.Book) *index {
	t.Helper()
	x := newIndex(b, stretch)
	for !x.complete() {
		st, err := x.next()
		if err != nil {
			t.Fatal(err)
		}
		x = st.made
	}
	return x
}

func BenchmarkIndex(b *testing.B) {
	book := long(b, 100_000)
	for b.Loop() {
		indexed(b, book)
	}
}

// BenchmarkLook is a filter that nothing passes, over the whole log.
func BenchmarkLook(b *testing.B) {
	x := indexed(b, long(b, 100_000))
	for b.Loop() {
		s := newSearch(parseQuery("nothing has this", uitest.Today), 1)
		for s.behind(x) {
			found, err := s.query.look(x, s.next(x))
			if err != nil || len(found) > 0 {
				b.Fatal(found, err)
			}
			s.take(part{found: found})
		}
	}
}

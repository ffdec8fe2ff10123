package logbook

import (
	"fmt"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui/stage"
)

// long is a book of n entries, the later ones amending some of the earlier.
func long(b *testing.B, n int) *model.Book {
	entries := []model.Entry{
		model.NewEntry(stage.Today.AddDays(-2000), model.Counter{ID: "made", Name: "Water made", Unit: "L", Style: model.StyleAmount}),
	}
	for i := len(entries); i < n; i++ {
		v := float64(i % 50)
		entries = append(entries, model.NewEntry(stage.Today.AddDays(-2000+i*2000/n), model.Usage{Counter: "made", Amount: &v}))
	}
	return stage.Book(b, entries)
}

func BenchmarkIndex(b *testing.B) {
	book := long(b, 100_000)
	for b.Loop() {
		newIndex(book)
	}
}

// BenchmarkLook is a filter that nothing passes, over the whole log.
func BenchmarkLook(b *testing.B) {
	x := newIndex(long(b, 100_000))
	s := search{query: parseQuery("nothing has this", stage.Today)}
	for b.Loop() {
		if p := s.look(x, len(x.seqs)); len(p.found) > 0 {
			b.Fatal(fmt.Sprint(p.found))
		}
	}
}

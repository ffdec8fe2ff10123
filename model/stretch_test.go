package model

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// Taken in backwards, the entries of a log read as a full book has them, one by one, and a
// stretch of it is the book's own entries.
func TestBackwardsIsTheFullBook(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, err := Fold(numbered(start(), 0))
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(0, 20).Draw(t, "acts") {
			if next, err := b.Extend(numbered(act(t, b), b.Last())); err == nil {
				b = next
			}
		}
		var back Backwards
		for seq := b.Last(); seq > 0; seq-- {
			reads, struck, changes, err := back.Take(must(b.Written(seq)))
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(reads, b.Reads(seq)) || struck != must(b.Struck(seq)) {
				t.Fatalf("entry %d reads %+v, struck %v; in the book %+v, %v", seq, reads, struck, b.Reads(seq), must(b.Struck(seq)))
			}
			if amends := must(b.Written(seq)).Kind == KindAmend; (changes != 0) != (amends && !struck) {
				t.Fatalf("entry %d changes entry %d", seq, changes)
			}
		}
		from, to := Seq(rapid.IntRange(0, 40).Draw(t, "from")), Seq(rapid.IntRange(0, 40).Draw(t, "to"))
		got, err := b.Entries(from, to)
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range got {
			if want := must(b.Written(max(from, 1) + Seq(i))); e != want {
				t.Fatalf("entry %d instead of %d", e.Seq, want.Seq)
			}
		}
	})
}

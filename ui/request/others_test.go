package request

import (
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// A window that has not heard yet of another file in the place of the book takes nothing
// back in it: the entry with the number of its own is another's.
func TestUndoRefusesTheEntriesOfOthers(t *testing.T) {
	note := func(text string) model.Note { return model.Note{Text: text} }
	start, w := reef(t), &ledger.Window{}
	mine := wrote(t, start, on(day(3)).entries(note("mine")))
	w.Did(entriesOf(mine, start.Last()+1))
	undone := did(t, mine, Undo{on(day(3)), w}.Entries)
	w.Undid(entriesOf(undone, mine.Last()+1))
	mine = did(t, undone, Redo{on(day(3)), w}.Entries)

	theirs := wrote(t, start, on(day(3)).entries(note("theirs")))
	again := wrote(t, theirs, on(day(3)).entries(note("theirs too"), note("and more")))
	for name, b := range map[string]*ledger.Book{"an older file": start, "as many": theirs, "more": again} {
		for op, entries := range map[string]func(*ledger.Book) ([]model.Entry, error){"undo": Undo{on(day(4)), w}.Entries, "redo": Redo{on(day(4)), w}.Entries} {
			if got, err := entries(b); err == nil || !strings.Contains(err.Error(), "another file") {
				t.Errorf("%s, %s: %v, %v", name, op, got, err)
			}
		}
	}
	// A file that goes on with what the window wrote is the book.
	if _, err := (Undo{on(day(4)), w}).Entries(wrote(t, mine, on(day(3)).entries(note("theirs")))); err != nil {
		t.Error(err)
	}
}

// entriesOf are the entries of a book from one seq on.
func entriesOf(b *ledger.Book, from model.Seq) (out []model.Entry) {
	entries, err := b.Entries(from, b.Last())
	if err != nil {
		panic(err)
	}
	for _, e := range entries {
		out = append(out, *e)
	}
	return out
}

package request

import (
	"errors"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// What a window says when there is nothing to take back.
var (
	ErrNothingToUndo = errors.New("this window has nothing to take back; strike older entries in the log")
	ErrNothingToRedo = errors.New("this window has taken nothing back that could be done again")
)

// Undo takes back the latest act of a window that still stands. Once it is
// written, tell the window by Undid.
type Undo struct {
	Stamp
	Window *ledger.Window // what it did; not changed while the act is worked out
}

// Entries is one amend for each entry of the act.
func (r Undo) Entries(b *ledger.Book) ([]model.Entry, error) {
	last, err := r.Window.LastAct(b)
	if err != nil {
		return nil, err
	}
	if last == 0 {
		return nil, ErrNothingToUndo
	}
	return r.strike(b, last)
}

// Redo strikes the window's latest undo, which brings back what it took.
type Redo struct {
	Stamp
	Window *ledger.Window
}

// Entries is one amend for each amend of the undo.
func (r Redo) Entries(b *ledger.Book) ([]model.Entry, error) {
	last, err := r.Window.LastUndo(b)
	if err != nil {
		return nil, err
	}
	if last == 0 {
		return nil, ErrNothingToRedo
	}
	return r.strike(b, last)
}

// Strike takes back the act that holds an entry, whoever wrote it.
type Strike struct {
	Stamp
	Act model.Seq
}

// Entries is one amend for each entry of the act that still stands.
func (r Strike) Entries(b *ledger.Book) ([]model.Entry, error) {
	first, err := b.Written(r.Act)
	if err != nil {
		return nil, err
	}
	if first == nil {
		return nil, errors.New("no such entry in the log; give the number of one")
	}
	return r.strike(b, r.Act)
}

// StrikeOne takes one entry back. With the first, the book would lose its name and units: that one is amended.
type StrikeOne struct {
	Stamp
	Entry model.Seq
}

// Entries is the amend that strikes it.
func (r StrikeOne) Entries(b *ledger.Book) ([]model.Entry, error) {
	e, err := b.Written(r.Entry)
	if err != nil {
		return nil, err
	}
	if e != nil && e.Kind == model.KindBook && e.Seq == 1 {
		return nil, errors.New("the first entry holds the book's name and units: amend it (e in the log) in place of striking it")
	}
	return Log{r.Stamp, model.Amend{Entry: r.Entry, Strike: true}}.Entries(b)
}

func (s Stamp) strike(b *ledger.Book, act model.Seq) ([]model.Entry, error) {
	out, err := b.Strike(act, s.On)
	if err != nil {
		return nil, err
	}
	for i := range out {
		out[i].By = s.By
	}
	return out, nil
}

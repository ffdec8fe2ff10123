package ledger

import (
	"bytes"
	"errors"
	"slices"

	"brine/wrasse/model"
)

// ErrOthers is what a window says of a book that does not hold what it wrote.
var ErrOthers = errors.New("another file is in the place of the book, without what this window wrote; strike entries of it in the log")

// Window is the acts that one window, or one command, has written, as they were written,
// so that it can take its own last one back and nobody else's. The zero Window wrote nothing.
type Window struct {
	acts  [][]model.Entry // acts that are no undo
	undos [][]model.Entry // acts that took one back
}

// Did remembers the entries of an act the window wrote.
func (w *Window) Did(act []model.Entry) { w.acts = append(w.acts, act) }

// Undid remembers the entries of an act that took another back.
func (w *Window) Undid(act []model.Entry) { w.undos = append(w.undos, act) }

// LastAct is the first seq of the window's latest act that still stands, or 0 when none
// does. The error is an ErrOthers when the book holds something else in its place, or that
// of reading the book.
func (w *Window) LastAct(b *Book) (act model.Seq, err error) { return b.lastStanding(w.acts) }

// LastUndo is the window's latest undo that still stands, or 0 when none does. Its errors are those of LastAct.
func (w *Window) LastUndo(b *Book) (act model.Seq, err error) { return b.lastStanding(w.undos) }

func (b *Book) lastStanding(acts [][]model.Entry) (model.Seq, error) {
	for _, act := range slices.Backward(acts) {
		if len(act) == 0 {
			continue
		}
		if err := b.has(act); err != nil {
			return 0, err
		}
		if standing, err := b.standing(act[0].Seq); err != nil || len(standing) > 0 {
			return act[0].Seq, err
		}
	}
	return 0, nil
}

// standing is the entries of an act that are not struck.
func (b *Book) standing(act model.Seq) (out []*model.Entry, err error) {
	entries, err := b.Act(act)
	for _, e := range entries {
		if !b.Struck(e.Seq) {
			out = append(out, e)
		}
	}
	return out, err
}

// has makes sure that a book holds the entries of an act as they were written.
func (b *Book) has(act []model.Entry) error {
	held, err := b.Entries(act[0].Seq, act[len(act)-1].Seq)
	if err != nil {
		return err
	}
	if len(held) != len(act) {
		return ErrOthers
	}
	for i, e := range act {
		was, err := model.EncodeEntry(e)
		if err != nil {
			return err
		}
		if is, err := model.EncodeEntry(*held[i]); err != nil || !bytes.Equal(is, was) {
			return ErrOthers
		}
	}
	return nil
}

// Strike is the entries that take a whole act back: one amend for each of its entries
// that still stands, nil when none does. Striking an undo brings back what it took. Like
// Act it may read the file.
func (b *Book) Strike(act model.Seq, on model.Date) (out []model.Entry, err error) {
	standing, err := b.standing(act)
	for _, e := range standing {
		out = append(out, model.NewEntry(on, model.Amend{Entry: e.Seq, Strike: true}))
	}
	return out, err
}

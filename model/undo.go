package model

import "slices"

// Window is the acts that one window, or one command, has written, so that it can
// take its own last one back. The zero Window wrote nothing.
type Window struct {
	acts  []Seq // first seqs of acts that are no undo
	undos []Seq // first seqs of the acts that took one back
}

// Did remembers an act the window wrote, by its first seq.
func (w *Window) Did(act Seq) { w.acts = append(w.acts, act) }

// Undid remembers an act that took another back.
func (w *Window) Undid(act Seq) { w.undos = append(w.undos, act) }

// LastAct is the window's latest act that still stands, 0 when none does.
func (w *Window) LastAct(b *Book) (act Seq, err error) { return b.lastStanding(w.acts) }

// LastUndo is the window's latest undo that still stands, 0 when none does.
func (w *Window) LastUndo(b *Book) (act Seq, err error) { return b.lastStanding(w.undos) }

func (b *Book) lastStanding(acts []Seq) (Seq, error) {
	for _, act := range slices.Backward(acts) {
		if standing, err := b.standing(act); err != nil || len(standing) > 0 {
			return act, err
		}
	}
	return 0, nil
}

// standing is the entries of an act that are not struck.
func (b *Book) standing(act Seq) (out []*Entry, err error) {
	entries, err := b.Act(act)
	for _, e := range entries {
		if !b.Struck(e.Seq) {
			out = append(out, e)
		}
	}
	return out, err
}

// Strike is the entries that take a whole act back: one amend for each of its entries
// that still stands. Striking an undo brings back what it took.
func (b *Book) Strike(act Seq, on Date) (out []Entry, err error) {
	standing, err := b.standing(act)
	for _, e := range standing {
		out = append(out, NewEntry(on, Amend{Entry: e.Seq, Strike: true}))
	}
	return out, err
}

package model

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

// LastAct is the window's latest act that still stands; ok is false when none does.
func (w *Window) LastAct(b *Book) (act Seq, ok bool) { return b.lastStanding(w.acts) }

// LastUndo is the window's latest undo that still stands.
func (w *Window) LastUndo(b *Book) (act Seq, ok bool) { return b.lastStanding(w.undos) }

func (b *Book) lastStanding(acts []Seq) (Seq, bool) {
	for i := len(acts) - 1; i >= 0; i-- {
		for _, e := range b.Act(acts[i]) {
			if !b.Struck(e.Seq) {
				return acts[i], true
			}
		}
	}
	return 0, false
}

// Strike is the entries that take a whole act back: one amend for each of its entries
// that still stands. Striking an undo brings back what it took.
func (b *Book) Strike(act Seq, on Date) []Entry {
	var out []Entry
	for _, e := range b.Act(act) {
		if !b.Struck(e.Seq) {
			out = append(out, NewEntry(on, Amend{Entry: e.Seq, Strike: true}))
		}
	}
	return out
}

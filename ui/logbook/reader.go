package logbook

import (
	"cmp"
	"fmt"
	"slices"

	"brine/wrasse/model"
)

// reader reads entries of a book for one command, neighbours in one go, and settles how
// they read. It keeps what it has read.
type reader struct {
	book   *model.Book
	amends order // as an index has them
	runs   []run // by their first seq, none overlapping another
}

// run is entries that follow one another in the log.
type run struct {
	from    model.Seq
	entries []*model.Entry
}

// What is read in one go: entries between two that are wanted, rather than opening the
// file once more, and as many as may be wanted next to one that was not foreseen.
const (
	readGap  = 32
	readNext = 32
)

// load reads the entries of seqs, which are sorted by it.
func (r *reader) load(seqs []model.Seq) error {
	slices.Sort(seqs)
	for len(seqs) > 0 {
		n := 1
		for n < len(seqs) && seqs[n] <= seqs[n-1]+readGap {
			n++
		}
		if err := r.stretch(seqs[0], seqs[n-1]); err != nil {
			return err
		}
		seqs = seqs[n:]
	}
	return nil
}

// stretch reads the entries from one seq to another, of which none was read before.
func (r *reader) stretch(from, to model.Seq) error {
	entries, err := r.book.Entries(from, to)
	if err != nil {
		return err
	}
	i, _ := r.find(from)
	r.runs = slices.Insert(r.runs, i, run{from, entries})
	return nil
}

// find is the place of the run that begins at a seq, or would.
func (r *reader) find(from model.Seq) (int, bool) {
	return slices.BinarySearchFunc(r.runs, from, func(of run, from model.Seq) int { return cmp.Compare(of.from, from) })
}

// entry is an entry as it was written.
func (r *reader) entry(seq model.Seq) (*model.Entry, error) {
	i, begins := r.find(seq)
	if !begins {
		i--
	}
	if i >= 0 {
		if at := int(seq - r.runs[i].from); at < len(r.runs[i].entries) {
			return r.runs[i].entries[at], nil
		}
	}
	if seq < 1 || seq > r.book.Last() {
		return nil, fmt.Errorf("the log has no entry %d", seq)
	}
	end := min(seq+readNext, r.book.Last()+1)
	if i+1 < len(r.runs) {
		end = min(end, r.runs[i+1].from)
	}
	if err := r.stretch(seq, end-1); err != nil {
		return nil, err
	}
	return r.entry(seq)
}

// reading is an entry with what later ones made of it.
type reading struct {
	written *model.Entry
	reads   *model.Entry // after its amends: nil when it is struck, and for an amend
	struck  bool
	changes model.Seq // of an amend that stands: the entry it changes
}

// shown is how an entry reads today or, when it is struck, as it was written.
func (g reading) shown() *model.Entry {
	if g.reads != nil {
		return g.reads
	}
	return g.written
}

// amended tells whether an entry reads otherwise than it was written.
func (g reading) amended() bool { return g.reads != nil && g.reads != g.written }

// reading settles how an entry reads.
func (r *reader) reading(seq model.Seq) (reading, error) { return r.settled(seq, r.amends) }

// settled settles it by the given amends.
func (r *reader) settled(seq model.Seq, amends order) (g reading, err error) {
	if g.written, err = r.entry(seq); err != nil {
		return g, err
	}
	if _, amend := g.written.Body.(model.Amend); !amend && !isAmended(amends, seq) { // as nearly all
		g.reads = g.written
		return g, nil
	}
	family, err := r.family(seq, amends)
	if err != nil {
		return g, err
	}
	var back model.Backwards
	for _, e := range slices.Backward(family) {
		if g.reads, g.struck, g.changes, err = back.Take(e); err != nil {
			return g, fmt.Errorf("entry %d as amended: %w", e.Seq, err)
		}
	}
	return g, nil
}

// family is an entry and all that amends it, or amends that, in the order of writing.
func (r *reader) family(seq model.Seq, amends order) ([]*model.Entry, error) {
	seqs := []model.Seq{seq}
	for i := 0; i < len(seqs); i++ {
		for _, by := range amendsOf(amends, seqs[i]) {
			if !slices.Contains(seqs, by) {
				seqs = append(seqs, by)
			}
		}
	}
	slices.Sort(seqs)
	family := make([]*model.Entry, len(seqs))
	for i, s := range seqs {
		var err error
		if family[i], err = r.entry(s); err != nil {
			return nil, err
		}
	}
	return family, nil
}

func isAmended(amends order, seq model.Seq) bool {
	i := amends.rank(pair(uint32(seq), 0))
	return i < amends.n && amends.at(i) < pair(uint32(seq)+1, 0)
}

// amendsOf are the entries that amend one, in the order of writing.
func amendsOf(amends order, seq model.Seq) []model.Seq {
	var out []model.Seq
	for _, k := range amends.span(pair(uint32(seq), 0), pair(uint32(seq)+1, 0)) {
		out = append(out, k.seq())
	}
	return out
}

// act is the first and the last entry of the act that holds an entry.
func (r *reader) act(e *model.Entry) (first, last model.Seq, err error) {
	if e.Act == 0 {
		return e.Seq, e.Seq, nil
	}
	last = e.Seq
	for last < r.book.Last() {
		next, err := r.entry(last + 1)
		if err != nil {
			return 0, 0, err
		}
		if next.Act != e.Act {
			break
		}
		last++
	}
	return e.Act, last, nil
}

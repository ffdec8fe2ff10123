package model

// Log is a Source that hands out the entries of its log a stretch at a time.
type Log interface {
	Source
	// Entries are the entries from one seq to another, both of them too, as they were written.
	Entries(from, to Seq) ([]Entry, error)
	// Same tells whether another source reads the same file.
	Same(Source) bool
}

// Entries are the entries from one seq to another, both of them too, as they were written. Those that the book doesn't
// hold are read from its file, in one go where that is a Log.
func (b *Book) Entries(from, to Seq) ([]*Entry, error) {
	from, to = max(from, 1), min(to, b.Last())
	if from > to {
		return nil, nil
	}
	out := make([]*Entry, 0, to-from+1)
	if from <= b.base {
		read, err := b.read(from, min(to, b.base))
		if err != nil {
			return nil, err
		}
		for i := range read {
			out = append(out, &read[i])
		}
		from = b.base + 1
	}
	if from <= to {
		out = append(out, b.log[from-b.base-1:to-b.base]...)
	}
	return out, nil
}

// read reads entries that the book doesn't hold.
func (b *Book) read(from, to Seq) ([]Entry, error) {
	if l, ok := b.source.(Log); ok {
		return l.Entries(from, to)
	}
	out := make([]Entry, 0, to-from+1)
	for seq := from; seq <= to; seq++ {
		e, err := b.Written(seq)
		if err != nil {
			return nil, err
		}
		out = append(out, *e)
	}
	return out, nil
}

// Continues tells whether a book is of the same file as an earlier one, or of none as that is: what was known of the
// log then may stand.
func (b *Book) Continues(old *Book) bool {
	if b.source == nil || old.source == nil {
		return b.source == old.source
	}
	l, ok := b.source.(Log)
	return ok && l.Same(old.source)
}

// Replaces tells whether a book is of another file than an earlier one, which was put in its place.
func (b *Book) Replaces(old *Book) bool {
	return b.source != nil && old.source != nil && !b.Continues(old)
}

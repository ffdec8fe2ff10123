package storage

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Verify looks at everything there is to a book: both headers, every page and whether it
// is in use exactly once or free, the checksum of every record and the chain of those of the log, that every entry is one
// an import would accept, the sequence without gaps, the references, and that the snapshot with the entries behind it, and
// the table of dates, are what the log comes to. It returns a line for each finding; none
// means that the book is sound. The error says that the book could not be looked at. O(n), in memory for the whole log.
func (b *Book) Verify() (findings []string, err error) {
	end, err := b.begin()
	if err != nil {
		return nil, err
	}
	defer end()
	var v verifier
	f, err := b.openAnyway()
	if err != nil {
		return nil, b.advise(err)
	}
	defer f.Close()
	if err := v.file(f); err != nil {
		return nil, b.advise(err)
	}
	return v.findings, nil
}

// openAnyway opens the file to look at it even when this process can't use it any more.
func (b *Book) openAnyway() (*os.File, error) {
	if b.dead.Load() != nil {
		return OpenFile(b.file)
	}
	return b.open(false)
}

// verifyFile verifies a file that nobody writes to.
func verifyFile(path string) ([]string, error) {
	f, err := OpenFile(path)
	if err != nil {
		return nil, fmt.Errorf("opening the copy: %w", err)
	}
	defer f.Close()
	if info, err := f.Stat(); err != nil || info.Size() == 0 {
		return nil, fmt.Errorf("%s: %w, only an empty file; name another copy", path, ErrNoBook)
	}
	var v verifier
	if err := v.file(f); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return v.findings, nil
}

// verifier gathers findings, and what they are about.
type verifier struct {
	findings []string
	st       state
	values   map[string]map[string][]byte // of the tables beside the log
	each     func(record)                 // takes the records of the log whose seals hold; may be nil

	next   model.Seq // the entry that is to come
	before uint32    // the seal of the one before it
	broken bool      // something is wrong with the log
}

// logWrong adds a finding about the log.
func (v *verifier) logWrong(format string, args ...any) {
	v.broken = true
	v.add(format, args...)
}

// record takes the next record of the log: none may be missing, and each follows on the one before it.
func (v *verifier) record(r record) {
	switch {
	case r.seq == v.next+1:
		v.logWrong("entry %d is missing", v.next)
	case r.seq != v.next:
		v.logWrong("entries %d to %d are missing", v.next, r.seq-1)
	case !r.follows(v.before):
		v.logWrong("entry %d does not follow on the entry before it", r.seq)
	}
	v.next, v.before = r.seq+1, sealOf(r.value)
	if _, ok := unseal(r.key, r.value); !ok {
		v.logWrong("entry %d: the checksum does not hold", r.seq)
	} else if v.each != nil {
		v.each(r)
	}
}

// maxFindings bounds the list for a file that is damaged all over.
const maxFindings = 200

func (v *verifier) add(format string, args ...any) {
	if len(v.findings) < maxFindings {
		v.findings = append(v.findings, fmt.Sprintf(format, args...))
	}
}

// damage adds a finding, without the words every damage starts with.
func (v *verifier) damage(err error) {
	var d *damageError
	if errors.As(err, &d) {
		v.add("%s", d.what)
		return
	}
	v.add("%v", err)
}

// file verifies a file. Its error is that of reading, or that the file is one of a newer wrasse.
func (v *verifier) file(f *os.File) error {
	if _, _, err := readHeaders(f); err != nil {
		v.damage(err)
	}
	h, err := readAnyHeader(f)
	if err != nil {
		return nil // found above
	}
	im := &image{f, h}
	if err := im.whole(f); err != nil {
		v.damage(err)
		return nil
	}
	book, log, err := v.fold(im)
	if book != nil && v.st.schema >= 3 {
		v.snapshot(book, log)
		v.dates(book)
	}
	return err
}

// walk walks the pages of a file and takes its records. Its error is that the file is one of a newer wrasse.
func (v *verifier) walk(im *image) error {
	v.next = 1
	seen := make([]bool, im.pages)
	w := im.walker()
	w.found = func(err error) error { v.damage(err); return nil }
	w.extent = func(id, pages pageID) {
		for i := range pages {
			if seen[id+i] {
				v.add("page %d is in use twice, or in use and free", id+i)
			}
			seen[id+i] = true
		}
	}
	buckets, err := w.buckets()
	if err != nil {
		v.damage(err)
	}
	v.values = map[string]map[string][]byte{}
	for _, name := range slices.Sorted(maps.Keys(buckets)) {
		if !slices.Contains(tables, name) && !slices.Contains(older, name) {
			v.add("it holds a table %q that is not of this program", name)
			continue
		}
		values := map[string][]byte{}
		v.values[name] = values
		w.leaf = func(p page) {
			for _, e := range p.all() {
				_, ok := unseal(e.key, e.value)
				switch {
				case name == string(bucketLog) && !e.sub && len(e.key) == 8:
					v.record(record{model.Seq(binary.BigEndian.Uint64(e.key)), e.key, e.value})
				case e.sub || name == string(bucketLog):
					v.add("page %d: the key %x is not one of the table %q", p.id, e.key, name)
				case name != string(bucketDates) && !ok:
					v.add("page %d: the checksum of %q in the table %q does not hold", p.id, e.key, name)
				case name != string(bucketDates) || v.each != nil: // a look at the log alone needs no dates
					values[string(e.key)] = e.value
				}
			}
		}
		if err := w.bucket(buckets[name]); err != nil {
			v.damage(err)
		}
	}
	if v.values[string(bucketLog)] == nil {
		v.logWrong("its log is missing")
	}
	meta := v.values[string(bucketMeta)]
	v.st, err = stateOf(func(key []byte) []byte { return meta[string(key)] })
	if errors.Is(err, ErrNewer) {
		return err
	}
	if err != nil {
		v.damage(err)
	}
	if last := v.next - 1; last != v.st.Count {
		v.logWrong("the log ends with entry %d instead of %d", last, v.st.Count)
	} else if v.st.schema >= 3 && v.before != v.st.Seal {
		v.logWrong("entry %d, its last, is not the one that was written last", last)
	}
	v.account(im, seen, w.extent)
	return nil
}

// account makes sure that every page is in use once or free.
func (v *verifier) account(im *image, seen []bool, take func(id, pages pageID)) {
	free, own, err := im.freePages()
	if err != nil {
		v.damage(err)
		return
	}
	take(own.id, own.overflow+1)
	for _, id := range free {
		take(id, 1)
	}
	for id := pageID(2); id < im.pages; id++ {
		if !seen[id] {
			v.add("page %d is neither in use nor free", id)
		}
	}
}

// fold walks the pages of a file and folds its log, each entry as strictly looked at as in an import. It returns the book
// with the records of its log, or nil after a finding about the log.
func (v *verifier) fold(im *image) (*ledger.Book, []record, error) {
	var records []record
	var log []model.Entry
	v.each = func(r record) {
		payload, _ := unseal(r.key, r.value)
		e, err := model.DecodeEntry(payload)
		switch {
		case err != nil:
			v.logWrong("entry %d: %v", r.seq, err)
		case e.Seq != r.seq:
			v.logWrong("entry %d says it is entry %d", r.seq, e.Seq)
		default:
			records, log = append(records, r), append(log, e)
		}
	}
	if err := v.walk(im); err != nil || v.broken {
		return nil, nil, err
	}
	book, err := ledger.Fold(log)
	if err != nil {
		v.logWrong("%v", err)
		return nil, nil, nil
	}
	return book, records, nil
}

// snapshot compares the snapshot, and the entries behind it, with what the log comes to.
func (v *verifier) snapshot(want *ledger.Book, log []record) {
	payload, ok := unseal(keyBook, v.values[string(bucketSnapshot)][string(keyBook)])
	if !ok || len(payload) < 12 {
		v.add("its snapshot is missing")
		return
	}
	of, seal := binary.BigEndian.Uint64(payload), binary.BigEndian.Uint32(payload[8:])
	if of == 0 || of > uint64(len(log)) || sealOf(log[of-1].value) != seal {
		v.add("its snapshot is of another log")
		return
	}
	if !ledger.Unpackable(payload[12:]) {
		return // nobody reads it; the log is the book
	}
	l := loaded{known: known{packed: model.Seq(of)}, snapshot: payload[12:], behind: log[of:]}
	if err := sameBook(&l, want); err != nil {
		v.damage(err)
	}
}

// sameBook makes sure that a snapshot and the entries behind it come to a book.
func sameBook(l *loaded, want *ledger.Book) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = damaged("its snapshot can't be read: %v", r)
		}
	}()
	got, err := l.open(logOf{want})
	if err != nil {
		return err
	}
	g, err := got.Pack()
	if err != nil {
		return err
	}
	w, err := want.Pack()
	if err == nil && !bytes.Equal(g, w) {
		err = damaged("its snapshot differs from what the log comes to")
	}
	return err
}

// logOf is a book that holds its log, as the source of another.
type logOf struct{ *ledger.Book }

// Entries implements ledger.Source.
func (l logOf) Entries(from, to model.Seq) ([]model.Entry, error) {
	var out []model.Entry
	entries, err := l.Book.Entries(from, to)
	for _, e := range entries {
		out = append(out, *e)
	}
	return out, err
}

// Same implements ledger.Source.
func (l logOf) Same(o ledger.Source) bool { return o == ledger.Source(l) }

// maxDiffering bounds the list of entries that stand at another place.
const maxDiffering = 5

// dates compares the table of dates with what the log comes to.
func (v *verifier) dates(want *ledger.Book) {
	dates := v.values[string(bucketDates)]
	wrong, sum := 0, uint64(0)
	for r, err := range want.Rows() {
		if err != nil {
			v.add("%v", err)
			return
		}
		k := dateKey(r.Mark)
		got, ok := dates[string(k)]
		if !ok || !bytes.Equal(got, flagsOf(r)) {
			if wrong++; wrong <= maxDiffering {
				v.add("entry %d is not as it should be in the table of dates", r.Seq)
			}
		}
		sum += dateSum(k, flagsOf(r))
	}
	switch {
	case wrong > maxDiffering:
		v.add("and so are %d others", wrong-maxDiffering)
	case uint64(len(dates)) != uint64(want.Last()):
		v.add("its table of dates has %d entries instead of %d", len(dates), want.Last())
	case sum != v.st.Dates:
		v.add("its table of dates does not come to its sum")
	}
}

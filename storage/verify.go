package storage

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"slices"

	"brine/wrasse/model"
)

// Verify looks at everything there is to a book: both headers, every page and whether it
// is in use exactly once or free, the checksum of every record, that every entry is one
// an import would accept, the sequence without gaps, the references, and that the book
// kept folded, moved forward act by act, equals one rebuilt record by record. It returns a line for each finding; none
// means that the book is sound. The error says that the book could not be looked at.
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
	err = v.pages(f)
	f.Close()
	if err != nil {
		return nil, b.advise(err)
	}
	v.entries()
	return v.findings, nil
}

// openAnyway opens the file to look at it even when this process can't use it any more.
func (b *Book) openAnyway() (*os.File, error) {
	if b.dead != nil {
		return OpenFile(b.file())
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
	if err := v.pages(f); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	v.entries()
	return v.findings, nil
}

// verifier gathers findings.
type verifier struct {
	findings []string
	records  []record
	now      map[string][]byte // the book folded
	schema   int
	complete bool // the pages could be walked
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

// pages walks the file and gathers its records. Its error is that of reading, or that
// the file is one of a newer wrasse.
func (v *verifier) pages(f *os.File) error {
	if _, _, err := readHeaders(f); err != nil {
		v.damage(err)
	}
	h, err := readAnyHeader(f)
	if err != nil {
		return nil // found above
	}
	im, err := (&image{r: f, header: h}).whole(f)
	if err != nil {
		v.damage(err)
		return nil
	}
	st, err := im.state()
	if errors.Is(err, ErrNewer) {
		return err
	}
	if err != nil {
		v.damage(err)
	}
	v.schema, v.now = st.schema, map[string][]byte{}
	w := im.walker()
	w.found = func(err error) error { v.damage(err); return nil }
	buckets := map[string]bucket{}
	w.leaf = func(p page) error {
		for _, e := range p.all() {
			b, what := parseBucket(e.value)
			if !e.sub || what != "" {
				v.add("page %d: the table %q can't be read", p.id, e.key)
				continue
			}
			buckets[string(e.key)] = b
		}
		return nil
	}
	w.bucket(im.rootBucket())
	for name := range buckets {
		if !slices.ContainsFunc(tables, func(t []byte) bool { return string(t) == name }) {
			v.add("it holds a table %q that is not of this program", name)
		}
	}
	w.leaf = func(p page) error {
		for _, e := range p.all() {
			if e.sub || len(e.key) != 8 {
				v.add("page %d: the key %x is not one of an entry", p.id, e.key)
				continue
			}
			v.records = append(v.records, record{model.Seq(binary.BigEndian.Uint64(e.key)), e.key, e.value})
		}
		return nil
	}
	if log, ok := buckets[string(bucketLog)]; ok {
		w.bucket(log)
	} else {
		v.add("its log is missing")
	}
	w.leaf = func(page) error { return nil }
	if meta, ok := buckets[string(bucketMeta)]; ok {
		w.bucket(meta)
	}
	for _, name := range [][]byte{bucketNow, bucketChunks, bucketLearnt} {
		w.leaf = func(p page) error {
			for _, e := range p.all() {
				value, ok := unseal(e.key, e.value)
				if e.sub || !ok {
					v.add("page %d: the checksum of %q in the table %q does not hold", p.id, e.key, name)
				} else if &name[0] != &bucketLearnt[0] {
					v.now[string(e.key)] = value
				}
			}
			return nil
		}
		if b, ok := buckets[string(name)]; ok {
			w.bucket(b)
		}
	}
	v.account(im, w.seen)
	v.sequence(st)
	return nil
}

// account makes sure that every page is in use once or free.
func (v *verifier) account(im *image, seen []bool) {
	free, own, err := im.freePages()
	if err != nil {
		v.damage(err)
		return
	}
	take := func(id pageID) {
		if seen[id] {
			v.add("page %d is in use twice, or in use and free", id)
		}
		seen[id] = true
	}
	for i := range own.overflow + 1 {
		take(own.id + i)
	}
	for _, id := range free {
		take(id)
	}
	for id := pageID(2); id < im.pages; id++ {
		if !seen[id] {
			v.add("page %d is neither in use nor free", id)
		}
	}
}

// sequence makes sure that no entry is missing.
func (v *verifier) sequence(st state) {
	next := model.Seq(1)
	for _, r := range v.records {
		switch {
		case r.seq == next+1:
			v.add("entry %d is missing", next)
		case r.seq != next:
			v.add("entries %d to %d are missing", next, r.seq-1)
		}
		next = r.seq + 1
	}
	if last := next - 1; last != st.Count {
		v.add("the log ends with entry %d instead of %d", last, st.Count)
	}
	v.complete = true
}

// entries decodes and folds the records; it returns the book, or nil after a finding.
func (v *verifier) entries() *model.Book {
	var log []model.Entry
	for _, r := range v.records {
		payload, ok := unseal(r.key, r.value)
		if !ok {
			v.add("entry %d: the checksum does not hold", r.seq)
			continue
		}
		e, err := model.DecodeEntry(payload)
		if err != nil {
			v.add("entry %d: %v", r.seq, err)
			continue
		}
		if e.Seq != r.seq {
			v.add("entry %d says it is entry %d", r.seq, e.Seq)
			continue
		}
		log = append(log, e)
	}
	if len(v.findings) > 0 || !v.complete {
		return nil
	}
	rebuilt, err := model.Fold(log)
	if err != nil {
		v.add("%v", err)
		return nil
	}
	if v.schema >= 2 {
		v.derived(rebuilt)
	}
	return rebuilt
}

// maxDiffering bounds the list of records that differ: one wrong event changes many.
const maxDiffering = 5

// derived compares the book kept folded with one folded anew from the log.
func (v *verifier) derived(rebuilt *model.Book) {
	changes, _, err := rebuilt.Changes()
	if err != nil {
		v.add("the book folded: %v", err)
		return
	}
	want := make(map[string][]byte, len(changes))
	for _, c := range changes {
		want[c.Key] = c.Value
	}
	var wrong []string
	for key, value := range v.now {
		if w, ok := want[key]; !ok || !bytes.Equal(w, value) {
			wrong = append(wrong, key)
		}
	}
	for key := range want {
		if _, ok := v.now[key]; !ok {
			wrong = append(wrong, key)
		}
	}
	slices.Sort(wrong)
	for _, key := range wrong[:min(len(wrong), maxDiffering)] {
		v.add("its record %q differs from the one that the log comes to", key)
	}
	if more := len(wrong) - maxDiffering; more > 0 {
		v.add("and so do %d others", more)
	}
}

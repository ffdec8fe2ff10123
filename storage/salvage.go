package storage

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"

	"github.com/go-json-experiment/json"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Salvage reads what can still be read of a damaged book and returns it as a book that
// can be exported and imported: entries whose checksum holds, wherever in the file they
// lie, with new numbers where some are missing. lost has a line for each that is missing,
// or that can't stand without one that is; nil without any. It changes nothing in the
// file. O(size of the file), in memory for the whole log.
func (b *Book) Salvage() (book *ledger.Book, lost []string, err error) {
	end, err := b.begin()
	if err != nil {
		return nil, nil, err
	}
	defer end()
	f, err := b.openAnyway()
	if err != nil {
		return nil, nil, b.advise(err)
	}
	defer f.Close()
	s := salvage{values: map[model.Seq][]byte{}}
	if err := s.read(f); err != nil {
		return nil, nil, b.advise(err)
	}
	book, lost = s.book()
	if book.Empty() {
		return nil, nil, b.advise(damaged("not one entry can be read"))
	}
	return book, lost, nil
}

// salvage gathers the payloads of records by seq.
type salvage struct {
	values map[model.Seq][]byte
	count  model.Seq // how many there should be, 0 when that can't be read
}

func (s *salvage) read(f *os.File) error {
	info, err := f.Stat()
	if err != nil {
		return err
	}
	h, err := readAnyHeader(f)
	im := &image{f, h}
	if err != nil {
		im.pageSize = os.Getpagesize()
	}
	whole := pageID(info.Size() / int64(im.pageSize))
	if err == nil {
		im.pages = min(im.pages, whole)
		if err := s.reachable(im); err != nil {
			return err
		}
	}
	im.pages = whole
	s.scrape(im)
	return nil
}

// reachable takes the records of the log as it stands, and how many there should be. Its error is that of a newer file.
func (s *salvage) reachable(im *image) error {
	w := im.walker()
	w.found = func(error) error { return nil }
	buckets, err := w.buckets()
	if err != nil {
		return nil
	}
	meta := map[string][]byte{}
	w.leaf = func(p page) {
		for _, e := range p.all() {
			meta[string(e.key)] = e.value
		}
	}
	if w.bucket(buckets[string(bucketMeta)]) == nil {
		st, err := stateOf(func(key []byte) []byte { return meta[string(key)] })
		if errors.Is(err, ErrNewer) {
			return err
		}
		s.count = st.Count
	}
	w.leaf = func(p page) {
		for _, e := range p.all() {
			s.take(e)
		}
	}
	_ = w.bucket(buckets[string(bucketLog)]) // what can't be walked is scraped
	return nil
}

// scrape takes records from all pages, those no longer in use included: a log is never
// changed, so that an older copy of an entry is as good as the one in use. An entry
// beyond the last one was never acknowledged and is left.
func (s *salvage) scrape(im *image) {
	for id := pageID(2); id < im.pages; id++ {
		buf, err := im.raw(id)
		if err != nil {
			buf = make([]byte, im.pageSize)
			if im.readAt(buf, id) != nil {
				continue
			}
		}
		for _, e := range looseElements(buf) {
			s.take(e)
		}
	}
}

// looseElements are the elements of a leaf page that lie inside it, whatever else is
// wrong with the page.
func looseElements(buf []byte) []element {
	ne := binary.NativeEndian
	if len(buf) < pageHeaderLen || ne.Uint16(buf[8:]) != flagLeaf {
		return nil
	}
	var out []element
	for i := range int(ne.Uint16(buf[10:])) {
		at := uint64(pageHeaderLen + i*elementLen)
		if at+elementLen > uint64(len(buf)) {
			break
		}
		e := buf[at:]
		pos, ksize, vsize := uint64(ne.Uint32(e[4:])), uint64(ne.Uint32(e[8:])), uint64(ne.Uint32(e[12:]))
		if start := at + pos; start+ksize+vsize <= uint64(len(buf)) {
			out = append(out, element{key: buf[start : start+ksize], value: buf[start+ksize : start+ksize+vsize], sub: ne.Uint32(e) == subBucket})
		}
	}
	return out
}

// textKeys is where eight letters, read as a seq, begin: keys of derived records.
const textKeys = 1 << 56

func (s *salvage) take(e element) {
	if e.sub {
		if len(e.value) > bucketHeaderLen { // a log small enough to be kept inline
			for _, e := range looseElements(e.value[bucketHeaderLen:]) {
				s.take(e)
			}
		}
		return
	}
	if len(e.key) != 8 {
		return
	}
	seq := model.Seq(binary.BigEndian.Uint64(e.key))
	if s.values[seq] != nil || seq == 0 || seq >= textKeys || s.count > 0 && seq > s.count {
		return
	}
	if payload, ok := unseal(e.key, e.value); ok {
		s.values[seq] = payload
	}
}

// book makes a book of what was gathered.
func (s *salvage) book() (*ledger.Book, []string) {
	var (
		log  []model.Entry
		lost []string
		next = model.Seq(1)
	)
	miss := func(from, to model.Seq) {
		switch {
		case from == to:
			lost = append(lost, fmt.Sprintf("entry %d can't be read", from))
		case from < to:
			lost = append(lost, fmt.Sprintf("entries %d to %d can't be read", from, to))
		}
	}
	for _, seq := range slices.Sorted(maps.Keys(s.values)) {
		miss(next, seq-1)
		next = seq + 1
		e, err := model.DecodeEntry(s.values[seq])
		if err != nil || e.Seq != seq {
			lost = append(lost, fmt.Sprintf("entry %d can't be read: %v", seq, err))
			continue
		}
		log = append(log, e)
	}
	miss(next, s.count)
	for {
		book, err := ledger.Fold(renumbered(log))
		var entry *ledger.EntryError
		if !errors.As(err, &entry) {
			return book, lost
		}
		i := int(entry.Seq) - 1
		n := len(log)
		lost = append(lost, fmt.Sprintf("entry %d can't stand without what is lost: %v", log[i].Seq, entry.Err))
		log = slices.Concat(log[:i], s.without(log[i+1:], entry.Err))
		if more := n - 1 - len(log); more > 0 {
			lost = append(lost, fmt.Sprintf("%d later entries can't stand for the same reason", more))
		}
	}
}

// without leaves out the entries that refer to the same thing as one that could not
// stand because it is not defined, up to where it is defined again. If they stayed, each
// of them would cost a fold of the whole log.
func (s *salvage) without(log []model.Entry, because error) []model.Entry {
	var field *model.FieldError
	if !errors.As(because, &field) || !slices.Contains(model.Defined, model.Kind(field.Field)) {
		return log
	}
	var out []model.Entry
	refers := fmt.Appendf(nil, "%q:%q", field.Field, field.Value)
	defines := fmt.Appendf(nil, `"kind":%q,"id":%q`, field.Field, field.Value)
	for i, e := range log {
		raw := s.values[e.Seq]
		if bytes.Contains(raw, defines) {
			return append(out, log[i:]...)
		}
		if e.Kind != model.KindNote && bytes.Contains(raw, refers) {
			continue
		}
		out = append(out, e)
	}
	return out
}

// renumbered is a log numbered 1, 2, 3 and so on, with what points at its entries. An
// amend of an entry that is gone points at nothing, and so will not fold.
func renumbered(log []model.Entry) []model.Entry {
	now := map[model.Seq]model.Seq{}
	acts := map[model.Seq]model.Seq{}
	out := slices.Clone(log)
	for i := range out {
		e := &out[i]
		seq := model.Seq(i + 1)
		now[e.Seq] = seq
		if e.Act != 0 {
			if _, begun := acts[e.Act]; !begun {
				acts[e.Act] = seq
			}
			e.Act = acts[e.Act]
		}
		if a, ok := e.Body.(model.Amend); ok {
			a.Entry = now[a.Entry]
			a.With = retargeted(a.With, now)
			e.Body = a
		}
		e.Seq = seq
	}
	return out
}

// retargeted renumbers what an amend of an amend points it at.
func retargeted(with model.Fields, now map[model.Seq]model.Seq) model.Fields {
	var fields map[string]any
	if !bytes.Contains(with, []byte(`"entry"`)) || json.Unmarshal(with, &fields) != nil {
		return with
	}
	if target, ok := fields["entry"].(float64); ok {
		fields["entry"] = now[model.Seq(target)]
	}
	if out, err := model.With(fields); err == nil {
		return out
	}
	return with
}

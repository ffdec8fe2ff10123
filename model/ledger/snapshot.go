package ledger

import (
	"errors"
	"fmt"
	"unsafe"

	"brine/wrasse/model"
)

// snapshotVersion is the first byte of a snapshot. Nothing reads a snapshot of any other version: the log says the same.
const snapshotVersion = 6

// Unpackable tells whether a snapshot has the version that Unpack reads.
func Unpackable(data []byte) bool { return len(data) > 0 && data[0] == snapshotVersion }

// Pack is the book as bytes, some 10 to 20 an event, from which Unpack makes an equal one. Equal books pack to equal bytes.
// Lists that nobody has asked for since they were unpacked are copied as they came. O(n).
func (b *Book) Pack() ([]byte, error) {
	p := packer{buf: []byte{snapshotVersion}}
	p.uint(uint64(b.Last()))
	if err := packDefinition(&p, b.def); err != nil {
		return nil, err
	}
	for _, kind := range model.Defined {
		if err := b.definitions(kind).pack(&p); err != nil {
			return nil, err
		}
	}
	for _, id := range b.components.order {
		for _, v := range b.versions[id] {
			p.int(int64(v.InService))
			p.int(int64(v.reach))
			p.int(int64(v.accessMinutes))
			p.text(string(v.opensWith))
			p.uint(map[bool]uint64{true: 1}[v.about])
		}
	}
	for _, k := range listOrder {
		k.pack(b, &p)
	}
	return p.buf, nil
}

func packDefinition[D model.Body](p *packer, d D) error {
	line, err := model.EncodeEntry(model.NewEntry(0, d))
	p.text(string(line))
	return err
}

func (r *registry[D]) pack(p *packer) error {
	p.uint(uint64(len(r.order)))
	for _, id := range r.order {
		p.text(string(id))
		p.uint(uint64(len(r.seqs[id])))
		before := model.Seq(0)
		for _, s := range r.seqs[id] {
			p.uint(uint64(s - before))
			before = s
		}
		if err := packDefinition(p, r.byID[id]); err != nil {
			return err
		}
	}
	return nil
}

// Unpack is the book that Pack packed, of a log whose entries are in source. It keeps data, which must not be written to
// any more. Only definitions are decoded at once: O(definitions), and O(1) a list.
func Unpack(data []byte, source Source) (*Book, error) {
	u := &unpacker{data: unsafe.String(unsafe.SliceData(data), len(data))}
	if !Unpackable(data) {
		return nil, errors.New("the snapshot has a version that this program doesn't read")
	}
	u.at = 1
	b := new(Book).clone()
	b.source, b.base = source, model.Seq(u.uint())
	lines := []func() error{definitionOf(u, func(d model.BookDef) { b.def = d })}
	for _, kind := range model.Defined {
		lines = append(lines, b.definitions(kind).unpack(u)...)
	}
	for _, id := range b.components.order {
		for _, s := range b.components.seqs[id] {
			b.versions[id] = append(b.versions[id], Version{s, model.Date(u.int()), int(u.int()), int(u.int()), model.ID(u.text()), u.uint() == 1})
		}
	}
	for _, k := range listOrder {
		k.unpack(b, u)
	}
	if u.wrong == "" && u.at < len(u.data) {
		u.fail("bytes after the end")
	}
	if u.wrong != "" {
		return nil, fmt.Errorf("the snapshot: %s", u.wrong)
	}
	if len(b.amends) > 0 {
		b.corrected = &corrections{amends: b.amends[""]}
	}
	for id := range b.usages {
		b.tallies[id] = b.counts(id)
	}
	for _, decode := range lines {
		if err := decode(); err != nil {
			return nil, fmt.Errorf("the snapshot: %w", err)
		}
	}
	return b, nil
}

// definitionOf reads a definition and is what decodes it.
func definitionOf[D model.Body](u *unpacker, take func(D)) func() error {
	line := u.text()
	return func() error {
		e, err := model.DecodeTrusted([]byte(line))
		if err != nil {
			return err
		}
		d, ok := e.Body.(D)
		if !ok {
			return model.Wrong("kind", e.Kind, "%s", d.Kind())
		}
		take(d)
		return nil
	}
}

func (r *registry[D]) unpack(u *unpacker) (decode []func() error) {
	n := u.count()
	r.byID, r.seqs = make(map[model.ID]D, n), make(map[model.ID][]model.Seq, n)
	for range n {
		id, seqs, before := model.ID(u.text()), make([]model.Seq, u.count()), model.Seq(0)
		for i := range seqs {
			before += model.Seq(u.uint())
			seqs[i] = before
		}
		r.order, r.seqs[id] = append(r.order, id), seqs
		decode = append(decode, definitionOf(u, func(d D) { r.byID[id] = d }))
	}
	return decode
}

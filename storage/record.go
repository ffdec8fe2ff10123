package storage

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"hash/crc32"
	"runtime"
	"sync"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
)

// A sealed value is a version byte, a CRC-32C over key, version and payload, and the
// payload. The key is part of the sum so that a value under another key is noticed. The seals of a log are a chain: behind
// its own, an entry has that of the entry before it, which is part of the sum. So no page of the log can fall back to what
// it held before without being noticed. Files of schemas 1 and 2 have the first form in their log, too.
const (
	plainVersion = 1
	chainVersion = 2
	sealLen      = 1 + 4
	chainLen     = sealLen + 4
)

// castagnoli is made when it is first needed: it takes longer than many a command.
var castagnoli = sync.OnceValue(func() *crc32.Table { return crc32.MakeTable(crc32.Castagnoli) })

// sum is the checksum of a sealed value under a key.
func sum(key, v []byte) uint32 {
	table := castagnoli()
	c := crc32.Update(0, table, key)
	c = crc32.Update(c, table, v[:1])
	return crc32.Update(c, table, v[sealLen:])
}

func seal(key, payload []byte) []byte { return sealed(key, plainVersion, nil, payload) }

func sealed(key []byte, version byte, before, payload []byte) []byte {
	v := make([]byte, sealLen, sealLen+len(before)+len(payload))
	v[0] = version
	v = append(append(v, before...), payload...)
	binary.BigEndian.PutUint32(v[1:], sum(key, v))
	return v
}

// unseal is the payload of a sealed value; ok is false when the checksum does not hold
// or the version is none of ours.
func unseal(key, v []byte) (payload []byte, ok bool) {
	switch {
	case len(v) < sealLen || binary.BigEndian.Uint32(v[1:]) != sum(key, v):
		return nil, false
	case v[0] == plainVersion:
		return v[sealLen:], true
	case v[0] == chainVersion && len(v) >= chainLen:
		return v[chainLen:], true
	}
	return nil, false
}

// sealOf is the seal of an entry's value.
func sealOf(v []byte) uint32 {
	if len(v) < sealLen {
		return 0
	}
	return binary.BigEndian.Uint32(v[1:])
}

func keyOf(seq model.Seq) []byte { return binary.BigEndian.AppendUint64(nil, uint64(seq)) }

// record is one entry as the file holds it.
type record struct {
	seq   model.Seq
	key   []byte // of seq
	value []byte // sealed
}

// chained is an entry as it stands behind one with a seal.
func chained(e *model.Entry, before uint32) (record, error) {
	payload, err := model.EncodeEntry(*e)
	key := keyOf(e.Seq)
	return record{e.Seq, key, sealed(key, chainVersion, binary.BigEndian.AppendUint32(nil, before), payload)}, err
}

// follows tells whether an entry stands behind one with a seal, as it was written. In files of earlier schemas any does.
func (r record) follows(before uint32) bool {
	return len(r.value) >= chainLen && (r.value[0] == plainVersion || binary.BigEndian.Uint32(r.value[sealLen:]) == before)
}

// strict is an entry as it will be read, refused when an import would refuse it.
func strict(e model.Entry) (model.Entry, error) {
	payload, err := model.EncodeEntry(e)
	if err != nil {
		return model.Entry{}, err
	}
	return model.DecodeEntry(payload)
}

// entry decodes a record whose checksum holds.
func (r record) entry() (model.Entry, error) {
	payload, ok := unseal(r.key, r.value)
	if !ok {
		return model.Entry{}, damaged("the checksum of entry %d does not hold", r.seq)
	}
	e, err := model.DecodeTrusted(payload)
	if err != nil {
		return model.Entry{}, damaged("entry %d: %v", r.seq, err)
	}
	if e.Seq != r.seq {
		return model.Entry{}, damaged("entry %d says it is entry %d", r.seq, e.Seq)
	}
	return e, nil
}

// decodeAlone is how many records are decoded by one goroutine before a second one is
// worth its start: about a millisecond's work.
const decodeAlone = 512

// decode reads records, a long run of them on all processors: it is half the work of
// folding a log.
func decode(records []record) ([]model.Entry, error) {
	cpus := runtime.GOMAXPROCS(0)
	size := max(decodeAlone, (len(records)+cpus-1)/cpus)
	entries := make([]model.Entry, len(records))
	errs := make([]error, (len(records)+size-1)/size)
	var parts sync.WaitGroup
	for i := range errs {
		from := i * size
		to := min(from+size, len(records))
		parts.Go(func() { errs[i] = decodeInto(entries[from:to], records[from:to]) })
	}
	parts.Wait()
	if err := cmp.Or(errs...); err != nil {
		return nil, err
	}
	return entries, nil
}

func decodeInto(entries []model.Entry, records []record) (err error) {
	for i, r := range records {
		if entries[i], err = r.entry(); err != nil {
			return err
		}
	}
	return nil
}

// records copies the records from one seq to another, both of them too, none left out, each behind the one before it;
// before is the seal of the entry in front of the first, unless any will do.
func records(log *bolt.Bucket, from, to model.Seq, before *uint32) ([]record, error) {
	if to < from {
		return nil, nil
	}
	out := make([]record, 0, min(to-from+1, 1<<16))
	c := log.Cursor()
	k, v := c.Seek(keyOf(from))
	for seq := from; seq <= to; seq++ {
		r := record{seq, keyOf(seq), bytes.Clone(v)}
		if !bytes.Equal(k, r.key) {
			return nil, damaged("entry %d is missing", seq)
		}
		if before != nil && !r.follows(*before) {
			return nil, damaged("entry %d does not follow on the entry before it", seq)
		}
		seal := sealOf(r.value)
		out, before = append(out, r), &seal
		k, v = c.Next()
	}
	return out, nil
}

// endOf is the seal of the last entry of a log, which must be the one that it must come to.
func endOf(log *bolt.Bucket, st state) (uint32, error) {
	k, v := log.Cursor().Last()
	if !bytes.Equal(k, keyOf(st.Count)) {
		return 0, damaged("its log does not end with entry %d", st.Count)
	}
	if _, ok := unseal(k, v); !ok {
		return 0, damaged("the checksum of entry %d does not hold", st.Count)
	}
	if st.schema >= 3 && sealOf(v) != st.Seal {
		return 0, damaged("entry %d, its last, is not the one that was written last", st.Count)
	}
	return sealOf(v), nil
}

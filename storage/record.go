package storage

import (
	"encoding/binary"
	"hash/crc32"
	"sync"

	"brine/wrasse/model"
)

// A sealed value is a version byte, a CRC-32C over key, version and payload, and the
// payload. The key is part of the sum so that a value under another key is noticed.
const (
	recordVersion = 1
	sealLen       = 1 + 4
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

func seal(key, payload []byte) []byte {
	v := make([]byte, sealLen, sealLen+len(payload))
	v[0] = recordVersion
	v = append(v, payload...)
	binary.BigEndian.PutUint32(v[1:], sum(key, v))
	return v
}

// unseal is the payload of a sealed value; ok is false when the checksum does not hold
// or the version is none of ours.
func unseal(key, v []byte) (payload []byte, ok bool) {
	if len(v) < sealLen || v[0] != recordVersion || binary.BigEndian.Uint32(v[1:]) != sum(key, v) {
		return nil, false
	}
	return v[sealLen:], true
}

func keyOf(seq model.Seq) []byte { return binary.BigEndian.AppendUint64(nil, uint64(seq)) }

// record is one entry as the file holds it.
type record struct {
	seq   model.Seq
	key   []byte // of seq
	value []byte // sealed
}

// recordOf encodes an entry, and gives back what will be read of it.
func recordOf(e model.Entry) (record, model.Entry, error) {
	payload, err := model.EncodeEntry(e)
	if err != nil {
		return record{}, model.Entry{}, err
	}
	// Read strictly, so that nothing is ever written that an import would refuse.
	back, err := model.DecodeEntry(payload)
	if err != nil {
		return record{}, model.Entry{}, err
	}
	key := keyOf(e.Seq)
	return record{e.Seq, key, seal(key, payload)}, back, nil
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

package storage

import (
	"bytes"
	"encoding/binary"
	"errors"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// The table of dates has a key for each entry, its place in the order of time: a date and a seq. The value is a byte of
// flags. A sum of all of it stands beside the log, so that a page of it that fell back to what it held before is noticed.

const (
	dateKeyLen  = 4 + 8
	flagStruck  = 1
	flagAmended = 2
)

// dateKey is the key of a place.
func dateKey(m model.Mark) []byte {
	return binary.BigEndian.AppendUint64(binary.BigEndian.AppendUint32(nil, uint32(m.On)), uint64(m.Seq))
}

// placed reads a key and a value.
func placed(k, v []byte) (r ledger.Row, ok bool) {
	if len(k) != dateKeyLen || len(v) != 1 {
		return ledger.Row{}, false
	}
	at := model.Mark{On: model.Date(binary.BigEndian.Uint32(k)), Seq: model.Seq(binary.BigEndian.Uint64(k[4:]))}
	return ledger.Row{Mark: at, Struck: v[0]&flagStruck != 0, Amended: v[0]&flagAmended != 0}, true
}

func flagsOf(r ledger.Row) []byte {
	var flags byte
	if r.Struck {
		flags |= flagStruck
	}
	if r.Amended {
		flags |= flagAmended
	}
	return []byte{flags}
}

// dateSum is what a key and its value add to the sum, so that it is taken away again whatever came in between: FNV-1a, 64
// bits (Fowler, Noll and Vo), and then the last steps of MurmurHash3 (Appleby). FNV-1a alone ends with the flags, and a flag
// more on one key and a flag more on another added up to nothing in one case of two.
func dateSum(k, v []byte) uint64 {
	const offset, prime = 14695981039346656037, 1099511628211
	h := uint64(offset)
	for _, part := range [...][]byte{k, v} {
		for _, c := range part {
			h = (h ^ uint64(c)) * prime
		}
	}
	h = (h ^ h>>33) * 0xff51afd7ed558ccd
	h = (h ^ h>>33) * 0xc4ceb9fe1a85ec53
	return h ^ h>>33
}

// errSchema is what a file of an earlier schema can't be asked.
var errSchema = errors.New("the file is of an earlier schema")

// dateChange puts an entry at its place in the order of time, from an older place where it had one.
type dateChange struct {
	old *ledger.Row
	now ledger.Row
}

// putDates makes changes in the table of dates, and in its sum.
func putDates(dates *bolt.Bucket, sum *uint64, changes []dateChange) error {
	for _, c := range changes {
		if c.old != nil {
			k, v := dateKey(c.old.Mark), flagsOf(*c.old)
			if !bytes.Equal(dates.Get(k), v) {
				return damagedDerived("entry %d is not at its place in the table of dates", c.old.Seq)
			}
			if err := dates.Delete(k); err != nil {
				return err
			}
			*sum -= dateSum(k, v)
		}
		k, v := dateKey(c.now.Mark), flagsOf(c.now)
		if err := dates.Put(k, v); err != nil {
			return err
		}
		*sum += dateSum(k, v)
	}
	return nil
}

// checkDates makes sure that a table of dates comes to its sum.
func checkDates(dates *bolt.Bucket, st state) error {
	sum := uint64(0)
	c := dates.Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		sum += dateSum(k, v)
	}
	if sum != st.Dates {
		return damagedDerived("its table of dates does not come to its sum")
	}
	return nil
}

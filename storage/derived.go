package storage

import (
	"bytes"
	"cmp"
	"slices"

	"brine/wrasse/model"
)

// lastKey is behind every key of the book folded.
const lastKey = "\xff"

// sealedChanges are the changes of a book folded as they are put into its table, in the
// order of keys. It takes their values away: those of a long book are many.
func sealedChanges(changes []model.Change) []change {
	out := make([]change, len(changes))
	for i, c := range changes {
		out[i] = sealedChange(c.Key, c.Value)
		changes[i].Value = nil
	}
	slices.SortFunc(out, func(a, b change) int { return bytes.Compare(a.key, b.key) })
	return out
}

// differences are the changes that make all there is in the table of the book folded of
// what is there. all is in the order of keys.
func (im *image) differences(all []change) ([]change, error) {
	r, err := im.reader(bucketNow)
	if err != nil {
		return nil, err
	}
	var out []change
	rest := all
	err = r.Scan("", lastKey, func(key string, value []byte) error {
		at, found := slices.BinarySearchFunc(rest, key, func(c change, key string) int { return cmp.Compare(string(c.key), key) })
		out = append(out, rest[:at]...)
		rest = rest[at:]
		if !found {
			out = append(out, change{key: []byte(key)})
			return nil
		}
		if !bytes.Equal(rest[0].value[sealLen:], value) {
			out = append(out, rest[0])
		}
		rest = rest[1:]
		return nil
	})
	return append(out, rest...), err
}

package longlog

import (
	"maps"
	"slices"

	"brine/wrasse/model"
)

// Records keep a book folded in memory, as a store keeps it in a file. The zero Records are empty.
type Records struct {
	values map[string][]byte
	keys   []string // in order
}

// Take takes in what changed in a book.
func (r *Records) Take(b *model.Book) error {
	changes, all, err := b.Changes()
	if err != nil {
		return err
	}
	if all || r.values == nil {
		r.values = map[string][]byte{}
	}
	for _, c := range changes {
		if r.values[c.Key] = c.Value; c.Value == nil {
			delete(r.values, c.Key)
		}
	}
	r.keys = slices.Sorted(maps.Keys(r.values))
	return nil
}

// Get is the value under a key.
func (r *Records) Get(key string) ([]byte, error) { return r.values[key], nil }

// Scan gives the values from one key up to another.
func (r *Records) Scan(from, to string, each func(string, []byte) error) error {
	at, _ := slices.BinarySearch(r.keys, from)
	for _, key := range r.keys[at:] {
		if key >= to {
			return nil
		}
		if err := each(key, r.values[key]); err != nil {
			return err
		}
	}
	return nil
}

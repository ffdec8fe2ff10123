package model

import (
	"errors"
	"testing"
)

// torn is a store some of whose entries, or records, can't be read.
type torn struct {
	*kept
	entries bool
	records bool
}

var errTorn = errors.New("torn")

func (t *torn) Entry(seq Seq) (*Entry, error) {
	if t.entries {
		return nil, errTorn
	}
	return t.kept.Entry(seq)
}

func (t *torn) Get(key string) ([]byte, error) {
	if t.records {
		return nil, errTorn
	}
	return t.kept.Get(key)
}

// An act that can't be read is not taken for one that isn't there: an undo of it would take
// back the act before it, or half of it.
func TestWhatCannotBeReadIsNotUndone(t *testing.T) {
	full := bookOf(t, station(ticked(15), ticked(18))...)
	var log []Entry
	for _, e := range must(full.Entries(1, full.Last())) {
		log = append(log, *e)
	}
	k := &kept{}
	if err := k.put(full, log); err != nil {
		t.Fatal(err)
	}
	source := &torn{kept: k}
	b := must(Open(k, full.Last(), source, Hold{}))
	window := new(Window)
	window.Did(b.Last() - 1)
	window.Did(b.Last())
	if act, err := window.LastAct(b); act != b.Last() || err != nil {
		t.Fatalf("the last act is %d, %v", act, err)
	}
	for _, c := range []torn{{entries: true}, {records: true}} {
		source.entries, source.records = c.entries, c.records
		if act, err := window.LastAct(b); !errors.Is(err, errTorn) {
			t.Errorf("%+v: the last act is %d, %v", c, act, err)
		}
		if out, err := b.Strike(b.Last(), 0); !errors.Is(err, errTorn) {
			t.Errorf("%+v: it is struck by %v, %v", c, out, err)
		}
	}
	source.records = false
	source.entries = true
	if e, err := b.Written(1); !errors.Is(err, errTorn) {
		t.Errorf("the first entry is %v, %v", e, err)
	}
	if act, err := b.Act(1); !errors.Is(err, errTorn) {
		t.Errorf("its act is %v, %v", act, err)
	}
}

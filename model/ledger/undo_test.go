package ledger

import (
	"errors"
	"testing"

	"brine/wrasse/model"
)

// torn is a file whose entries can't be read.
type torn struct{ memory }

var errTorn = errors.New("torn")

func (torn) Entries(model.Seq, model.Seq) ([]model.Entry, error) { return nil, errTorn }

func (t *torn) Same(o Source) bool { return o == Source(t) }

// An act that can't be read is not taken for one that isn't there: an undo of it would take
// back the act before it, or half of it.
func TestWhatCannotBeReadIsNotUndone(t *testing.T) {
	b := must(Fold(numbered(start(), 0))).In(&torn{})
	window := new(Window)
	log := numbered(start(), 0)
	window.Did(log[len(log)-2 : len(log)-1])
	window.Did(log[len(log)-1:])
	if act, err := window.LastAct(b); !errors.Is(err, errTorn) {
		t.Errorf("the last act is %d, %v", act, err)
	}
	if out, err := b.Strike(b.Last(), 0); !errors.Is(err, errTorn) {
		t.Errorf("it is struck by %v, %v", out, err)
	}
	if e, err := b.Written(1); !errors.Is(err, errTorn) {
		t.Errorf("the first entry is %v, %v", e, err)
	}
	if act, err := b.Act(1); !errors.Is(err, errTorn) {
		t.Errorf("its act is %v, %v", act, err)
	}
}

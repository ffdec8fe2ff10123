package desk

import "testing"

// keeping is a store that keeps what rounds have learnt, and counts how often.
type keeping struct {
	*counting
	learnt, kept int
}

func (k *keeping) Learnt() (map[string][]byte, error) { k.learnt++; return nil, nil }

func (k *keeping) Keep(map[string][]byte) error { k.kept++; return nil }

// A look at the book asks what was learnt once and writes nothing; an act keeps it, and
// what others write does not.
func TestWhatIsLearntIsKeptAfterAnAct(t *testing.T) {
	g := newGraded(t, 3)
	k := &keeping{counting: g.store}
	g.Desk.store, g.Desk.loaded = k, false
	g.run(g.Load())
	g.run(g.Load())
	g.others()
	if k.learnt != 1 || k.kept != 0 {
		t.Errorf("looking asked %d times and kept %d times", k.learnt, k.kept)
	}
	g.write(2)
	g.others()
	if k.learnt != 1 || k.kept != 1 {
		t.Errorf("after an act: asked %d times, kept %d times", k.learnt, k.kept)
	}
}

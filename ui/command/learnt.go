package command

import (
	"brine/wrasse/model"
	"brine/wrasse/schedule"
)

// learner is a Store that keeps what rounds have learnt of a book, so that the next one
// need not learn it again.
type learner interface {
	Learnt() (map[string][]byte, error)
	Keep(map[string][]byte) error
}

// maker makes the rounds of a command, with what is known from earlier ones.
func (p *program) maker() *schedule.Maker {
	if p.makes != nil {
		return p.makes
	}
	var learnt map[string][]byte
	if l, ok := p.store().(learner); ok {
		learnt, _ = l.Learnt() // without it a round takes longer, and is the same
	}
	p.makes = schedule.NewMakerWith(learnt)
	return p.makes
}

// keep keeps what the round of today has to learn of a book that was just written. What
// only looks at a book writes nothing.
func (p *program) keep(b *model.Book) {
	l, ok := p.store().(learner)
	if !ok || p.today() < b.Floor() {
		return
	}
	m := p.maker()
	m.Make(b, p.today())
	_ = l.Keep(m.Learnt()) // the act is written, and the next one keeps it
}

package longlog

import (
	"fmt"

	"brine/wrasse/model"
)

// pen numbers entries and gives them out, act by act, until enough are written.
type pen struct {
	yield func(model.Entry) bool
	left  int // entries that are still wanted
	seq   model.Seq
	at    string
	by    string
}

// done tells whether no more entries are wanted.
func (p *pen) done() bool { return p.left <= 0 }

// act writes bodies that happened on a date as one act, and gives the seq of the first.
func (p *pen) act(on model.Date, bodies ...model.Body) model.Seq {
	first, act := p.seq+1, model.Seq(0)
	if len(bodies) > 1 {
		act = first
	}
	for _, b := range bodies {
		if p.done() {
			break
		}
		p.seq++
		p.left--
		e := model.NewEntry(on, b)
		e.Seq, e.At, e.Act, e.By = p.seq, p.at, act, p.by
		if !p.yield(e) {
			p.left = 0
		}
	}
	return first
}

// stamp is a second of a day as it is written into an entry.
func stamp(day model.Date, second int) string {
	return fmt.Sprintf("%sT%02d:%02d:%02d+01:00", day, second/3600, second/60%60, second%60)
}

package starter

import (
	"cmp"
	"fmt"
	"slices"
	"sync"
	"time"

	"brine/wrasse/model"
)

// diary collects acts in any order and writes them out as a numbered log.
type diary struct {
	today model.Date
	acts  []*act
}

// act is what was confirmed at once, on a day counted from today.
type act struct {
	day    int
	part   part
	bodies []model.Body
	mends  *act                        // an earlier act that this one amends
	mend   func(model.Seq) model.Amend // how, given the seq of that act's first entry
	first  model.Seq                   // given when written
}

// part is the part of the day in which an act is written. A reading taken before the
// filter is opened belongs to the old cycle, so the order matters.
type part int

const (
	founding part = iota
	buying
	making
	reading
	mixing
	doing
	evening
)

func (d *diary) date(day int) model.Date { return d.today.AddDays(day) }

func (d *diary) add(day int, p part, bodies ...model.Body) *act {
	a := &act{day: day, part: p, bodies: bodies}
	d.acts = append(d.acts, a)
	return a
}

// amend writes later on the same day what changes the first entry of an act.
func (d *diary) amend(target *act, how func(model.Seq) model.Amend) {
	d.acts = append(d.acts, &act{day: target.day, part: evening, mends: target, mend: how})
}

// entries is the log of all acts in order of time.
func (d *diary) entries() []model.Entry {
	slices.SortStableFunc(d.acts, func(a, b *act) int {
		return cmp.Or(cmp.Compare(a.day, b.day), cmp.Compare(a.part, b.part))
	})
	total := 0
	for _, a := range d.acts {
		total += max(1, len(a.bodies))
	}
	log := make([]model.Entry, 0, total)
	nth := 0 // of the acts of a day
	for i, a := range d.acts {
		if i == 0 || d.acts[i-1].day != a.day {
			nth = 0
		}
		if a.mends != nil {
			a.bodies = []model.Body{a.mend(a.mends.first)}
		}
		a.first = model.Seq(len(log) + 1)
		on := d.date(a.day)
		at := on.String() + fmt.Sprintf("T%02d:%02d:00Z", 9+nth/12, nth%12*5)
		for _, b := range a.bodies {
			e := model.NewEntry(on, b)
			e.Seq = model.Seq(len(log) + 1)
			if len(a.bodies) > 1 {
				e.Act = a.first
			}
			e.At = at
			if e.Kind != model.KindNeed { // whose by is a date
				e.By = rota()[on.Weekday()]
			}
			log = append(log, e)
		}
		nth++
	}
	return log
}

// rota is who looks after the tank on each day of the week.
var rota = sync.OnceValue(func() map[time.Weekday]string {
	return map[time.Weekday]string{
		time.Monday:    "caretaker",
		time.Tuesday:   "Tuesday volunteer",
		time.Wednesday: "school biology club",
		time.Thursday:  "Thursday volunteer",
		time.Friday:    "librarian",
		time.Saturday:  "Saturday volunteer",
		time.Sunday:    "caretaker",
	}
})

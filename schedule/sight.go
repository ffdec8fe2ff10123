package schedule

import (
	"sync"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	waterstation "brine/wrasse/model/station"
)

// sight is a book as far as it exists on a date, with what several chores ask of it worked out once. Several may ask
// at once.
type sight struct {
	book    *ledger.Book
	on      model.Date
	end     model.Mark
	away    ledger.Absence
	series  *ledger.Series
	history map[model.ID]history  // of every chore, retired ones too
	callers map[model.ID][]caller // by the chore that they call for
	slips   *slips
	shelf   map[model.ID]float64
	leaders map[model.ID]model.Component
	onHand  func() []OnHand // worked out once

	mu      sync.Mutex // over what is worked out when it is first asked for
	records map[model.Counting]*record
	drifts  map[model.ID]*Drift // of each gauge, over all it has read
}

// look sees a book on a date, ready for the chores given.
func look(b *ledger.Book, on model.Date, chores []model.Chore) *sight {
	v := &sight{
		book: b, on: on, end: model.EndOf(on),
		series:  b.Series(on),
		records: map[model.Counting]*record{},
		away:    b.Absence(on),
		history: make(map[model.ID]history, len(chores)),
		drifts:  map[model.ID]*Drift{},
	}
	histories := make([]history, len(chores))
	abreast(len(chores), func(i int) { histories[i] = newHistory(b, chores[i].ID, on) })
	for i := range chores {
		v.history[chores[i].ID] = histories[i]
	}
	return v
}

// survey looks at what a round asks beside the clocks of its chores.
func (v *sight) survey(chores []model.Chore) {
	v.callers = callersOf(chores)
	v.slips = learnSlips(v, chores)
	v.shelf = v.book.Shelf(v.on)
	components := v.book.Components()
	v.leaders = make(map[model.ID]model.Component, len(components))
	for _, c := range components {
		v.leaders[c.ID] = c
		if c.OpensWith != "" {
			v.leaders[c.ID], _ = v.book.Component(c.OpensWith)
		}
	}
}

// rate is the present rate of a counter.
func (v *sight) rate(c model.Counter) rate {
	r := v.record(c.ID)
	return r.seen(len(r.entries), v.on)
}

// record is what a counter counted.
func (v *sight) record(counter model.ID) *record {
	return v.once(model.Counting{Counter: counter}, func() *record { return v.counted(counter, v.end, nil) })
}

// load is what a load clock's litres carried, nil when its inlet was never read.
func (v *sight) load(c model.Clock) *record {
	return v.once(c.Counting(), func() *record { return v.loadBefore(c, v.end) })
}

// once makes a record when it is first asked for.
func (v *sight) once(key model.Counting, make func() *record) *record {
	v.mu.Lock()
	defer v.mu.Unlock()
	r, known := v.records[key]
	if !known {
		r = make()
		v.records[key] = r
	}
	return r
}

// loadBefore is what load was by the entries and readings before a place.
func (v *sight) loadBefore(c model.Clock, end model.Mark) *record {
	carried, ok := waterstation.LoadBefore(v.book, c, end)
	if !ok {
		return nil
	}
	return v.counted(c.Counter, end, carried.PerLitre)
}

// counted is the record of a counter before a place. carries is nil where the amounts count as they are.
func (v *sight) counted(counter model.ID, end model.Mark, carries func(model.Date) float64) *record {
	c, _ := v.book.Counter(counter)
	return newRecord(c.Style == model.StyleMeter, rate{c.DeclaredRate, c.DeclaredRate > 0}, v.book.Tally(counter).Before(end), v.away, carries)
}

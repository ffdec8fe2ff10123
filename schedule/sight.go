package schedule

import (
	"sort"
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
	return v.recordOf(model.Counting{Counter: counter}, func(c *model.Counter) *record {
		return newRecord(c.Style, declared(c), v.amounts(counter, v.end), v.away, nil)
	})
}

// load is what a load clock's litres carried, nil when its inlet was never read.
func (v *sight) load(c model.Clock) *record {
	return v.recordOf(c.Counting(), func(counter *model.Counter) *record {
		carried, ok := waterstation.LoadBefore(v.book, c, v.end)
		if !ok {
			return nil
		}
		return newRecord(counter.Style, declared(counter), v.amounts(c.Counter, v.end), v.away, carried.PerLitre)
	})
}

// loadBefore is what load was by the entries and readings before a place.
func (v *sight) loadBefore(c model.Clock, end model.Mark) *record {
	carried, ok := waterstation.LoadBefore(v.book, c, end)
	if !ok {
		return nil
	}
	counter, _ := v.book.Counter(c.Counter)
	return newRecord(counter.Style, declared(&counter), v.amounts(c.Counter, end), v.away, carried.PerLitre)
}

// declared is the rate that a counter states.
func declared(c *model.Counter) rate { return rate{c.DeclaredRate, c.DeclaredRate > 0} }

// amounts are those of a counter before a place.
func (v *sight) amounts(counter model.ID, end model.Mark) []ledger.Amount {
	all := v.book.Amounts(counter)
	return all[:sort.Search(len(all), func(i int) bool { return !(model.Mark{On: all[i].On, Seq: all[i].Seq}).Before(end) })]
}

// recordOf makes a record when it is first asked for.
func (v *sight) recordOf(key model.Counting, make func(*model.Counter) *record) *record {
	v.mu.Lock()
	defer v.mu.Unlock()
	r, known := v.records[key]
	if !known {
		counter, _ := v.book.Counter(key.Counter)
		r = make(&counter)
		v.records[key] = r
	}
	return r
}

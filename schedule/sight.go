package schedule

import (
	"sync"

	"brine/wrasse/model"
	"brine/wrasse/schedule/trend"
)

// sight is a book as far as it exists on a date, with what several chores ask of it worked out once. Several may ask
// at once.
type sight struct {
	book    *model.Book
	on      model.Date
	end     model.Mark
	series  *model.Series
	history map[model.ID]history // of every chore, retired ones too
	slips   *slips
	shelf   map[model.ID]float64
	leaders map[model.ID]model.Component

	mu     sync.Mutex // over what is worked out when it is first asked for
	rates  map[model.ID]rate
	loads  map[model.Counting]*load
	drifts map[model.ID]*Drift // of each gauge, over all it has read
}

// rate is how fast something is used; ok is false while there is no telling.
type rate struct {
	perDay float64
	ok     bool
}

// load is what a counter's litres carried, in grams.
type load struct {
	grams *model.Tally
	rate  rate
}

// look sees a book on a date, ready for the chores given.
func look(b *model.Book, on model.Date, chores []model.Chore) *sight {
	v := &sight{
		book: b, on: on, end: model.EndOf(on),
		series:  b.Series(on),
		rates:   map[model.ID]rate{},
		loads:   map[model.Counting]*load{},
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
	v.mu.Lock()
	defer v.mu.Unlock()
	r, known := v.rates[c.ID]
	if !known {
		r = v.rateOf(v.book.Tally(c.ID), c.DeclaredRate > 0, c.DeclaredRate)
		v.rates[c.ID] = r
	}
	return r
}

// rateOf is the present rate of what was counted. A rate may be declared as 0: litres of clean water carry nothing.
func (v *sight) rateOf(t *model.Tally, isDeclared bool, declared float64) rate {
	span := 0.0
	var later []trend.Use
	if opened, ok := t.Opened(v.on); ok {
		span = float64(v.on.Sub(opened))
		amounts := t.Since(v.on)
		later = make([]trend.Use, len(amounts))
		for i, a := range amounts {
			later[i] = trend.Use{DaysAgo: float64(v.on.Sub(a.On)), Amount: a.Qty}
		}
	}
	if isDeclared {
		return rate{trend.UsageRateDeclared(declared, span, later), true}
	}
	perDay, ok := trend.UsageRate(span, later)
	return rate{perDay, ok}
}

// load is what a load clock's litres carried, nil when its inlet was never read.
func (v *sight) load(c model.Clock) *load {
	key := c.Counting()
	v.mu.Lock()
	defer v.mu.Unlock()
	if l, known := v.loads[key]; known {
		return l
	}
	v.loads[key] = nil
	if carried, ok := v.book.Concentration(c, v.on); ok {
		counter, _ := v.book.Counter(c.Counter)
		grams := v.book.Tally(c.Counter).Grams(carried, v.on)
		v.loads[key] = &load{
			grams: grams,
			rate:  v.rateOf(grams, counter.DeclaredRate > 0, counter.DeclaredRate*carried.At(v.on)/1000),
		}
	}
	return v.loads[key]
}

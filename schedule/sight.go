package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/schedule/trend"
)

// sight is a book as far as it exists on a date, with what several chores ask of it worked out once. It is filled
// while a round is made and only read afterwards.
type sight struct {
	book    *model.Book
	on      model.Date
	end     model.Mark
	series  *model.Series
	rates   map[model.ID]rate
	loads   map[loadKey]*load
	history map[model.ID]history // of every chore, retired ones too
	slips   *slips
	shelf   map[model.ID]float64
	steps   map[model.ID]int // days from tick to tick of every standing chore, 0 where no clock tells
	leaders map[model.ID]model.Component
	memo    *memo
}

// rate is how fast something is used; ok is false while there is no telling.
type rate struct {
	perDay float64
	ok     bool
}

// loadKey is what a load is made of.
type loadKey struct{ counter, inlet, outlet model.ID }

// load is what a counter's litres carried, in grams.
type load struct {
	grams *model.Tally
	rate  rate
}

// look sees a book on a date, ready for the chores given.
func look(b *model.Book, on model.Date, chores []model.Chore, m *memo) *sight {
	v := &sight{
		book: b, on: on, end: model.EndOf(on), memo: m,
		series:  b.Series(on),
		rates:   map[model.ID]rate{},
		loads:   map[loadKey]*load{},
		history: make(map[model.ID]history, len(chores)),
		steps:   make(map[model.ID]int, len(chores)),
		leaders: map[model.ID]model.Component{},
		shelf:   b.Shelf(on),
	}
	for _, c := range b.Components() {
		v.leaders[c.ID] = c
		if c.OpensWith != "" {
			v.leaders[c.ID], _ = b.Component(c.OpensWith)
		}
	}
	for i := range chores {
		v.history[chores[i].ID] = newHistory(b, chores[i].ID, on)
		for _, c := range chores[i].Clocks {
			switch c.Kind {
			case model.ClockUsage:
				v.count(c.Counter)
			case model.ClockLoad:
				v.carry(c)
			}
		}
	}
	v.slips = learnSlips(v, chores)
	return v
}

// count works out the rate of a counter, unless it is known already.
func (v *sight) count(counter model.ID) {
	if _, known := v.rates[counter]; !known {
		c, _ := v.book.Counter(counter)
		v.rates[counter] = v.rateOf(v.book.Tally(counter).UpTo(v.on), c.DeclaredRate > 0, c.DeclaredRate)
	}
}

// rateOf is the present rate of amounts, the first of which opens the record. A rate may be declared as 0: litres of
// clean water carry nothing.
func (v *sight) rateOf(amounts []model.Amount, isDeclared bool, declared float64) rate {
	span := 0.0
	var later []trend.Use
	if len(amounts) > 0 {
		span = float64(v.on.Sub(amounts[0].On))
		later = make([]trend.Use, 0, len(amounts)-1)
		for _, a := range amounts[1:] {
			later = append(later, trend.Use{DaysAgo: float64(v.on.Sub(a.On)), Amount: a.Qty})
		}
	}
	if isDeclared {
		return rate{trend.UsageRateDeclared(declared, span, later), true}
	}
	perDay, ok := trend.UsageRate(span, later)
	return rate{perDay, ok}
}

// carry works out the load of a load clock, unless it is known already or the inlet was never read.
func (v *sight) carry(c model.Clock) {
	key := loadKey{c.Counter, c.Inlet, c.Outlet}
	if v.loads[key] != nil {
		return
	}
	carried, ok := v.book.Concentration(c, v.on)
	if !ok {
		return
	}
	counter, _ := v.book.Counter(c.Counter)
	grams := v.book.Tally(c.Counter).Grams(carried, v.on)
	v.loads[key] = &load{
		grams: grams,
		rate:  v.rateOf(grams.Amounts(), counter.DeclaredRate > 0, counter.DeclaredRate*carried.At(v.on)/1000),
	}
}

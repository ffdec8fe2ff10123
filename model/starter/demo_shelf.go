package starter

import (
	"math"
	"slices"
	"sync"

	"brine/wrasse/model"
)

// ware is how a spare is bought and what is left of it today.
type ware struct {
	price float64 // of one unit
	pack  float64 // bought at a time
	left  float64 // on the shelf today
	part  string  // number on its packet
	good  int     // days from today until the date on its label; 0 without one
}

// shelf is the library's; what is low is low on purpose.
var shelf = sync.OnceValue(func() map[model.ID]ware {
	return map[model.ID]ware{
		"sediment-cartridge": {price: 6.5, pack: 2, left: 1, part: "S-10"},
		"carbon-cartridge":   {price: 14, pack: 2, left: 1, part: "C-10"},
		"membrane-element":   {price: 58, pack: 1, left: 0, part: "M-12"},
		"waste-restrictor":   {price: 7.5, pack: 1, left: 1, part: "W-2"},
		"mixed-resin":        {price: 13, pack: 3, left: 0.9},
		"housing-o-rings":    {price: 6, pack: 1, left: 1, part: "O-10"},
		"chlorine-test":      {price: 0.45, pack: 30, left: 11, part: "CL-30", good: 212},
		"tds-standard":       {price: 2.2, pack: 4, left: 2, part: "T-84", good: 156},
		"bleach":             {price: 0.002, pack: 750, left: 550, good: 74},
		"tube":               {price: 0.9, pack: 5, left: 4},
		"salt-mix":           {price: 4.2, pack: 20, left: 5.3},
		"citric-acid":        {price: 0.009, pack: 1000, left: 260},
		"impeller-set":       {price: 28, pack: 1, left: 0, part: "I-4"},
		"alkalinity-test":    {price: 0.3, pack: 60, left: 9, part: "K-60", good: 118},
		"salinity-standard":  {price: 0.08, pack: 100, left: 35, part: "P-35", good: 45},
		"return-o-ring":      {price: 3.4, pack: 2, left: 0, part: "O-38"},
	}
})

// fillShelf logs an opening count and then a pack bought in the week before it was
// needed, so that exactly what should be left is left.
func (l *library) fillShelf() {
	for _, e := range l.acts[0].bodies {
		s, ok := e.(model.Spare)
		if !ok {
			continue
		}
		w, uses := shelf()[s.ID], l.uses[s.ID]
		slices.SortStableFunc(uses, func(a, b use) int { return a.day - b.day })
		total := w.left
		for _, u := range uses {
			total += u.amount
		}
		packs := math.Floor((total + 1e-9) / w.pack)
		have := shown(total-packs*w.pack, 0.001)
		if have > 0 {
			l.add(firstDay, buying, model.Stock{Spare: s.ID, Change: have})
		}
		for _, u := range uses {
			for have < u.amount-1e-9 {
				l.buy(s.ID, w, present(max(firstDay, u.day-5)))
				have += w.pack
				packs--
			}
			have -= u.amount
		}
		for ; packs > 0; packs-- {
			l.buy(s.ID, w, -26)
		}
	}
}

// buy logs a pack; prices have crept up by a twentieth in the two years.
func (l *library) buy(spare model.ID, w ware, day int) {
	price := shown(w.price*(1+0.05*float64(day)/float64(-firstDay)), 0.001)
	l.add(day, buying, model.Stock{Spare: spare, Change: w.pack, Price: &price})
}

package request

import (
	"errors"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// CopyPlace makes a second place like one, with copies of what is in use there: its
// components, their chores, and the counters and gauges that serve no other place.
// Copies start afresh on the stamp's date. Spares stay shared; roles, which only one
// can play, stay with the originals.
type CopyPlace struct {
	Stamp
	Place model.ID
	Name  string
}

// Entries is the definitions of the copy.
func (r CopyPlace) Entries(b *ledger.Book) ([]model.Entry, error) {
	return Define{r.Stamp, r.bodies}.Entries(b)
}

func (r CopyPlace) bodies(b *ledger.Book) ([]model.Body, error) {
	place, err := known(b.Place, r.Place)
	if err != nil {
		return nil, err
	}
	if r.Name == "" {
		return nil, errors.New("name is missing; give the name of the new place")
	}
	c := copier{book: b, place: r.Place, name: r.Name, ids: newIDs(b), to: map[model.Kind]map[model.ID]model.ID{
		model.KindComponent: {}, model.KindCounter: {}, model.KindGauge: {}, model.KindChore: {},
	}}
	place.ID, place.Name = c.ids.of(model.KindPlace, r.Name), r.Name
	out := []model.Body{place}
	out = append(out, c.components(place.ID, r.On)...)
	out = append(out, c.measures()...)
	return append(out, c.chores()...), nil
}

// copier makes the copies of one place.
type copier struct {
	book  *ledger.Book
	place model.ID
	name  string // of the new place
	ids   ids
	to    map[model.Kind]map[model.ID]model.ID // from each id copied to its copy's
}

func (c *copier) components(place model.ID, on model.Date) []model.Body {
	var out []model.Body
	for _, comp := range c.book.Components() {
		if comp.Place == c.place && comp.Retired.IsZero() {
			c.to[model.KindComponent][comp.ID] = c.ids.of(model.KindComponent, comp.Name)
		}
	}
	for _, comp := range c.book.Components() {
		id, ok := c.to[model.KindComponent][comp.ID]
		if !ok {
			continue
		}
		comp.ID, comp.Place, comp.Guess = id, place, slices.Clone(comp.Guess)
		comp.Serve(on, false)
		comp.OpensWith = c.to[model.KindComponent][comp.OpensWith]
		out = append(out, comp)
	}
	return out
}

// measures are the counters and gauges that serve this place alone.
func (c *copier) measures() []model.Body {
	var out []model.Body
	for _, k := range c.book.Counters() {
		if k.Retired.IsZero() && c.only(k.ID, "") {
			id := c.ids.of(model.KindCounter, k.Name+" "+c.name)
			c.to[model.KindCounter][k.ID] = id
			k.ID, k.Name, k.Role = id, k.Name+", "+c.name, ""
			out = append(out, k)
		}
	}
	for _, g := range c.book.Gauges() {
		if g.Retired.IsZero() && c.only("", g.ID) {
			id := c.ids.of(model.KindGauge, g.Name+" "+c.name)
			c.to[model.KindGauge][g.ID] = id
			g.ID, g.Name, g.Role, g.Component = id, g.Name+", "+c.name, "", c.to[model.KindComponent][g.Component]
			out = append(out, g)
		}
	}
	return out
}

// only tells whether a counter or a gauge is used by a chore of the place and by no
// chore elsewhere.
func (c *copier) only(counter, gauge model.ID) bool {
	here := false
	for _, chore := range c.book.Chores() {
		if !chore.Retired.IsZero() || !uses(chore, counter, gauge) {
			continue
		}
		if comp, _ := c.book.Component(chore.Component); comp.Place != c.place {
			return false
		}
		here = true
	}
	return here
}

func uses(c model.Chore, counter, gauge model.ID) bool {
	if gauge != "" && slices.Contains(c.DoneBy, gauge) {
		return true
	}
	return slices.ContainsFunc(c.Clocks, func(k model.Clock) bool {
		return counter != "" && k.Counter == counter || gauge != "" && (k.Gauge == gauge || k.Inlet == gauge || k.Outlet == gauge)
	})
}

func (c *copier) chores() []model.Body {
	var out []model.Body
	var chores []model.Chore
	for _, chore := range c.book.Chores() {
		comp, ok := c.to[model.KindComponent][chore.Component]
		if !ok || !chore.Retired.IsZero() {
			continue
		}
		id := c.ids.of(model.KindChore, chore.Name)
		c.to[model.KindChore][chore.ID] = id
		chore.ID, chore.Component = id, comp
		chores = append(chores, chore)
	}
	for _, chore := range chores {
		chore.Then = calls(chore.Then, c.to[model.KindChore])
		chore.Clocks = c.clocks(chore.Clocks)
		for i := range chore.Clocks {
			k := &chore.Clocks[i]
			k.Counter = c.copied(model.KindCounter, k.Counter)
			k.Gauge, k.Inlet, k.Outlet = c.copied(model.KindGauge, k.Gauge), c.copied(model.KindGauge, k.Inlet), c.copied(model.KindGauge, k.Outlet)
		}
		chore.DoneBy = slices.Clone(chore.DoneBy)
		for i, g := range chore.DoneBy {
			chore.DoneBy[i] = c.copied(model.KindGauge, g)
		}
		out = append(out, chore)
	}
	return out
}

// calls are calls for other chores, of which some have got other ids.
func calls(all []model.Call, to map[model.ID]model.ID) []model.Call {
	out := slices.Clone(all)
	for i := range out {
		if id, ok := to[out[i].Chore]; ok {
			out[i].Chore = id
		}
	}
	return out
}

// clocks are those of a chore that can be kept apart from the original's: what is
// computed from the readings of the one station that plays the roles is left out,
// where something else remains.
func (c *copier) clocks(all []model.Clock) []model.Clock {
	out := slices.DeleteFunc(slices.Clone(all), func(k model.Clock) bool { return k.Gauge.Derived() })
	if len(out) == 0 {
		return slices.Clone(all)
	}
	return out
}

// copied is the id of a copy, or the id itself where there is none.
func (c *copier) copied(kind model.Kind, id model.ID) model.ID {
	if to, ok := c.to[kind][id]; ok {
		return to
	}
	return id
}

package request

import (
	"fmt"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// AddChore writes a new chore, its id made from its name, and a first tick where it
// is known when the chore was last done.
type AddChore struct {
	Stamp
	Chore model.Chore
	Last  LastDone // no date: nothing is known, and the component's going into service starts the first cycle
}

// Entries is the chore and its first tick.
func (r AddChore) Entries(b *ledger.Book) ([]model.Entry, error) {
	c := r.Chore
	c.ID = NewID(b, model.KindChore, c.Name)
	out := r.entries(c)
	if !r.Last.On.IsZero() {
		out = append(out, Stamp{r.Last.On, r.By}.entry(model.Tick{Chore: c.ID, About: r.Last.About}))
	}
	return out, nil
}

// Move takes a component to another place. What opens with it goes along; a
// component that opened with another opens by itself from then on.
func Move(s Stamp, component, place model.ID) Define {
	return Define{s, func(b *ledger.Book) ([]model.Body, error) {
		c, err := known(b.Component, component)
		if err != nil {
			return nil, err
		}
		if _, err := known(b.Place, place); err != nil {
			return nil, err
		}
		if c.Place == place {
			return nil, fmt.Errorf("%s stands there already; choose another place", c.Name)
		}
		c.Place, c.OpensWith = place, ""
		out := []model.Body{c}
		for _, f := range Followers(b, component) {
			f.Place = place
			out = append(out, f)
		}
		return out, nil
	}}
}

// Followers are the components that open with another.
func Followers(b *ledger.Book, component model.ID) []model.Component {
	var out []model.Component
	for _, c := range b.Components() {
		if c.OpensWith == component {
			out = append(out, c)
		}
	}
	return out
}

// Retire takes a component, a chore, a counter, a gauge or a spare out of use from
// the stamp's date on, or brings a retired one back. Its log stays.
func Retire(s Stamp, kind model.Kind, id model.ID) Define {
	turn := func(retired *model.Date) {
		if retired.IsZero() {
			*retired = s.On
		} else {
			*retired = 0
		}
	}
	return Define{s, func(b *ledger.Book) ([]model.Body, error) {
		switch kind {
		case model.KindComponent:
			return changed(b.Component, id, func(c *model.Component) { turn(&c.Retired) })
		case model.KindVessel:
			return changed(b.Vessel, id, func(v *model.Vessel) { turn(&v.Retired) })
		case model.KindChore:
			return changed(b.Chore, id, func(c *model.Chore) { turn(&c.Retired) })
		case model.KindCounter:
			return changed(b.Counter, id, func(c *model.Counter) { turn(&c.Retired) })
		case model.KindGauge:
			return changed(b.Gauge, id, func(g *model.Gauge) { turn(&g.Retired) })
		case model.KindSpare:
			return changed(b.Spare, id, func(s *model.Spare) { turn(&s.Retired) })
		}
		return nil, fmt.Errorf("a %s is not retired; retire what stands there", kind)
	}}
}

// Swap says that a component's part is a new one of the same kind since a date: all
// its chores start new cycles then, and keep what was learnt.
func Swap(s Stamp, component model.ID, since model.Date) Define {
	return Define{s, func(b *ledger.Book) ([]model.Body, error) {
		c, err := known(b.Component, component)
		if err != nil {
			return nil, err
		}
		if since <= c.InService && c.InService != model.NotInUse {
			return nil, &model.FieldError{Field: "in_service", Value: since.String(), Want: "a date after " + c.InService.String() + ", when the present part went in"}
		}
		c.Guess = slices.Clone(c.Guess)
		c.Serve(since, false)
		return []model.Body{c}, nil
	}}
}

// Replace puts another model in a component's place: a component and chores of their
// own, which have learnt nothing yet, while the old ones are retired with their log.
// What opened with the old one opens with the new one, its gauges go over to it, and what called for its chores calls for
// the new ones.
func Replace(s Stamp, component model.ID, name string) Define {
	return Define{s, func(b *ledger.Book) ([]model.Body, error) {
		old, err := known(b.Component, component)
		if err != nil {
			return nil, err
		}
		ids := newIDs(b)
		fresh := old
		fresh.ID, fresh.Name, fresh.Guess = ids.of(model.KindComponent, name), name, slices.Clone(fresh.Guess)
		fresh.Serve(s.On, false)
		out := []model.Body{fresh}
		out = append(out, replaced(b, old.ID, fresh.ID, ids)...)
		for _, g := range b.Gauges() {
			if g.Component == old.ID && g.Retired.IsZero() {
				g.Component = fresh.ID
				out = append(out, g)
			}
		}
		for _, f := range Followers(b, old.ID) {
			f.OpensWith = fresh.ID
			out = append(out, f)
		}
		old.Retired = s.On
		return append(out, old), nil
	}}
}

// replaced are the chores of a new component in an old one's place, and those of others that called for the old ones.
func replaced(b *ledger.Book, old, fresh model.ID, n ids) []model.Body {
	var out []model.Body
	to := map[model.ID]model.ID{}
	theirs := func(c model.Chore) bool { return c.Component == old && c.Retired.IsZero() }
	for _, c := range b.Chores() {
		if theirs(c) {
			to[c.ID] = n.of(model.KindChore, c.Name)
		}
	}
	for _, c := range b.Chores() {
		called := slices.ContainsFunc(c.Then, func(call model.Call) bool { return to[call.Chore] != "" })
		switch {
		case theirs(c):
			c.ID, c.Component = to[c.ID], fresh
		case !called || !c.Retired.IsZero():
			continue
		}
		c.Then = calls(c.Then, to)
		out = append(out, c)
	}
	return out
}

package gear

import (
	"cmp"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/table"

	tea "github.com/charmbracelet/bubbletea"
)

// vessel asks for a vessel.
func (e *editor) vessel(v model.Vessel) {
	at := choice(fieldPlace, "stands at", string(v.Place))
	addInUse(&at, e.session.Book.Places(), func(p model.Place) (model.ID, string, model.Date) { return p.ID, p.Name, 0 })
	fed := choice(fieldCounter, "filled by", string(v.FedBy), [3]string{"n", "", "carrying, or mixing in it"})
	addInUse(&fed, e.session.Book.Counters(), func(c model.Counter) (model.ID, string, model.Date) {
		return c.ID, "what " + c.Name + " counts", c.Retired
	})
	use := e.end(v.DeclaredUse, "L")
	unit := parse.UnitName(parse.Unit("L", e.session.Book.Def().Units))
	capacity, keep := e.shown(v.Capacity, "L"), e.figure(v.Keep, "L")
	e.sheet(cmp.Or(v.Name, "A new vessel"), []form.Field{nameField(v.Name),
		choice(fieldHolds, "holds", string(v.Holds), [3]string{"f", string(model.HoldsFresh), "fresh water"}, [3]string{"s", string(model.HoldsSalt), "salt water"}),
		{Name: fieldAmount, Label: "up to", Value: capacity, Cells: 10, Hint: "in " + unit + ": where it overflows or its float shuts"},
		{Name: fieldKeep, Label: "keeps at least", Value: keep, Cells: 10, Hint: "in " + unit + ": below it a pump runs dry"},
		fed, form.YesNo(fieldAuto, "a float keeps it full", v.Auto),
		{Name: fieldRate, Label: "loses a day", Value: use, Cells: 10, Hint: "in " + unit + ", what nobody logs; may stay empty: two counts tell"},
		at,
	}, func(r *reader) ui.Job {
		made := v
		made.Name, made.Holds, made.Place = r.name(fieldName), model.Holds(r.text(fieldHolds)), model.ID(r.text(fieldPlace))
		made.FedBy, made.Auto = model.ID(r.text(fieldCounter)), r.text(fieldAuto) == "yes"
		if made.Holds == model.HoldsSalt && (made.FedBy != "" || made.Auto) {
			r.fail(fieldHolds, "salt water is mixed: nothing runs into it and no float keeps it full")
		}
		if r.text(fieldAmount) != capacity || v.Capacity == 0 {
			made.Capacity = r.amount(fieldAmount, "L")
		}
		if r.text(fieldKeep) != keep {
			made.Keep = r.orNone(fieldKeep, "L")
		}
		if made.Keep > made.Capacity {
			r.fail(fieldKeep, "give at most what it holds")
		}
		switch s := r.text(fieldRate); {
		case s == "":
			made.DeclaredUse = nil
		case s != use:
			litres := r.orNone(fieldRate, "L")
			made.DeclaredUse = &litres
		}
		made.Guess = stillGuessed(v.Guess, map[string]bool{"capacity": made.Capacity != v.Capacity, "keep": made.Keep != v.Keep, "declared_use": r.text(fieldRate) != use})
		return define(e, made, func(v *model.Vessel) (*model.ID, string) { return &v.ID, v.Name })
	}, nil)
}

// take asks for what one tick draws from a vessel.
func (d *definition) take(c model.Chore, at int, t model.Take) tea.Cmd {
	f, ok := d.vessels(t.Vessel)
	if !ok {
		return nil
	}
	shown := d.shown(t.Litres, "L")
	d.sheet(parse.ChoreLabel(d.session.Book, c)+": water it takes", []form.Field{f,
		{Name: fieldAmount, Label: "each time", Value: shown, Cells: 10, Hint: "in " + parse.UnitName(parse.Unit("L", d.session.Book.Def().Units))},
	}, func(r *reader) ui.Job {
		made := model.Take{Vessel: model.ID(r.text(fieldVessel)), Litres: t.Litres}
		if r.text(fieldAmount) != shown || shown == "" {
			made.Litres = r.amount(fieldAmount, "L")
		}
		return d.change("saving the water it takes", func(c *model.Chore) { c.Takes = with(c.Takes, at, made) })
	}, nil)
	return nil
}

// vessels offers the vessels in use; it says so when there are none.
func (e *editor) vessels(chosen model.ID) (form.Field, bool) {
	f := form.Field{Name: fieldVessel, Label: "vessel", Value: string(chosen)}
	addInUse(&f, e.session.Book.Vessels(), func(v model.Vessel) (model.ID, string, model.Date) { return v.ID, v.Name, v.Retired })
	return f, e.offers(f, "there is no vessel yet; in Gear, a adds one")
}

// vesselDetail is what is in a vessel, how long it lasts, and what it is taken to be.
func (v *View) vesselDetail(id model.ID, d *table.Detail) {
	b, r := v.session.Book, v.session.Round
	w, _ := b.Vessel(id)
	d.Title(w.Name, "holds "+string(w.Holds)+" water, up to "+phrase.Amount(b, w.Capacity, "L"))
	if on := r.OnHandIn(w.ID); on != nil {
		for _, line := range phrase.Card(b, on, r.On) {
			d.Put(nil, line)
		}
	}
	if len(w.Guess) > 0 {
		d.Put(nil, "its size is a guess of the set it came with; e says how much it holds")
	}
	v.measureDetail(w.Retired, func(k model.Clock) bool { return k.Vessel == w.ID }, d)
	latest(d, r.On, b.Levels(w.ID), func(l ledger.Logged[model.Level]) (model.Date, string) {
		return l.On, phrase.Amount(b, l.What.Litres, "L")
	})
}

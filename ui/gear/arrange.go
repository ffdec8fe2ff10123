package gear

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/prompt"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// addHere asks what to add at a node, which is nil in an empty tree.
func (v *View) addHere(n *node) {
	b := v.session.Book
	var all []addition
	var component model.Component
	onPart := false
	if n != nil {
		component, onPart = b.Component(v.componentOf(n))
	}
	place := component.Place
	if n != nil && n.kind == model.KindPlace {
		place = n.id
	}
	if onPart {
		all = append(all, addition{ui.Answer{Letter: 'h', Label: "a chore", Note: "on " + component.Name}, func() tea.Cmd { return v.newChore(component) }})
	}
	if p, known := b.Place(place); known {
		all = append(all, addition{ui.Answer{Letter: 'c', Label: "a component", Note: "at " + p.Name}, func() tea.Cmd {
			return v.component(model.Component{Place: p.ID, Reach: 2, AccessMinutes: 2, InService: v.session.Today()})
		}})
	}
	if places := b.Places(); place == "" && len(places) > 0 {
		place = places[0].ID
	}
	if place != "" {
		all = append(all, addition{ui.Answer{Letter: 'v', Label: "a vessel", Note: "reservoir, vat, can"}, func() tea.Cmd {
			v.vessel(model.Vessel{Place: place, Holds: model.HoldsFresh})
			return nil
		}})
	}
	all = append(all,
		addition{ui.Answer{Letter: 'p', Label: "a place"}, func() tea.Cmd { v.place(model.Place{Minutes: 2}); return nil }},
		addition{ui.Answer{Letter: 'u', Label: "a counter", Note: "litres, batches, hours"}, func() tea.Cmd { v.counter(model.Counter{Style: model.StyleAmount}); return nil }},
		addition{ui.Answer{Letter: 'g', Label: "a gauge", Note: "what is read"}, func() tea.Cmd { v.gauge(model.Gauge{Component: component.ID}); return nil }})
	if left := prompt.Extras(b); len(left) > 0 {
		all = append(all, addition{ui.Answer{Letter: 'x', Label: "extras", Note: "a list to tick: UPS, dosing, UV"}, func() tea.Cmd { v.extras(left); return nil }})
	}
	v.offer("Add", all)
}

// extras asks what else there is now of what many stations have; it comes with its chores, as at the start.
func (e *editor) extras(left []form.Field) {
	since := form.Field{Name: fieldService, Label: "in use since", Value: e.session.Today().String(), Cells: 16, Limit: 40, Hint: "all that is ticked; sep 2025; never: not yet"}
	e.sheet("What else is there now? y ticks, enter adds", append([]form.Field{since}, left...), func(r *reader) ui.Job {
		in := parse.When{On: model.NotInUse}
		if !parse.Never(r.text(fieldService)) {
			if in = r.date(fieldService); in.On > r.today {
				r.fail(fieldService, in.On.String()+" is after today; give a day that was, or never")
			}
		}
		return e.session.Job("adding extras", request.Extras{Stamp: e.session.Stamp(), Definitions: request.InUse(prompt.Ticked(r.values), in)}, e.added)
	}, func(v form.Values) []string {
		lacking, ok := request.Lacking(e.session.Book, prompt.Ticked(v))
		if !ok {
			return nil
		}
		return []string{sayNew(lacking) + " of the ready-made set, all yours to change"}
	})
}

// addition is something that can be added, and the form of it.
type addition struct {
	ui.Answer
	open func() tea.Cmd
}

// offer asks which of some things to add.
func (e *editor) offer(title string, all []addition) {
	answers := make([]ui.Answer, len(all))
	for i, a := range all {
		answers[i] = a.Answer
	}
	e.session.Root.Push(ui.NewChoice(e.session.Root, title, answers, func(i int) tea.Cmd { return all[i].open() }))
}

// retire takes something out of use, or brings it back. Of a component it asks first
// whether a new part takes its place.
func (e *editor) retire(k key) tea.Cmd {
	b := e.session.Book
	name := ""
	switch k.kind {
	case model.KindComponent:
		c, _ := b.Component(k.id)
		if c.Retired.IsZero() {
			return e.retireOrReplace(c)
		}
		name = c.Name
	case model.KindChore:
		c, _ := b.Chore(k.id)
		name = parse.ChoreLabel(b, c)
	case model.KindVessel:
		v, _ := b.Vessel(k.id)
		name = v.Name
	case model.KindCounter:
		c, _ := b.Counter(k.id)
		name = c.Name
	case model.KindGauge:
		g, _ := b.Gauge(k.id)
		name = g.Name
	default:
		e.session.Root.Say("a place is not retired; retire or move what stands there")
		return nil
	}
	return e.session.Do("retiring "+name, request.Retire(e.session.Stamp(), k.kind, k.id))
}

// retireOrReplace asks what becomes of a component that goes out of use.
func (e *editor) retireOrReplace(c model.Component) tea.Cmd {
	e.session.Root.Push(ui.NewChoice(e.session.Root, c.Name+" goes out of use", []ui.Answer{
		{Letter: 'r', Label: "retire it", Note: "it and its chores leave the round; the log stays"},
		{Letter: 's', Label: "swapped for a new one", Note: "the same kind: new cycles, what was learnt stays"},
		{Letter: 'm', Label: "another model takes its place", Note: "a history of its own; this one is retired"},
		{Letter: 'n', Label: "leave it"},
	}, func(i int) tea.Cmd {
		switch i {
		case 0:
			return e.session.Do("retiring "+c.Name, request.Retire(e.session.Stamp(), model.KindComponent, c.ID))
		case 1:
			return e.swap(c)
		case 2:
			e.replace(c)
		}
		return nil
	}))
	return nil
}

// swap asks since when a new part of the same kind is in.
func (e *editor) swap(c model.Component) tea.Cmd {
	return e.ahead("A new "+c.Name, []form.Field{
		{Name: fieldService, Label: "in use since", Value: e.session.Today().String(), Cells: 12, Hint: "all its chores start new cycles then"},
	}, "swapping "+c.Name, func(r *reader) session.Act {
		on := r.date(fieldService).On
		if on <= c.InService && c.InService != model.NotInUse {
			r.fail(fieldService, "give a date after "+c.InService.String()+", when the present part went in")
		}
		return request.Swap(e.session.Stamp(), c.ID, on)
	}, nil, moves)
}

// replace asks for the name of the model that takes a component's place.
func (e *editor) replace(c model.Component) {
	e.sheet("What takes the place of "+c.Name+"?", []form.Field{nameField(c.Name)},
		func(r *reader) ui.Job {
			return e.session.Job("replacing "+c.Name, request.Replace(e.session.Stamp(), c.ID, r.name(fieldName)), e.added)
		},
		func(values form.Values) []string {
			id := request.NewID(e.session.Book, model.KindComponent, values[fieldName])
			return []string{"it gets copies of the chores in use, its own id (" + string(id) + "), and has learnt nothing yet; " + c.Name + " is retired today"}
		})
}

// move asks where a component goes.
func (e *editor) move(k key) tea.Cmd {
	b := e.session.Book
	id := k.id
	if k.kind == model.KindChore {
		c, _ := b.Chore(k.id)
		id = c.Component
	}
	c, ok := b.Component(id)
	if !ok || k.kind != model.KindComponent && k.kind != model.KindChore {
		e.session.Root.Say("only a component moves; go to one")
		return nil
	}
	f := form.Field{Name: fieldPlace, Label: "to"}
	for _, p := range b.Places() {
		if p.ID != c.Place {
			f.Options = append(f.Options, form.Option{Value: string(p.ID), Label: p.Name})
		}
	}
	if !e.offers(f, "there is no other place yet; a adds one") {
		return nil
	}
	note := "its chores go with it; what was learnt stays"
	if n := len(request.Followers(b, c.ID)); n > 0 {
		note += "; " + phrase.Count(n, "component") + " that opens with it goes along"
	}
	if c.OpensWith != "" {
		with, _ := b.Component(c.OpensWith)
		note += "; it opened with " + with.Name + " and opens by itself then"
	}
	e.sheet("Move "+c.Name, []form.Field{f}, func(r *reader) ui.Job {
		return e.session.Job("moving "+c.Name, request.Move(e.session.Stamp(), c.ID, model.ID(r.text(fieldPlace))), func() tea.Cmd {
			if e.put != nil {
				e.put(key{model.KindComponent, c.ID})
			}
			return nil
		})
	}, func(form.Values) []string { return []string{note} })
	return nil
}

// copy asks for the name of a second place like one.
func (e *editor) copy(k key) tea.Cmd {
	p, ok := e.session.Book.Place(k.id)
	if !ok || k.kind != model.KindPlace {
		e.session.Root.Say("places are copied, with all that stands there; go to one")
		return nil
	}
	request := func(name string) request.CopyPlace {
		return request.CopyPlace{Stamp: e.session.Stamp(), Place: p.ID, Name: name}
	}
	e.sheet("Copy "+p.Name+" with all that stands there", []form.Field{nameField(p.Name + " 2")},
		func(r *reader) ui.Job { return e.session.Job("copying "+p.Name, request(r.name(fieldName)), e.added) },
		func(values form.Values) []string {
			entries, err := request(values[fieldName]).Entries(e.session.Book)
			if err != nil {
				return nil
			}
			return []string{sayNew(entries) + "; all start afresh today, spares are shared"}
		})
	return nil
}

// sayNew counts what definitions bring.
func sayNew(entries []model.Entry) string {
	n := map[model.Kind]int{}
	for _, e := range entries {
		n[e.Kind]++
	}
	s := phrase.Count(n[model.KindComponent], "component") + ", " + phrase.Count(n[model.KindChore], "chore")
	if m := n[model.KindCounter] + n[model.KindGauge]; m > 0 {
		s += fmt.Sprintf(", %d counters and gauges of its own", m)
	}
	return s
}

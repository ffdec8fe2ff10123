package starter

import (
	"slices"
	"sync"

	"brine/wrasse/model"
)

// rooms are the library's names and minutes for the places of the sets.
var rooms = sync.OnceValue(func() map[model.ID]model.Place {
	return map[model.ID]model.Place{
		"water-corner":  {Name: "Cleaners' cupboard", Minutes: 4},
		"mixing-corner": {Name: "Basement book store", Minutes: 6},
		"display":       {Name: "Lobby", Minutes: 2},
		"sump-cabinet":  {Name: "Cabinet, lobby", Minutes: 3},
		"test-bench":    {Name: "Returns desk", Minutes: 1},
	}
})

// placing is how a part stands in this library where it differs from the set.
type placing struct {
	reach, minutes int
	age            int // days it was in service when the log begins
}

var placings = sync.OnceValue(func() map[model.ID]placing {
	return map[model.ID]placing{
		"mixing-pump":     {reach: 4, minutes: 12},
		"sediment-filter": {reach: 3, minutes: 6},
		"membrane":        {reach: 4, minutes: 10, age: 1100},
		"return-pump":     {reach: 4, minutes: 12, age: 300},
		"skimmer-body":    {reach: 5, minutes: 24},
		"sump":            {reach: 4, minutes: 9},
		"rodi-tubing":     {reach: 3, minutes: 4, age: 370},
	}
})

// stillGuessed are the parts whose reach nobody has confirmed yet.
var stillGuessed = []model.ID{"tank-stand", "lights", "mixing-hoses"}

// furnish writes the definitions, all in one act on the first day.
func (l *library) furnish() {
	l.chores, l.components = map[model.ID]model.Chore{}, map[model.ID]model.Component{}
	bodies := []model.Body{model.BookDef{
		Name:        "Library reef",
		Units:       model.Units{Volume: "L", Temperature: "C", Pressure: "bar"},
		MinuteValue: 0.2,
	}}
	var sets [][]model.Entry
	for _, name := range names {
		set, err := Set(name)
		if err != nil {
			panic(err) // the sets are part of the program, and its tests read them all
		}
		sets = append(sets, set)
	}
	for _, e := range Combine(sets...) {
		bodies = append(bodies, l.placed(e.Body))
	}
	l.add(firstDay, founding, bodies...)
}

// placed is a definition of a set as it stands in the library.
func (l *library) placed(body model.Body) model.Body {
	switch b := body.(type) {
	case model.Place:
		b.Name, b.Minutes = rooms()[b.ID].Name, rooms()[b.ID].Minutes
		return b
	case model.Component:
		if !slices.Contains(stillGuessed, b.ID) {
			b.Guess = nil
		}
		if p, ok := placings()[b.ID]; ok {
			b.Reach, b.AccessMinutes = p.reach, p.minutes
			b.InService = l.date(firstDay - p.age)
		}
		l.components[b.ID] = b
		return b
	case model.Counter:
		if b.Role == model.RoleWaterMade {
			b.DeclaredRate = 9
		}
		return b
	case model.Spare:
		w := shelf()[b.ID]
		if b.Price, b.Part = &w.price, w.part; w.good > 0 {
			b.Expires = l.today.AddDays(w.good)
		}
		return b
	case model.Vessel:
		b.Guess = nil
		if b.Holds == model.HoldsFresh {
			b.Capacity, b.Keep = barrel, keeps
		}
		return b
	case model.Chore:
		switch b.ID {
		case "change-water": // a tenth every week rather than every other
			b.Clocks = []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: 1, Unit: model.SpanWeeks}, Rule: model.RuleEvery}}
			b.Takes = []model.Take{{Vessel: "vat", Litres: changed}}
		case "renew-impeller":
			b.Cost = &model.Cost{Planned: 30, Failure: 110}
		}
		l.chores[b.ID] = b
		return b
	}
	return body
}

// reachOn is the grade of a component on a day: the skimmer was hung lower once.
func (l *library) reachOn(component model.ID, day int) int {
	if component == rebuilt.component && day >= rebuilt.day {
		return rebuilt.reach
	}
	return l.components[component].Reach
}

// rebuilt is the part whose placing was changed.
var rebuilt = struct {
	component      model.ID
	day            int
	reach, minutes int
}{"skimmer-body", -268, 3, 6}

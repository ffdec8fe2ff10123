package logbook

import (
	"fmt"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/request"
)

// slot is a field of an entry that can be amended: how it is shown, and how what is
// typed becomes a value of the book format. A nil value takes the field out.
type slot struct {
	form.Field
	parse func(string) (any, error)
}

// slots are what of an entry can be amended.
func slots(b *ledger.Book, e *model.Entry, today model.Date) []slot {
	u := b.Def().Units
	out := []slot{dateSlot(e, today)}
	switch w := e.Body.(type) {
	case model.Tick:
		c, _ := b.Chore(w.Chore)
		if words := parse.Words(c.Work); words != nil {
			out = append(out, foundSlot(words, w.Found))
		}
		out = append(out, minutesSlot("minutes", "minutes", w.Minutes), noteSlot("note", "note", w.Note),
			aboutSlot("date is", w.About))
		if unit := parse.OffsetUnit(b, c); unit != "" && (w.Found == model.FoundFailed || w.Offset != nil) {
			out = append(out, numberSlot("offset", "shows too much", w.Offset, func(s string) (float64, error) { return parse.ReadDifference(s, unit, u) },
				func(v float64) string { return strings.Fields(parse.Difference(v, unit, u))[0] }, parse.UnitName(parse.Unit(unit, u))))
		}
		if len(c.Takes) > 0 || w.Litres != nil {
			out = append(out, litresSlot("litres", "drawn", w.Litres, u))
		}
	case model.Usage:
		c, _ := b.Counter(w.Counter)
		name, v := "amount", w.Amount
		if w.Meter != nil {
			name, v = "meter", w.Meter
		}
		out = append(out, unitSlot(name, name, v, c.Unit, u, func(s string) (float64, error) { return parse.Usage(s, c, u) }))
	case model.Reading:
		g, _ := b.Gauge(w.Gauge)
		out = append(out, unitSlot("value", "value", &w.Value, g.Unit, u, func(s string) (float64, error) { return parse.Value(s, g, u) }),
			numberSlot("minutes_running", "ran before", w.MinutesRunning, parse.Minutes, parse.Number, "minutes the unit ran before it was read; under 5 counts nowhere"))
	case model.Stock:
		s, _ := b.Spare(w.Spare)
		out = append(out, plainSlot("change", "change", &w.Change, "+ bought, - used, in "+parse.UnitName(s.Unit)),
			plainSlot("price", "price", w.Price, "of one "+parse.UnitName(s.Unit)))
	case model.Flag:
		out = append(out, flagSlots(w)...)
	case model.PutOff:
		out = append(out, untilSlot(w.Until, e.On), noteSlot("reason", "reason", w.Reason))
	case model.Away:
		out = append(out, untilSlot(w.Until, e.On))
	case model.Fault:
		out = append(out, noteSlot("note", "note", w.Note))
	case model.Repair:
		out = append(out, noteSlot("note", "note", w.Note), usesSlot(b, w.Uses))
	case model.Batch:
		out = append(out, litresSlot("volume_l", "fresh water", &w.VolumeL, u), plainSlot("salt_g", "salt", &w.SaltG, "grams"),
			plainSlot("salinity", "salinity", w.Salinity, "practical, as measured"),
			unitSlot("temperature_c", "temperature", w.TemperatureC, "C", u, func(s string) (float64, error) { return parse.Value(s, model.Gauge{Unit: "C"}, u) }),
			vesselSlot(b, "from", "from", w.From), vesselSlot(b, "into", "into", w.Into))
	case model.Level:
		out = append(out, litresSlot("litres", "holds", &w.Litres, u), aboutSlot("it is", w.About))
	case model.Draw:
		out = append(out, litresSlot("litres", "drawn", &w.Litres, u), purposeSlot(w.For), vesselSlot(b, "into", "into", w.Into))
	case model.Need:
		out = append(out, litresSlot("litres", "wanted", &w.Litres, u), bySlot(w.By, e.On), noteSlot("note", "note", w.Note))
	case model.Note:
		out = append(out, noteSlot("text", "text", w.Text))
	case model.Place, model.Component, model.Counter, model.Gauge, model.Spare, model.Vessel, model.Chore, model.BookDef:
		for _, f := range scalars(e) {
			out = append(out, scalarSlot(f))
		}
	}
	if e.Kind == model.KindNeed { // whose by is a date
		return out
	}
	return append(out, noteSlot("by", "by", e.By))
}

// onField is the field of the day an entry is about.
const onField = "on"

func dateSlot(e *model.Entry, today model.Date) slot {
	return slot{
		form.Field{Name: onField, Label: "on", Value: e.On.String(), Cells: 12, Hint: "2026-03-31, yesterday, 3d, monday, 3 mar"},
		func(s string) (any, error) {
			w, err := parse.Date(s, today)
			return w.On, err
		},
	}
}

func untilSlot(until, on model.Date) slot {
	return slot{
		form.Field{Name: "until", Label: "until", Value: until.String(), Cells: 12, Hint: "a date after " + on.String()},
		func(s string) (any, error) { return parse.Until(s, on) },
	}
}

// noteSlot is free text; without any the field is taken out.
func noteSlot(name, label, value string) slot {
	return slot{
		form.Field{Name: name, Label: label, Value: value, Limit: model.MaxNoteLen, Cells: 48},
		optional(func(s string) (any, error) { return s, nil }),
	}
}

// optional reads a field that is taken out where nothing is typed.
func optional(read func(string) (any, error)) func(string) (any, error) {
	return func(s string) (any, error) {
		if strings.TrimSpace(s) == "" {
			return nil, nil
		}
		return read(s)
	}
}

func minutesSlot(name, label string, v *int) slot {
	value := ""
	if v != nil {
		value = strconv.Itoa(*v)
	}
	return slot{
		form.Field{Name: name, Label: label, Value: value, Cells: 6, Hint: "whole minutes, or empty"},
		optional(func(s string) (any, error) {
			n, err := strconv.Atoi(strings.TrimSpace(s))
			if err != nil || n < 0 {
				return nil, fmt.Errorf("%q is not a number of minutes; give a whole number such as 20", s)
			}
			return n, nil
		}),
	}
}

// numberSlot is a figure read and written in the keeper's units.
func numberSlot(name, label string, v *float64, read func(string) (float64, error), show func(float64) string, unit string) slot {
	value := ""
	if v != nil {
		value = show(*v)
	}
	return slot{
		form.Field{Name: name, Label: label, Value: value, Cells: 12, Hint: unit},
		optional(func(s string) (any, error) { return read(s) }),
	}
}

// unitSlot is a figure in a unit that is shown as the book's units have it.
func unitSlot(name, label string, v *float64, unit string, u model.Units, read func(string) (float64, error)) slot {
	show := func(v float64) string { return parse.Figure(v, unit, u) }
	return numberSlot(name, label, v, read, show, parse.UnitName(parse.Unit(unit, u)))
}

// litresSlot is an amount of water.
func litresSlot(name, label string, v *float64, u model.Units) slot {
	return unitSlot(name, label, v, "L", u, func(s string) (float64, error) { return parse.Amount(s, "L", u) })
}

// plainSlot is a figure in the unit the book keeps.
func plainSlot(name, label string, v *float64, hint string) slot {
	return numberSlot(name, label, v, parse.Plain, parse.Number, hint)
}

// usesSlot is what was taken off the shelf; without any the field is taken out.
func usesSlot(b *ledger.Book, uses []model.SpareUse) slot {
	return slot{
		form.Field{Name: "uses", Label: "took", Value: parse.UsesText(b, uses), Cells: 40, Hint: "off the shelf: 1 fan; 0.6 L resin"},
		func(s string) (any, error) {
			out, err := parse.Uses(b, s)
			if err != nil || len(out) == 0 {
				return nil, err
			}
			return out, nil
		},
	}
}

func foundSlot(words []parse.Word, found model.Found) slot {
	field := form.Field{Name: "found", Label: "found", Value: string(found)}
	for _, w := range words {
		field.Options = append(field.Options, form.Option{Letter: []rune(w.Letter)[0], Value: string(w.Found), Label: w.Text})
	}
	field.Options = append(field.Options, form.Option{Letter: 'n', Value: "", Label: "not said"})
	return slot{field, orNone}
}

// orNone takes a field out when nothing is chosen.
func orNone(s string) (any, error) {
	if s == "" {
		return nil, nil
	}
	return s, nil
}

// aboutSlot says whether a date or a figure is a guess.
func aboutSlot(label string, about bool) slot {
	f := form.Field{Name: "about", Label: label, Value: "no", Options: []form.Option{
		{Letter: 'a', Value: "yes", Label: "a guess"}, {Letter: 'k', Value: "no", Label: "known"},
	}}
	if about {
		f.Value = "yes"
	}
	return slot{f, func(s string) (any, error) {
		if s == "yes" {
			return true, nil
		}
		return nil, nil
	}}
}

func flagSlots(w model.Flag) []slot {
	cause := form.Field{Name: "cause", Label: "cause", Value: string(w.Cause), Options: []form.Option{{Value: "", Label: "none"}}}
	for _, c := range model.Causes {
		cause.Options = append(cause.Options, form.Option{Value: string(c), Label: request.CauseText(c)})
	}
	out := []slot{{cause, orNone}, noteSlot("note", "idea", w.Note)}
	if w.State != model.FlagRebuilt {
		return out
	}
	var reach *int
	if w.Reach != 0 {
		reach = &w.Reach
	}
	grade, access := minutesSlot("reach", "new reach", reach), minutesSlot("access_minutes", "to get at it", w.AccessMinutes)
	grade.Hint, access.Hint = "1 to 5", "minutes"
	return append(out, grade, access)
}

// vesselSlot offers the vessels of a book, and none.
func vesselSlot(b *ledger.Book, name, label string, chosen model.ID) slot {
	f := form.Field{Name: name, Label: label, Value: string(chosen), Options: []form.Option{{Value: "", Label: "none"}}}
	for _, v := range b.Vessels() {
		if v.Retired.IsZero() || v.ID == chosen {
			f.Options = append(f.Options, form.Option{Value: string(v.ID), Label: v.Name})
		}
	}
	return slot{f, orNone}
}

func purposeSlot(p model.Purpose) slot {
	f := form.Field{Name: "for", Label: "for", Value: string(p)}
	for _, p := range model.Purposes {
		f.Options = append(f.Options, form.Option{Value: string(p), Label: request.PurposeText(p)})
	}
	return slot{f, orNone}
}

// bySlot is the date by which water is wanted.
func bySlot(by, on model.Date) slot {
	return slot{
		form.Field{Name: "by", Label: "by", Value: by.String(), Cells: 12, Hint: "a date from " + on.String() + " on"},
		func(s string) (any, error) { return parse.By(s, on) },
	}
}

// scalarSlot is a field of a definition, of the kind it has.
func scalarSlot(f scalar) slot {
	label := strings.ReplaceAll(f.name, "_", " ")
	return slot{
		form.Field{Name: f.name, Label: label, Value: f.text(), Limit: model.MaxNameLen},
		func(s string) (any, error) {
			v, ok := f.like(s)
			if !ok {
				return nil, fmt.Errorf("%s: %q is not accepted; give a value like %s", label, s, f.text())
			}
			return v, nil
		},
	}
}

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
		out = append(out, numberSlot(name, name, v, func(s string) (float64, error) { return parse.Usage(s, c, u) },
			func(v float64) string { return parse.Figure(v, c.Unit, u) }, parse.UnitName(parse.Unit(c.Unit, u))))
	case model.Reading:
		g, _ := b.Gauge(w.Gauge)
		out = append(out, numberSlot("value", "value", &w.Value, func(s string) (float64, error) { return parse.Value(s, g, u) },
			func(v float64) string { return parse.Figure(v, g.Unit, u) }, parse.UnitName(parse.Unit(g.Unit, u))),
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
			plainSlot("salinity", "salinity", w.Salinity, "practical, as measured"), numberSlot("temperature_c", "temperature", w.TemperatureC, func(s string) (float64, error) { return parse.Value(s, model.Gauge{Unit: "C"}, u) },
				func(v float64) string { return parse.Figure(v, "C", u) }, parse.UnitName(parse.Unit("C", u))),
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
		func(s string) (any, error) {
			if strings.TrimSpace(s) == "" {
				return nil, nil
			}
			return s, nil
		},
	}
}

func minutesSlot(name, label string, v *int) slot {
	value := ""
	if v != nil {
		value = strconv.Itoa(*v)
	}
	return slot{
		form.Field{Name: name, Label: label, Value: value, Cells: 6, Hint: "whole minutes, or empty"},
		func(s string) (any, error) {
			if strings.TrimSpace(s) == "" {
				return nil, nil
			}
			n, err := strconv.Atoi(strings.TrimSpace(s))
			if err != nil || n < 0 {
				return nil, fmt.Errorf("%q is not a number of minutes; give a whole number such as 20", s)
			}
			return n, nil
		},
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
		func(s string) (any, error) {
			if strings.TrimSpace(s) == "" {
				return nil, nil
			}
			return read(s)
		},
	}
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

func yesNo(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// choiceSlot offers values in pairs of value and label.
func choiceSlot(name, label, value string, means map[string]any, pairs ...string) slot {
	field := form.Field{Name: name, Label: label, Value: value}
	for i := 0; i < len(pairs); i += 2 {
		field.Options = append(field.Options, form.Option{Letter: []rune(pairs[i+1])[0], Value: pairs[i], Label: pairs[i+1]})
	}
	return slot{field, func(s string) (any, error) { return means[s], nil }}
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

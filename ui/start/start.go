// Package start puts the questions of a new book: its name, its units and what it
// looks after; then when each chore was last done, as far as anybody knows. Everything
// but the name may be skipped, and nothing is written before the last enter.
package start

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/starter"
	"brine/wrasse/model/station"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// The fields of the questions.
const (
	fieldName     = "name"
	fieldVolume   = "volume"
	fieldWarmth   = "temperature"
	fieldPressure = "pressure"
	fieldLook     = "demo"
	fieldLitres   = "litres"
	fieldWaste    = "waste"
	fieldTap      = "tap"
	fieldAlk      = "alkalinity"
	fieldPH       = "pH"
)

const (
	yes, no = "yes", "no"
	nameLen = 200
)

// setLabels are the starter sets as they are asked about, in the order of their names.
var setLabels = map[string]string{"ro-di": "RO/DI unit", "mixing": "mixing station", "display": "display tank"}

// New is the first sheet of questions. def fills in what is already known, from a
// configuration; demo goes over to the demo book instead.
func New(d *session.Session, def model.BookDef, demo func() tea.Cmd) *ui.FormSheet {
	if def.Units == (model.Units{}) {
		def.Units = model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}
	}
	fields := []form.Field{
		{Name: fieldName, Label: "name of the book", Value: def.Name, Limit: nameLen, Hint: "such as Home reef"},
		choice(fieldVolume, "volumes in", def.Units.Volume, 'l', "L", "L", 'g', "gal", "gal"),
		choice(fieldWarmth, "temperatures in", def.Units.Temperature, 'c', "C", "°C", 'f', "F", "°F"),
		choice(fieldPressure, "pressures in", def.Units.Pressure, 'b', "bar", "bar", 'p', "psi", "psi"),
	}
	for _, name := range starter.Names() {
		fields = append(fields, choice(name, setLabels[name], yes, 'y', yes, "yes", 'n', no, "no"))
	}
	fields = append(fields, choice(fieldLook, "begin with", no, 'o', no, "my own book", 'd', yes, "the demo, to look around"))
	return ui.NewFormSheet(d.Root, form.Spec{
		Title:    "A new book",
		Fields:   fields,
		Problems: problems,
		Notes: func(v form.Values) []string {
			return []string{sets(v) + " tab goes on, a letter or space chooses, enter is done."}
		},
	}, func(v form.Values) ui.Job {
		return ui.Job{Op: "beginning the book", Run: func() error { return nil }, Done: func(error) tea.Cmd {
			if v[fieldLook] == yes {
				return demo()
			}
			return second(d, def, v)
		}}
	})
}

// choice is a field with two answers.
func choice(name, label, value string, l1 rune, v1, say1 string, l2 rune, v2, say2 string) form.Field {
	return form.Field{Name: name, Label: label, Value: value, Options: []form.Option{
		{Letter: l1, Value: v1, Label: say1}, {Letter: l2, Value: v2, Label: say2},
	}}
}

func problems(v form.Values) map[string]string {
	if v[fieldLook] == no && strings.TrimSpace(v[fieldName]) == "" {
		return map[string]string{fieldName: "a book has a name; give one, such as Home reef"}
	}
	return nil
}

// sets says how much the chosen sets bring.
func sets(v form.Values) string {
	n := 0
	for _, e := range definitions(v) {
		if e.Kind == model.KindChore {
			n++
		}
	}
	if n == 0 {
		return "No chores to begin with: they are added in Gear."
	}
	return fmt.Sprintf("%d chores to begin with, all of them yours to change.", n)
}

// definitions are those of the chosen sets.
func definitions(v form.Values) []model.Entry {
	var all [][]model.Entry
	for _, name := range starter.Names() {
		if v[name] != yes {
			continue
		}
		if set, err := starter.Set(name); err == nil { // the sets are part of the program
			all = append(all, set)
		}
	}
	return starter.Combine(all...)
}

// second asks when the chores were last done, and how much water is made.
func second(d *session.Session, def model.BookDef, first form.Values) tea.Cmd {
	b := &beginning{session: d, def: def, first: first, definitions: definitions(first)}
	fields := b.fields()
	if len(fields) == 0 {
		return d.Root.Write(b.save(nil))
	}
	d.Root.Push(ui.NewFormSheet(d.Root, form.Spec{
		Title:    "When last done? Leave empty what you don't know; enter takes them all",
		Fields:   fields,
		Problems: b.problems,
	}, b.save))
	return nil
}

// beginning is a book about to be begun.
type beginning struct {
	session     *session.Session
	def         model.BookDef // what was known before anything was asked
	first       form.Values
	definitions []model.Entry
}

// fields are one for each chore, after those about water where it is made.
func (b *beginning) fields() []form.Field {
	var out []form.Field
	components := map[model.ID]string{}
	for _, e := range b.definitions {
		switch w := e.Body.(type) {
		case model.Counter:
			if w.Role == model.RoleWaterMade {
				out = append(out,
					form.Field{Name: fieldLitres, Label: "water made a week, in " + b.first[fieldVolume], Cells: 16, Limit: 20, Hint: "about; may stay empty"},
					form.Field{Name: fieldWaste, Label: "waste for 1 part of product", Cells: 16, Limit: 10, Hint: "3 or 4, as measured; may stay empty"},
					form.Field{Name: fieldTap, Label: "TDS at the tap, in ppm", Cells: 16, Limit: 10, Hint: "such as 250; may stay empty"},
					form.Field{Name: fieldAlk, Label: "alkalinity of it, in mg/L", Cells: 16, Limit: 10, Hint: "as CaCO3; may stay empty"},
					form.Field{Name: fieldPH, Label: "pH of it", Cells: 16, Limit: 10, Hint: "such as 7.5; may stay empty"})
			}
		case model.Component:
			components[w.ID] = w.Name
		case model.Chore:
			if !slices.ContainsFunc(w.Clocks, func(c model.Clock) bool { return c.Kind.HasLife() }) {
				continue // nothing of it wears: what is left in a vessel says when
			}
			out = append(out, form.Field{Name: choreField(w.ID), Label: components[w.Component] + ": " + w.Name, Cells: 16, Limit: 40,
				Hint: "a date, 3 weeks ago, march"})
		}
	}
	return out
}

// choreField keeps the names of chores apart from the other fields.
func choreField(id model.ID) string { return "chore " + string(id) }

func (b *beginning) problems(v form.Values) map[string]string {
	out := map[string]string{}
	if _, err := b.litres(v); err != nil {
		out[fieldLitres] = err.Error()
	}
	if _, err := ratio(v); err != nil {
		out[fieldWaste] = err.Error()
	}
	for _, q := range ofTheTap {
		if _, err := q.read(v); err != nil {
			out[q.field] = err.Error()
		}
	}
	for name, s := range v {
		if !strings.HasPrefix(name, "chore ") || unknown(s) {
			continue
		}
		w, err := parse.Date(s, b.session.Today())
		switch {
		case err != nil:
			out[name] = err.Error()
		case w.On > b.session.Today():
			out[name] = w.On.String() + " is after today; give when it was done last"
		}
	}
	return out
}

// unknown reports whether an answer is "don't know".
func unknown(s string) bool {
	s = strings.ToLower(strings.TrimSpace(s))
	return s == "" || s == "?" || s == "-" || s == "don't know"
}

// litres is the water made a week, in litres; 0 when that was skipped.
func (b *beginning) litres(v form.Values) (float64, error) {
	if unknown(v[fieldLitres]) {
		return 0, nil
	}
	return parse.Amount(v[fieldLitres], "L", b.units())
}

const mostRatio = 20

// ratio is the waste ratio; 0 when that was skipped. "3:1" and "3" are the same.
func ratio(v form.Values) (float64, error) {
	s := v[fieldWaste]
	if unknown(s) {
		return 0, nil
	}
	n, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(s), ":1"), 64)
	if err != nil || !(n > 0 && n <= mostRatio) {
		return 0, fmt.Errorf("%q: give parts of waste for one of product, such as 3, at most %d", s, mostRatio)
	}
	return n, nil
}

// tapFigure is a figure of the tap that may be known at the start: what the resin is reckoned with before anything is read.
type tapFigure struct {
	field, role string
	least, most float64
	want        string
}

var ofTheTap = []tapFigure{
	{fieldTap, model.RoleTDSTap, 1, 2000, "ppm, such as 250"},
	{fieldAlk, station.RoleTapAlkalinity, 1, 500, "mg/L as CaCO3, such as 150"},
	{fieldPH, station.RoleTapPH, 6, 9, "a pH of 6 to 9, such as 7.5"},
}

// read is the figure as it was typed; 0 when it was skipped.
func (q tapFigure) read(v form.Values) (float64, error) {
	s := strings.TrimSpace(v[q.field])
	if unknown(s) {
		return 0, nil
	}
	n, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil || !(n >= q.least && n <= q.most) {
		return 0, fmt.Errorf("%q: give %s", s, q.want)
	}
	return n, nil
}

func (b *beginning) units() model.Units {
	return model.Units{Volume: b.first[fieldVolume], Temperature: b.first[fieldWarmth], Pressure: b.first[fieldPressure]}
}

// save begins the book.
func (b *beginning) save(v form.Values) ui.Job {
	litres, _ := b.litres(v) // checked as problems
	waste, _ := ratio(v)
	a := request.Start{
		Stamp:       b.session.Stamp(),
		Book:        model.BookDef{Name: strings.TrimSpace(b.first[fieldName]), Units: b.units(), MinuteValue: b.def.MinuteValue},
		Definitions: b.definitions,
		Last:        map[model.ID]request.LastDone{},
		LitresAWeek: litres,
		WasteRatio:  waste,
		Tap:         map[string]float64{},
	}
	for _, q := range ofTheTap {
		if n, _ := q.read(v); n > 0 {
			a.Tap[q.role] = n
		}
	}
	for name, s := range v {
		id, ok := strings.CutPrefix(name, "chore ")
		if w, err := parse.Date(s, b.session.Today()); ok && err == nil {
			a.Last[model.ID(id)] = request.LastDone{On: w.On, About: w.About}
		}
	}
	return b.session.Job("beginning the book", a, func() tea.Cmd {
		b.session.Root.Say(a.Book.Name + " is begun. d ticks off, ? shows the keys")
		return nil
	})
}

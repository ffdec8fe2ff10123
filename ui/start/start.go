// Package start puts the questions of a new book: its name, its units and what it
// looks after; since when that is in use and what water it gets; then, to who wants it,
// when each chore was last done. Everything but the name may be left empty, and nothing
// is written before the last answer.
package start

import (
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/starter"
	"brine/wrasse/model/station"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/prompt"
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
	fieldEach     = "each"
	fieldMore     = "more"
	fieldAmine    = "chloramine"
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
	fields = append(fields, choice(fieldLook, "begin with", no, 'o', no, "my own book", 'd', yes, "the demo"))
	return next(d, form.Spec{
		Title:    "A new book",
		Fields:   fields,
		Problems: problems,
		Notes: func(v form.Values) []string {
			return []string{sets(v) + " A letter or space chooses, enter goes on."}
		},
	}, func(v form.Values) tea.Cmd {
		if v[fieldLook] == yes {
			return demo()
		}
		return second(d, def, v)
	})
}

// sheet is a form in which enter goes to the next question, and the last one takes them all.
func sheet(d *session.Session, spec form.Spec, save func(form.Values) ui.Job) *ui.FormSheet {
	spec.EnterMoves = true
	s := ui.NewFormSheet(d.Root, spec, save)
	s.In = keys.Start
	return s
}

// next is a form that writes nothing and leads to another.
func next(d *session.Session, spec form.Spec, then func(form.Values) tea.Cmd) *ui.FormSheet {
	return sheet(d, spec, func(v form.Values) ui.Job {
		return ui.Job{Op: "beginning the book", Run: func() error { return nil }, Done: func(error) tea.Cmd { return then(v) }}
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
	for _, e := range definitions(v, nil) {
		if e.Kind == model.KindChore {
			n++
		}
	}
	if n == 0 {
		return "No chores to begin with: they are added in Gear."
	}
	return fmt.Sprintf("%d chores to begin with, all of them yours to change.", n)
}

// definitions are those of the chosen sets, each in use since its date.
func definitions(v form.Values, since map[string]parse.When) []model.Entry {
	var all [][]model.Entry
	for _, name := range starter.Names() {
		if v[name] != yes {
			continue
		}
		if set, err := starter.Set(name); err == nil { // the sets are part of the program
			all = append(all, request.InUse(set, since[name]))
		}
	}
	return starter.Combine(all...)
}

// second asks what holds for whole sets: since when each is in use, and about the water.
func second(d *session.Session, def model.BookDef, first form.Values) tea.Cmd {
	b := &beginning{session: d, def: def, first: first}
	fields := b.fields()
	if len(fields) == 0 {
		return d.Root.Write(b.save(nil))
	}
	d.Root.Push(next(d, form.Spec{
		Title:    "What do you know of it? All of it may stay empty",
		Fields:   fields,
		Problems: b.problems,
	}, func(v form.Values) tea.Cmd {
		b.second = v
		if v[fieldMore] == no {
			return b.each()
		}
		d.Root.Push(next(d, form.Spec{Title: "What else is there? Up and enter take all", Fields: prompt.Extras(d.Book)}, func(v form.Values) tea.Cmd {
			b.more = v
			return b.each()
		}))
		return nil
	}))
	return nil
}

// each asks when each chore was last done, if that is wanted, and begins the book.
func (b *beginning) each() tea.Cmd {
	if b.second[fieldEach] == no {
		return b.session.Root.Write(b.save(nil))
	}
	b.session.Root.Push(sheet(b.session, form.Spec{Title: "When last done? Empty is not known. Up and enter take all", Fields: b.chores(), Problems: b.problems}, b.save))
	return nil
}

// definitions are those of the chosen sets, each in use since its date, and of the extras that were ticked.
func (b *beginning) definitions() []model.Entry {
	return starter.Combine(definitions(b.first, b.since()), prompt.Ticked(b.more))
}

// beginning is a book about to be begun.
type beginning struct {
	session             *session.Session
	def                 model.BookDef // what was known before anything was asked
	first, second, more form.Values
}

// fields are about the chosen sets, and about water where it is made.
func (b *beginning) fields() []form.Field {
	var out []form.Field
	for _, name := range starter.Names() {
		if b.first[name] == yes {
			out = append(out, form.Field{Name: sinceField(name), Label: setLabels[name] + " since", Cells: 16, Limit: 40,
				Hint: "in use since: sep 2025, never"})
		}
	}
	chores := false
	for _, e := range definitions(b.first, nil) {
		chores = chores || e.Kind == model.KindChore
		if c, ok := e.Body.(model.Counter); ok && c.Role == model.RoleWaterMade {
			out = append(out,
				form.Field{Name: fieldLitres, Label: "water a week, in " + b.first[fieldVolume], Cells: 16, Limit: 20, Hint: "what the unit makes, about"},
				form.Field{Name: fieldWaste, Label: "waste for 1 of water", Cells: 16, Limit: 10, Hint: "3 or 4, as measured"},
				form.Field{Name: fieldTap, Label: "tap TDS, in ppm", Cells: 16, Limit: 10, Hint: "what is dissolved; such as 250"},
				form.Field{Name: fieldAlk, Label: "tap alkalinity, mg/L", Cells: 16, Limit: 10, Hint: "as CaCO3, such as 150"},
				form.Field{Name: fieldPH, Label: "tap pH", Cells: 16, Limit: 10, Hint: "such as 7.5"})
		}
	}
	if b.first["ro-di"] == yes {
		out = append(out, form.Field{Name: fieldAmine, Label: "tap chloramine", Value: "", Options: []form.Option{
			{Letter: 'd', Value: "", Label: "don't know"}, {Letter: 'y', Value: yes, Label: "yes"}, {Letter: 'n', Value: no, Label: "no"}}})
	}
	if chores {
		out = append(out, choice(fieldMore, "what else there is", no, 'n', no, "nothing", 'l', yes, "a list"))
		out = append(out, choice(fieldEach, "last done, each", no, 'n', no, "not known", 'a', yes, "one by one"))
	}
	return out
}

// chores are a field for each chore that something wears or runs out for.
func (b *beginning) chores() []form.Field {
	var out []form.Field
	components := map[model.ID]string{}
	for _, e := range b.definitions() {
		switch w := e.Body.(type) {
		case model.Component:
			components[w.ID] = w.Name
		case model.Chore:
			if !slices.ContainsFunc(w.Clocks, func(c model.Clock) bool { return c.Kind.HasLife() }) {
				continue // nothing of it wears: what is left in a vessel says when
			}
			out = append(out, form.Field{Name: choreField(w.ID), Label: components[w.Component] + ": " + w.Name, Cells: 16, Limit: 40,
				Hint: "a date, 3 weeks ago, never"})
		}
	}
	return out
}

// sinceField keeps the names of sets apart from the other fields.
func sinceField(set string) string { return "since " + set }

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
	for field := range ofTheTap {
		if _, err := tap(v, field); err != nil {
			out[field] = err.Error()
		}
	}
	for name, s := range v {
		dated := strings.HasPrefix(name, "chore ") || strings.HasPrefix(name, "since ")
		if !dated || unknown(s) || parse.Never(s) {
			continue
		}
		w, err := parse.Date(s, b.session.Today())
		switch {
		case err != nil:
			out[name] = err.Error()
		case w.On > b.session.Today():
			out[name] = w.On.String() + " is after today; give a day that was, or never"
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

// ratio is the waste ratio; 0 when that was skipped.
func ratio(v form.Values) (float64, error) {
	if unknown(v[fieldWaste]) {
		return 0, nil
	}
	return parse.WasteRatio(v[fieldWaste])
}

// ofTheTap is what the resin is reckoned with before anything is read: fields, and the roles of the gauges that read it.
var ofTheTap = map[string]string{fieldTap: model.RoleTDSTap, fieldAlk: station.RoleTapAlkalinity, fieldPH: station.RoleTapPH}

// tap is a figure of the tap; 0 when it was skipped.
func tap(v form.Values, field string) (float64, error) {
	if unknown(v[field]) {
		return 0, nil
	}
	return parse.TapFigures[ofTheTap[field]].Read(v[field])
}

func (b *beginning) units() model.Units {
	return model.Units{Volume: b.first[fieldVolume], Temperature: b.first[fieldWarmth], Pressure: b.first[fieldPressure]}
}

// since are the dates since which the sets are in use, as far as they are known.
func (b *beginning) since() map[string]parse.When {
	out := map[string]parse.When{}
	for _, name := range starter.Names() {
		s := b.second[sinceField(name)]
		if w, err := parse.Date(s, b.session.Today()); err == nil {
			out[name] = w
		} else if parse.Never(s) {
			out[name] = parse.When{On: model.NotInUse}
		}
	}
	return out
}

// save begins the book.
func (b *beginning) save(v form.Values) ui.Job {
	litres, _ := b.litres(b.second) // checked as problems
	waste, _ := ratio(b.second)
	a := request.Start{
		Stamp:       b.session.Stamp(),
		Book:        model.BookDef{Name: strings.TrimSpace(b.first[fieldName]), Units: b.units(), MinuteValue: b.def.MinuteValue},
		Definitions: b.definitions(),
		Chloramine:  b.second[fieldAmine] != no,
		Last:        map[model.ID]request.LastDone{},
		LitresAWeek: litres,
		WasteRatio:  waste,
		Tap:         map[string]float64{},
	}
	for field, role := range ofTheTap {
		if n, _ := tap(b.second, field); n > 0 {
			a.Tap[role] = n
		}
	}
	for name, s := range v {
		id, ok := strings.CutPrefix(name, "chore ")
		if ok && parse.Never(s) {
			a.Last[model.ID(id)] = request.LastDone{Never: true}
		}
		if w, err := parse.Date(s, b.session.Today()); ok && err == nil {
			a.Last[model.ID(id)] = request.LastDone{On: w.On, About: w.About}
		}
	}
	return b.session.Job("beginning the book", a, func() tea.Cmd {
		b.tour(a.Book.Name)
		return nil
	})
}

// tour is what a keeper needs to know first, said once.
func (b *beginning) tour(name string) {
	root := b.session.Root
	root.Push(ui.NewChoice(root, name+" is begun. Five keys for every day", []ui.Answer{
		{Letter: 'd', Label: "ticks off the row", Note: "enter then says: done, nothing to say"},
		{Letter: 'r', Label: "logs what meters show", Note: "u the litres made, l what is in a vessel"},
		{Letter: 'f', Label: "flags what is hard to get at", Note: "reach 1 is open, 5 takes help; a ? is a guess, G grades it"},
		{Letter: 'p', Label: "puts off until a date", Note: "z takes back whatever it was"},
		{Letter: 't', Label: "fills the minutes at hand", Note: "? shows all keys of a view"},
	}, func(int) tea.Cmd { return nil }))
}

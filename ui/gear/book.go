package gear

import (
	"cmp"
	"fmt"
	"math"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/table"

	tea "github.com/charmbracelet/bubbletea"
)

// careOptions are the words for how much a book weighs a spent day.
var careOptions = [][3]string{{"c", string(model.CareCareful), "careful"}, {"u", string(model.CareUsual), "usual"}, {"e", string(model.CareEasy), "easy"}}

// bookForm asks for what holds for the whole book. Units may change at any time: quantities are kept in one unit each.
func (e *editor) bookForm() tea.Cmd {
	def := e.session.Book.Def()
	care := cmp.Or(def.Care, model.CareUsual)
	hours, days, value := parse.Number(def.HoursToRun()), fmt.Sprint(def.DaysToMix()), e.shown(def.MinuteValue, "")
	outlooks := e.outlooks(def)
	e.sheet("The book", []form.Field{nameField(def.Name),
		choice(fieldCare, "care", string(care), careOptions...),
		choice(fieldVolume, "volumes in", def.Units.Volume, [3]string{"l", "L", "L"}, [3]string{"g", "gal", "gal"}),
		choice(fieldWarmth, "temperatures in", def.Units.Temperature, [3]string{"c", "C", "°C"}, [3]string{"f", "F", "°F"}),
		choice(fieldPressure, "pressures in", def.Units.Pressure, [3]string{"b", "bar", "bar"}, [3]string{"p", "psi", "psi"}),
		{Name: fieldHours, Label: "the unit may run", Value: hours, Cells: 6, Hint: "hours a day"},
		{Name: fieldMixing, Label: "a batch needs", Value: days, Cells: 6, Limit: 2, Hint: "days before use"},
		{Name: fieldValue, Label: "a minute is worth", Value: value, Cells: 8, Hint: "in your money; may stay empty"},
		{Name: fieldContact, Label: "a sitter calls", Value: def.Contact, Limit: model.MaxNameLen},
	}, func(r *reader) ui.Job {
		made := def
		made.Name, made.Contact = r.name(fieldName), r.text(fieldContact)
		made.Units = model.Units{Volume: r.text(fieldVolume), Temperature: r.text(fieldWarmth), Pressure: r.text(fieldPressure)}
		if picked := model.Care(r.text(fieldCare)); picked != care {
			made.Care = picked
		}
		if r.text(fieldHours) != hours {
			if made.RunHours = r.number(fieldHours, 0, false); made.RunHours > 24 {
				r.fail(fieldHours, "give hours above 0, at most 24")
			}
		}
		if r.text(fieldMixing) != days {
			n := r.whole(fieldMixing, 0, 14)
			made.MixDays = &n
		}
		if r.text(fieldValue) != value {
			made.MinuteValue = r.number(fieldValue, 0, true)
		}
		return e.session.Job("saving the book", request.Define{Stamp: e.session.Stamp(), Make: func(*ledger.Book) ([]model.Body, error) {
			return []model.Body{made}, nil
		}}, nil)
	}, func(form.Values) []string { return outlooks })
	return nil
}

// outlooks say what each care does to the year ahead, by this book's own figures.
func (e *editor) outlooks(def model.BookDef) []string {
	out := []string{"Care is how much a part that is spent too early weighs against your minutes. The year ahead:"}
	for _, o := range careOptions {
		def.Care = model.Care(o[1])
		b, err := e.session.Book.Append(model.NewEntry(e.session.Today(), def))
		if err != nil {
			return nil
		}
		year := schedule.Make(b, e.session.Today()).Outlook()
		out = append(out, fmt.Sprintf("%s: %.0f h of work, %s spent too early where it costs or harms",
			o[2], float64(year.Minutes)/60, phrase.Count(int(math.Round(year.Harmful)), "part")))
	}
	return out
}

// bookDetail is what holds for the whole book.
func (v *View) bookDetail(d *table.Detail) {
	def := v.session.Book.Def()
	d.Title(def.Name, "e changes it")
	d.Put(nil, v.sayBook())
	if def.Contact != "" {
		d.Say("sitter", "calls "+def.Contact, nil)
	}
}

// sayBook is how the book measures, and how careful it is.
func (v *View) sayBook() string {
	def := v.session.Book.Def()
	care := cmp.Or(def.Care, model.CareUsual)
	return fmt.Sprintf("%s, %s, %s; care %s", parse.UnitName(def.Units.Volume), parse.UnitName(def.Units.Temperature), def.Units.Pressure, care)
}

package water

import (
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/station"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
)

// fieldMeter asks what a conductivity meter shows, fieldChange how much of a tank is changed in a day.
const (
	fieldMeter  = "meter"
	fieldChange = "change"
	fieldNow    = "now"
)

// meterField asks whether a conductivity is as a compensating meter shows it. It matters only for a figure in mS.
func meterField() form.Field {
	return form.Field{Name: fieldMeter, Label: "a meter in mS", Options: []form.Option{
		{Letter: 'c', Value: string(parse.MeterCompensating), Label: "shows it for 25 °C, as nearly all do"},
		{Letter: 'r', Value: string(parse.MeterRaw), Label: "does not compensate"}}}
}

// shift asks for a tank and says how its salinity is brought to another one, by water changes. Nothing is written down.
func (s *Screen) shift() {
	f := &shiftForm{s}
	warm, now := parse.Figure(25, "C", s.units()), ""
	if g, ok := s.session.Book.GaugeByRole(model.RoleSalinity); ok {
		if read := s.session.Book.ReadingsWithin(g.ID, model.Mark{}, model.EndOf(s.session.Today())); len(read) > 0 {
			now = parse.Number(read[len(read)-1].What.Value)
		}
	}
	s.session.Root.Push(ui.NewFormSheet(s.session.Root, form.Spec{
		Title: "A tank with animals: water changes, no dry salt",
		Fields: []form.Field{
			{Name: fieldVolume, Label: "tank", Cells: 12, Limit: 40, Hint: "its real water: less rock and sand, with the sump"},
			{Name: fieldNow, Label: "salinity now", Value: now, Cells: 12, Limit: 40, Hint: "35.1, 53.1mS, 36.5brine, or 1.0264sg taken as " + s.reference().Name},
			{Name: fieldTarget, Label: "target", Value: "35", Cells: 12, Limit: 40, Hint: "35, or 1.0264sg"},
			{Name: fieldWarmth, Label: "temperature", Value: warm, Cells: 12, Limit: 20, Hint: "of the water, in " + parse.UnitName(parse.Unit("C", s.units()))},
			meterField(),
			{Name: fieldChange, Label: "change a day", Cells: 12, Limit: 40, Hint: "left empty it is a tenth of the tank"},
		},
		Problems: f.problems, Queries: f.queries, Notes: f.notes,
	}, func(form.Values) ui.Job {
		return ui.Job{Op: "closing the plan", Run: func() error { return nil }}
	}))
}

// shiftForm is a tank being typed.
type shiftForm struct{ *Screen }

// plan is the shift as typed so far, and what is wrong with it by field.
func (f *shiftForm) plan(v form.Values) (station.Shift, map[string]string) {
	wrong := map[string]string{}
	note := func(field string, err error) {
		if err != nil && wrong[field] == "" {
			wrong[field] = err.Error()
		}
	}
	volume, err := parse.Amount(v[fieldVolume], "L", f.units())
	note(fieldVolume, err)
	warm, err := f.warmth(v[fieldWarmth])
	note(fieldWarmth, err)
	now, err := f.salinity(v[fieldNow], warm, v[fieldMeter])
	note(fieldNow, err)
	target, err := f.salinity(v[fieldTarget], warm, v[fieldMeter])
	note(fieldTarget, err)
	change := 0.0
	if strings.TrimSpace(v[fieldChange]) != "" {
		change, err = parse.Amount(v[fieldChange], "L", f.units())
		note(fieldChange, err)
	}
	if len(wrong) > 0 {
		return station.Shift{}, wrong
	}
	s, err := station.PlanShift(volume, change, warm, now.Practical, target.Practical, station.StrengthOf(f.session.Book, f.session.Today()))
	note(fieldChange, err)
	return s, wrong
}

func (f *shiftForm) problems(v form.Values) map[string]string {
	_, wrong := f.plan(v)
	return wrong
}

func (f *shiftForm) queries(v form.Values) map[string]string {
	if s, wrong := f.plan(v); len(wrong) == 0 {
		return map[string]string{fieldTarget: phrase.OddTarget(s.Target)}
	}
	return nil
}

func (f *shiftForm) notes(v form.Values) []string {
	s, wrong := f.plan(v)
	if len(wrong) > 0 {
		return []string{phrase.Checked(f.session.Book, f.session.Today())}
	}
	out := append(phrase.Shift(f.session.Book, s), phrase.Checked(f.session.Book, f.session.Today()))
	if s.Needed() {
		out = append(out, phrase.MixCautions(f.session.Book, s.ChangeL, true)...)
	}
	return out
}

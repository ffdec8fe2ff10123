package water

import (
	"fmt"
	"math"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	physics "brine/wrasse/model/water"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"

	tea "github.com/charmbracelet/bubbletea"
)

// mixing is what the window remembers of batches: what each was meant to be. The book
// keeps only what they became.
type mixing struct{ targets map[model.Seq]float64 }

const (
	usualTarget = 35
	// followedDays is how long a batch that was not measured is asked about, and
	// correctedDays one that was measured and is off: by then it is in the tank. Common
	// practice, no source.
	followedDays  = 14
	correctedDays = 1
)

// target is what a batch was meant to be, as far as this window knows.
func (m *mixing) target(batch model.Seq) float64 {
	if t, ok := m.targets[batch]; ok {
		return t
	}
	return usualTarget
}

func (m *mixing) aim(batch model.Seq, target float64) {
	if m.targets == nil {
		m.targets = map[model.Seq]float64{}
	}
	m.targets[batch] = target
}

// tankAnswer is that the tank is to be corrected, and not a vat: no dry salt goes there.
var tankAnswer = ui.Answer{Letter: 't', Label: "correct a tank with animals", Note: "by water changes, no dry salt"}

// mix asks whether it is about the vat or a tank with animals; about the vat, to follow the latest batch while it is open,
// or to mix a new one.
func (s *Screen) mix() {
	newOnly := func() {
		s.choose("Mix salt water", []ui.Answer{{Letter: 'n', Label: "a batch in the vat"}, tankAnswer}, s.mixNew, s.shift)
	}
	last, ok := s.latestBatch()
	if !ok || s.session.Today().Sub(last.On) > followedDays {
		newOnly()
		return
	}
	b := s.session.Book
	what := fmt.Sprintf("the batch of %s, %s with %s of salt", phrase.Day(last.On, s.session.Today()), phrase.Amount(b, last.What.VolumeL, "L"), phrase.Mass(b, last.What.SaltG))
	if last.What.Salinity == nil {
		s.choose(what+", is not measured yet", []ui.Answer{
			{Letter: 'm', Label: "measure it", Note: "once it has mixed an hour"},
			{Letter: 'n', Label: "mix a new one"}, tankAnswer,
		}, func() { s.measure(last) }, s.mixNew, s.shift)
		return
	}
	c, err := station.CorrectBatch(last.What, s.mixing.target(last.Seq), station.StrengthOf(b, s.session.Today()))
	if err != nil || !c.Needed() || s.session.Today().Sub(last.On) > correctedDays {
		newOnly()
		return
	}
	s.choose(what, []ui.Answer{
		{Letter: 'c', Label: "correct it", Note: phrase.Off(c)},
		{Letter: 'm', Label: "measure it again"},
		{Letter: 'n', Label: "mix a new one"}, tankAnswer,
	}, func() { s.correct(last.Seq) }, func() { s.measure(last) }, s.mixNew, s.shift)
}

// choose asks a question and does what belongs to the answer.
func (s *Screen) choose(title string, answers []ui.Answer, then ...func()) {
	s.session.Root.Push(ui.NewChoice(s.session.Root, title, answers, func(i int) tea.Cmd {
		then[i]()
		return nil
	}))
}

// latestBatch is the last batch up to today.
func (s *Screen) latestBatch() (ledger.Logged[model.Batch], bool) {
	return request.LatestBatch(s.session.Book, s.session.Today())
}

// Fields of the forms.
const (
	fieldVolume   = "volume"
	fieldMeant    = "meant"
	fieldTarget   = "target"
	fieldWarmth   = "temperature"
	fieldSalt     = "salt"
	fieldDate     = "date"
	fieldSalinity = "salinity"
	fieldMixed    = "mixed"
	fieldAdded    = "added"
)

// made is the answer that a volume is that of the finished salt water.
const made = "made"

// mixNew asks for a batch and says what to weigh out while it is typed.
func (s *Screen) mixNew() {
	f := &mixForm{s}
	volume, warm := "", parse.Figure(25, "C", s.units())
	if last, ok := s.latestBatch(); ok {
		volume = parse.Figure(last.What.VolumeL, "L", s.units())
		if t := last.What.TemperatureC; t != nil {
			warm = parse.Figure(*t, "C", s.units())
		}
	}
	s.session.Root.Push(ui.NewFormSheet(s.session.Root, form.Spec{
		Title: "Mix a batch: water first, then salt",
		Fields: []form.Field{
			{Name: fieldVolume, Label: "volume", Value: volume, Cells: 12, Limit: 40, Hint: "such as 120, 120 L, 30 gal, 60+60"},
			{Name: fieldMeant, Label: "that is", Options: []form.Option{
				{Letter: 'f', Value: "", Label: "fresh water"}, {Letter: 's', Value: made, Label: "salt water made"}}},
			{Name: fieldTarget, Label: "target", Value: "35", Cells: 12, Limit: 40, Hint: "35, or 1.0264sg taken as " + s.reference().Name},
			{Name: fieldWarmth, Label: "temperature", Value: warm, Cells: 12, Limit: 20, Hint: "of the water, in " + parse.UnitName(parse.Unit("C", s.units()))},
			{Name: fieldSalt, Label: "salt put in", Cells: 12, Limit: 40, Hint: "grams, or 2 lb; left empty it is the first dose"},
			{Name: fieldDate, Label: "on", Value: "today", Cells: 12, Limit: 40, Hint: "a date, yesterday, 3d, monday"},
		},
		Problems: f.problems, Queries: f.queries, Notes: f.notes,
	}, f.save))
}

func (s *Screen) units() model.Units { return s.session.Book.Def().Units }

// reference is that of the instrument in the book, 25/25 where none is named.
func (s *Screen) reference() physics.Reference {
	scale, _, _ := station.SaltScale(s.session.Book)
	return scale.Reference
}

// warmth reads a temperature, in degC.
func (s *Screen) warmth(v string) (float64, error) {
	c, err := parse.Value(v, model.Gauge{Unit: "C"}, s.units())
	if err == nil && (c < 0 || c > 40) {
		err = fmt.Errorf("%s: too cold or too warm to mix; give %s to %s", strings.TrimSpace(v), parse.Quantity(0, "C", s.units()), parse.Quantity(40, "C", s.units()))
	}
	return c, err
}

// salinity reads a salinity, in the sample's own warmth. A conductivity is as the meter shows it.
func (s *Screen) salinity(v string, warm float64, meter string) (parse.Scaled, error) {
	return parse.Salinity(v, parse.Sample{WaterC: warm, Reference: s.reference(), Meter: parse.Meter(meter), Units: s.units()})
}

// mixForm is a batch being typed.
type mixForm struct{ *Screen }

// plan is the batch as typed so far, and what is wrong with it by field.
func (f *mixForm) plan(v form.Values) (station.Mix, map[string]string) {
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
	target, err := f.salinity(v[fieldTarget], warm, string(parse.MeterCompensating))
	note(fieldTarget, err)
	if len(wrong) > 0 {
		return station.Mix{}, wrong
	}
	plan := station.Plan
	if v[fieldMeant] == made {
		plan = station.PlanFinal
	}
	m, err := plan(volume, warm, target.Practical, station.StrengthOf(f.session.Book, f.session.Today()))
	if err != nil {
		field := fieldVolume
		if volume > 0 {
			field = fieldTarget
		}
		note(field, err)
	}
	return m, wrong
}

// salt is what goes into the vat: the first dose unless another mass was typed.
func (f *mixForm) salt(v form.Values, m station.Mix) (float64, error) {
	if strings.TrimSpace(v[fieldSalt]) == "" {
		return math.Round(m.FirstG), nil
	}
	return parse.Amount(v[fieldSalt], "g", f.units())
}

func (f *mixForm) problems(v form.Values) map[string]string {
	m, wrong := f.plan(v)
	if _, err := f.salt(v, m); err != nil {
		wrong[fieldSalt] = err.Error()
	}
	if _, err := parse.Date(v[fieldDate], f.session.Today()); err != nil {
		wrong[fieldDate] = err.Error()
	}
	return wrong
}

// queries asks about salt far from what the plan says, and a date to come.
func (f *mixForm) queries(v form.Values) map[string]string {
	out := map[string]string{}
	if w, err := parse.Date(v[fieldDate], f.session.Today()); err == nil {
		out[fieldDate] = parse.OddDate(w.On, f.session.Today())
	}
	m, wrong := f.plan(v)
	if g, err := f.salt(v, m); err == nil && len(wrong) == 0 {
		out[fieldSalt] = phrase.OddSalt(f.session.Book, g, m)
	}
	if len(wrong) == 0 {
		out[fieldTarget] = phrase.OddTarget(m.Target)
	}
	return out
}

func (f *mixForm) notes(v form.Values) []string {
	m, wrong := f.plan(v)
	if len(wrong) > 0 {
		return nil
	}
	return append(phrase.Mix(f.session.Book, m), phrase.MixCautions(f.session.Book, m.FinalL, true)...)
}

func (f *mixForm) save(v form.Values) ui.Job {
	m, _ := f.plan(v)
	grams, _ := f.salt(v, m)
	w, _ := parse.Date(v[fieldDate], f.session.Today()) // each checked as a problem
	warm := m.WaterC
	batch := model.Batch{VolumeL: m.FreshL, SaltG: grams, TemperatureC: &warm}
	return f.session.Job("logging the batch", request.Mix{Stamp: request.Stamp{On: w.On, By: f.session.By}, Batch: batch}, func() tea.Cmd {
		if last, ok := f.latestBatch(); ok {
			f.mixing.aim(last.Seq, m.Target)
		}
		return nil
	})
}

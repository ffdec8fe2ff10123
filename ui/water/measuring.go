package water

import (
	"fmt"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"

	tea "github.com/charmbracelet/bubbletea"
)

// anHour is the answer that a batch has mixed for an hour.
const anHour = "yes"

// measure asks what a batch was measured at.
func (s *Screen) measure(batch ledger.Logged[model.Batch]) {
	f := &measureForm{s, batch}
	warm := 25.0
	if t := batch.What.TemperatureC; t != nil {
		warm = *t
	}
	s.session.Root.Push(ui.NewFormSheet(s.session.Root, form.Spec{
		Title: "Measure the batch of " + phrase.Day(batch.On, s.session.Today()),
		Fields: []form.Field{
			{Name: fieldMixed, Label: "mixed an hour", Options: []form.Option{
				{Letter: 'n', Value: "", Label: "not yet"}, {Letter: 'y', Value: anHour, Label: "yes"}}},
			{Name: fieldSalinity, Label: "salinity", Cells: 12, Limit: 40, Hint: "35.1, 53.1mS, 36.5brine, or 1.0264sg taken as " + s.reference().Name},
			{Name: fieldWarmth, Label: "temperature", Value: parse.Figure(warm, "C", s.units()), Cells: 12, Limit: 20, Hint: "of the vat, in " + parse.UnitName(parse.Unit("C", s.units()))},
			meterField(),
			{Name: fieldTarget, Label: "meant to be", Value: parse.Number(s.mixing.target(batch.Seq)), Cells: 12, Limit: 40, Hint: "35, or 1.0264sg"},
		},
		Problems: f.problems, Queries: f.queries, Notes: f.notes,
	}, f.save))
}

// measureForm is a measurement being typed.
type measureForm struct {
	*Screen
	batch ledger.Logged[model.Batch]
}

// measured is what was typed so far.
type measured struct{ now, target, warm float64 }

func (f *measureForm) read(v form.Values) (measured, map[string]string) {
	wrong := map[string]string{}
	var m measured
	var err error
	if m.warm, err = f.warmth(v[fieldWarmth]); err != nil {
		wrong[fieldWarmth] = err.Error()
	}
	now, err := f.salinity(v[fieldSalinity], m.warm, v[fieldMeter])
	if err != nil {
		wrong[fieldSalinity] = err.Error()
	}
	target, err := f.salinity(v[fieldTarget], m.warm, v[fieldMeter])
	if err != nil {
		wrong[fieldTarget] = err.Error()
	}
	m.now, m.target = now.Practical, target.Practical
	return m, wrong
}

// as is the batch as it would read with the measurement.
func (f *measureForm) as(m measured) model.Batch {
	b := f.batch.What
	b.Salinity, b.TemperatureC = &m.now, &m.warm
	return b
}

func (f *measureForm) problems(v form.Values) map[string]string {
	_, wrong := f.read(v)
	return wrong
}

func (f *measureForm) queries(v form.Values) map[string]string {
	out := map[string]string{}
	if v[fieldMixed] != anHour {
		out[fieldMixed] = "grains that have not dissolved read low: let it mix an hour, then measure"
	}
	m, wrong := f.read(v)
	if len(wrong) > 0 {
		return out
	}
	if _, ok := station.BatchStrength(f.as(m)); !ok {
		out[fieldSalinity] = fmt.Sprintf("no dry mix makes that of %s in %s: look at the volume, the salt and the reading",
			phrase.Mass(f.session.Book, f.batch.What.SaltG), phrase.Amount(f.session.Book, f.batch.What.VolumeL, "L"))
	}
	return out
}

func (f *measureForm) notes(v form.Values) []string {
	out := []string{phrase.Checked(f.session.Book, f.session.Today())}
	m, wrong := f.read(v)
	if len(wrong) > 0 {
		return out
	}
	out = append(out, "that is "+phrase.Salt(m.now))
	if own, ok := station.BatchStrength(f.as(m)); ok {
		out = append(out, phrase.StrengthFrom(station.Strength{Fraction: own, Low: own, High: own, Batches: 1}))
	}
	if c, err := station.CorrectBatch(f.as(m), m.target, station.StrengthOf(f.session.Book, f.session.Today())); err == nil {
		out = append(out, phrase.Correction(f.session.Book, c))
	}
	return out
}

func (f *measureForm) save(v form.Values) ui.Job {
	m, _ := f.read(v) // checked as problems
	measure := request.Measure{Stamp: f.session.Stamp(), Batch: f.batch.Seq, Salinity: round(m.now), TemperatureC: &m.warm}
	return f.session.Job("logging the measurement", measure, func() tea.Cmd {
		f.mixing.aim(f.batch.Seq, m.target)
		f.correct(f.batch.Seq)
		return nil
	})
}

// round keeps three decimals: no instrument shows more.
func round(v float64) float64 { return float64(int(v*1000+0.5)) / 1000 }

// correct offers what a measured batch wants, if it wants anything.
func (s *Screen) correct(seq model.Seq) {
	b := s.session.Book
	all := b.Batches()
	i := slices.IndexFunc(all, func(l ledger.Logged[model.Batch]) bool { return l.Seq == seq })
	if i < 0 || all[i].What.Salinity == nil {
		return
	}
	c, err := station.CorrectBatch(all[i].What, s.mixing.target(seq), station.StrengthOf(b, s.session.Today()))
	if err != nil || !c.Needed() {
		return
	}
	if c.SaltG > 0 {
		s.offer(seq, c, dose{phrase.Mass(b, c.SaltG) + " of salt added, slowly, pump running", request.Correct{SaltG: float64(int(c.SaltG + 0.5))}, 'a'})
		return
	}
	s.offer(seq, c,
		dose{phrase.Amount(b, c.FreshL, "L") + " of fresh water added", request.Correct{FreshL: round(c.FreshL)}, 'a'},
		dose{phrase.Amount(b, c.SwapL, "L") + " of it swapped for fresh water", request.Correct{SwapL: round(c.SwapL)}, 's'})
}

// dose is a way to correct a batch, as it is said and as it is written.
type dose struct {
	label  string
	act    request.Correct
	letter rune
}

// offer asks which of the doses went in.
func (s *Screen) offer(seq model.Seq, c station.Correction, doses ...dose) {
	var answers []ui.Answer
	for i, d := range doses {
		a := ui.Answer{Letter: d.letter, Label: d.label}
		if i == 0 {
			a.Note = "m measures again after an hour"
		}
		answers = append(answers, a)
	}
	answers = append(answers, ui.Answer{Letter: 'o', Label: "another amount"}, ui.Answer{Letter: 'l', Label: "leave it as it is"})
	s.session.Root.Push(ui.NewChoice(s.session.Root, phrase.Off(c), answers, func(i int) tea.Cmd {
		switch {
		case i < len(doses):
			d := doses[i].act
			d.Stamp, d.Batch = s.session.Stamp(), seq
			return s.session.Do("correcting the batch", d)
		case i == len(doses):
			s.added(seq, c)
		}
		return nil
	}))
}

// swapped is the answer that water was taken out for the fresh.
const swapped = "swapped"

// added asks how much was added to a batch.
func (s *Screen) added(seq model.Seq, c station.Correction) {
	unit := "g"
	fields := []form.Field{{Name: fieldAdded, Label: "salt added", Cells: 12, Limit: 40, Hint: "grams, or 0.2 kg, 8 oz"}}
	if c.SaltG == 0 {
		unit = "L"
		fields = []form.Field{
			{Name: fieldAdded, Label: "fresh water", Cells: 12, Limit: 40, Hint: "in " + parse.Unit("L", s.units())},
			{Name: fieldMeant, Label: "that was", Options: []form.Option{
				{Letter: 'a', Value: "", Label: "added"}, {Letter: 's', Value: swapped, Label: "swapped for as much of it"}}},
		}
	}
	read := func(v form.Values) (request.Correct, error) {
		out := request.Correct{Stamp: s.session.Stamp(), Batch: seq}
		n, err := parse.Amount(v[fieldAdded], unit, s.units())
		if err == nil && n == 0 {
			err = fmt.Errorf("0 is nothing; esc leaves the batch as it is")
		}
		switch {
		case err == nil && v[fieldMeant] == swapped && n >= c.VolumeL:
			err = fmt.Errorf("%s is all there is of it; give less", phrase.Amount(s.session.Book, n, "L"))
		case unit == "g":
			out.SaltG = n
		case v[fieldMeant] == swapped:
			out.SwapL = n
		default:
			out.FreshL = n
		}
		return out, err
	}
	s.session.Root.Push(ui.NewFormSheet(s.session.Root, form.Spec{
		Title:  phrase.Off(c),
		Fields: fields,
		Notes:  func(form.Values) []string { return []string{phrase.Dose(s.session.Book, c)} },
		Problems: func(v form.Values) map[string]string {
			if _, err := read(v); err != nil {
				return map[string]string{fieldAdded: err.Error()}
			}
			return nil
		},
	}, func(v form.Values) ui.Job {
		a, _ := read(v) // checked as a problem
		return s.session.Job("correcting the batch", a, nil)
	}))
}

package gear

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/request"

	tea "github.com/charmbracelet/bubbletea"
)

// change is a job that changes a chore.
func (d *definition) change(op string, change func(*model.Chore)) ui.Job {
	return d.session.Job(op, request.EditChore(d.session.Stamp(), d.id, change), nil)
}

// step asks for a step, how long it waits, and which one it is.
func (d *definition) step(c model.Chore, at int, s model.Step) tea.Cmd {
	last := max(len(c.Steps), at+1)
	timer := ""
	if s.TimerMinutes > 0 {
		timer = strconv.Itoa(s.TimerMinutes)
	}
	d.sheet(parse.ChoreLabel(d.session.Book, c)+": step", []form.Field{
		{Name: fieldText, Label: "what to do", Value: s.Text, Cells: 56, Limit: model.MaxNoteLen,
			Hint: "{5 L} is shown in the units of the book"},
		{Name: fieldTimer, Label: "minutes to wait", Value: timer, Cells: 6, Limit: 4, Hint: "starts a countdown; may stay empty"},
		{Name: fieldAt, Label: "is step number", Value: strconv.Itoa(at + 1), Cells: 4, Limit: 2},
	}, func(r *reader) ui.Job {
		made, to := model.Step{Text: r.text(fieldText)}, r.whole(fieldAt, 1, last)-1
		if made.Text == "" {
			r.fail(fieldText, "say what to do")
		}
		if r.text(fieldTimer) != "" {
			made.TimerMinutes = r.whole(fieldTimer, 0, 1440)
		}
		return d.change("saving the step", func(c *model.Chore) {
			rest := without(slices.Clone(c.Steps), at)
			c.Steps = slices.Insert(rest, min(to, len(rest)), made)
		})
	}, nil)
	return nil
}

// spare asks for what one tick takes off the shelf.
func (d *definition) spare(c model.Chore, at int, u model.SpareUse) tea.Cmd {
	f := form.Field{Name: fieldSpare, Label: "spare", Value: string(u.Spare)}
	addInUse(&f, d.session.Book.Spares(), func(s model.Spare) (model.ID, string, model.Date) { return s.ID, s.Name, s.Retired })
	if !d.offers(f, "there is no spare yet; 4 goes to the shelf, a adds one") {
		return nil
	}
	old, _ := d.session.Book.Spare(u.Spare)
	shown := d.figure(u.Quantity, old.Unit)
	d.sheet(parse.ChoreLabel(d.session.Book, c)+": spare", []form.Field{f,
		{Name: fieldAmount, Label: "each time", Value: shown, Cells: 10, Hint: "in the spare's unit"},
	}, func(r *reader) ui.Job {
		made := model.SpareUse{Spare: model.ID(r.text(fieldSpare)), Quantity: u.Quantity}
		if s, _ := d.session.Book.Spare(made.Spare); made.Spare != u.Spare || r.text(fieldAmount) != shown {
			made.Quantity = r.amount(fieldAmount, s.Unit)
		}
		measure, _ := d.session.Book.Spare(made.Spare)
		return d.change("saving the spare", func(c *model.Chore) {
			if at < len(c.Spares) && c.Spares[at].Spare == made.Spare {
				c.Clocks = bedOf(c.Clocks, measure.Unit, made.Quantity/c.Spares[at].Quantity)
			}
			c.Spares = with(c.Spares, at, made)
		})
	}, nil)
	return nil
}

// bedOf is the clocks of a chore that uses so many times as much of a spare: a bed of so much more resin takes up so many
// more meq.
func bedOf(clocks []model.Clock, unit string, times float64) []model.Clock {
	out := slices.Clone(clocks)
	for i := range out {
		if out[i].Kind == model.ClockLoad && out[i].Meq && unit != "pc" && unit != "set" {
			out[i].Amount *= times
		}
	}
	return out
}

// reading asks for a gauge whose reading, with the others, ticks the chore.
func (d *definition) reading(c model.Chore, at int, id model.ID) tea.Cmd {
	f, ok := d.gauges(fieldGauge, "gauge", id, false)
	if !ok {
		return nil
	}
	d.sheet(parse.ChoreLabel(d.session.Book, c)+": gauge it logs", []form.Field{f}, func(r *reader) ui.Job {
		g := model.ID(r.text(fieldGauge))
		if g != id && slices.Contains(c.DoneBy, g) {
			r.fail(fieldGauge, "it logs that one already")
		}
		return d.change("saving the gauge", func(c *model.Chore) { c.DoneBy = with(c.DoneBy, at, g) })
	}, nil)
	return nil
}

// nextDay is how long after most jobs a look at them is due.
var nextDay = model.Span{N: 1, Unit: model.SpanDays}

// call asks for a chore that a tick calls for, and how long after.
func (d *definition) call(c model.Chore, at int, call model.Call) tea.Cmd {
	f := form.Field{Name: fieldCalled, Label: "chore", Value: string(call.Chore)}
	for _, other := range d.session.Book.Chores() {
		if other.ID != c.ID && (other.Retired.IsZero() || other.ID == call.Chore) {
			f.Options = append(f.Options, form.Option{Value: string(other.ID), Label: parse.ChoreLabel(d.session.Book, other)})
		}
	}
	if !d.offers(f, "there is no other chore it could call for") {
		return nil
	}
	d.sheet(parse.ChoreLabel(d.session.Book, c)+": follow-up", []form.Field{f,
		{Name: fieldAfter, Label: "within", Value: call.After.String(), Cells: 8, Hint: "of the tick: 1d, 2d, 1w"},
	}, func(r *reader) ui.Job {
		made := model.Call{Chore: model.ID(r.text(fieldCalled)), After: r.span(fieldAfter)}
		if made.Chore != call.Chore && slices.ContainsFunc(c.Then, func(o model.Call) bool { return o.Chore == made.Chore }) {
			r.fail(fieldCalled, "it calls for that one already")
		}
		return d.change("saving the follow-up", func(c *model.Chore) { c.Then = with(c.Then, at, made) })
	}, nil)
	return nil
}

// allHazards are the hazards a chore may name.
var allHazards = []model.Hazard{model.HazardMains, model.HazardAcid, model.HazardCaustic, model.HazardChlorine, model.HazardPressure,
	model.HazardLift, model.HazardGlass, model.HazardCO2, model.HazardOzone, model.HazardUV, model.HazardPalytoxin}

// hazards asks for all hazards of the chore at once.
func (d *definition) hazards(c model.Chore) tea.Cmd {
	read := func(r *reader) (out []model.Hazard) {
		for word := range strings.FieldsSeq(strings.ReplaceAll(strings.ToLower(r.text(fieldHazards)), ",", " ")) {
			h := model.Hazard(word)
			if !slices.Contains(allHazards, h) {
				r.fail(fieldHazards, fmt.Sprintf("%q is not accepted; give some of %s", word, model.Joined(allHazards...)))
			}
			if !slices.Contains(out, h) {
				out = append(out, h)
			}
		}
		return out
	}
	d.sheet(parse.ChoreLabel(d.session.Book, c)+": hazards", []form.Field{
		{Name: fieldHazards, Label: "hazards", Value: model.Joined(c.Hazards...), Cells: 40, Hint: model.Joined(allHazards...)},
	}, func(r *reader) ui.Job {
		made := read(r)
		return d.change("saving the hazards", func(c *model.Chore) { c.Hazards = made })
	}, nil)
	return nil
}

// caution asks for a caution.
func (d *definition) caution(c model.Chore, at int, s string) tea.Cmd {
	d.sheet(parse.ChoreLabel(d.session.Book, c)+": caution", []form.Field{
		{Name: fieldText, Label: "what to mind", Value: s, Cells: 56, Limit: model.MaxNoteLen, Hint: "stands before the steps"},
	}, func(r *reader) ui.Job {
		made := r.text(fieldText)
		if made == "" {
			r.fail(fieldText, "say what to mind")
		}
		return d.change("saving the caution", func(c *model.Chore) { c.Cautions = with(c.Cautions, at, made) })
	}, nil)
	return nil
}

package gear

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/preview"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// foreseen is how many lines a look ahead takes below a form.
const foreseen = 4

// sheet opens a form. save makes the write and notes on its reader what is wrong with
// what was typed: it is called for that at every key.
func (e *editor) sheet(title string, fields []form.Field, save func(*reader) ui.Job, notes func(form.Values) []string) *ui.FormSheet {
	s := ui.NewFormSheet(e.session.Root, form.Spec{
		Title:  title,
		Fields: fields,
		Notes:  notes,
		Problems: func(values form.Values) map[string]string {
			r := e.reader(values)
			save(r)
			return r.problems
		},
	}, func(values form.Values) ui.Job { return save(e.reader(values)) })
	e.session.Root.Push(s)
	return s
}

// ahead opens a form of an act, and looks ahead at what the act does while it is typed.
func (e *editor) ahead(title string, fields []form.Field, op string, request func(*reader) session.Act, done func() tea.Cmd, notes func(*preview.Preview) []string) tea.Cmd {
	look := preview.New(e.session)
	s := e.sheet(title, fields,
		func(r *reader) ui.Job { return e.session.Job(op, request(r), done) },
		func(form.Values) []string { return notes(look) })
	s.Watch = func(values form.Values) tea.Cmd {
		r := e.reader(values)
		a := request(r)
		if len(r.problems) > 0 {
			look.Forget()
			return nil
		}
		return look.Ask(a)
	}
	return s.Watch(s.Form().Values())
}

// moves says what an act would move.
func moves(look *preview.Preview) []string { return look.Lines(foreseen) }

// define is a job that writes a definition. named is its id and its name, of which one that
// is new gets its id.
func define[B model.Body](e *editor, made B, named func(*B) (*model.ID, string)) ui.Job {
	_, name := named(&made)
	return e.session.Job("saving "+name, request.Define{Stamp: e.session.Stamp(), Make: func(b *ledger.Book) ([]model.Body, error) {
		made := made
		if id, name := named(&made); *id == "" {
			*id = request.NewID(b, made.Kind(), name)
		}
		return []model.Body{made}, nil
	}}, e.added)
}

// edit opens the form of a definition.
func (e *editor) edit(k key) tea.Cmd {
	b := e.session.Book
	switch k.kind {
	case model.KindBook:
		return e.bookForm()
	case model.KindPlace:
		p, _ := b.Place(k.id)
		e.place(p)
	case model.KindComponent:
		c, _ := b.Component(k.id)
		return e.component(c)
	case model.KindChore:
		e.openChore(k.id)
	case model.KindVessel:
		v, _ := b.Vessel(k.id)
		e.vessel(v)
	case model.KindCounter:
		c, _ := b.Counter(k.id)
		e.counter(c)
	case model.KindGauge:
		g, _ := b.Gauge(k.id)
		e.gauge(g)
	default:
		e.session.Root.Say("open the branch and go to one of them; a adds one")
	}
	return nil
}

// place asks for a place. One without an id is new, here as in the forms below.
func (e *editor) place(p model.Place) {
	e.sheet(cmp.Or(p.Name, "A new place"),
		[]form.Field{nameField(p.Name), minutesField(fieldMinutes, "minutes to set up", p.Minutes, "to get there with what is needed")},
		func(r *reader) ui.Job {
			made := p
			made.Name, made.Minutes = r.name(fieldName), r.whole(fieldMinutes, 0, 1440)
			made.Guess = stillGuessed(p.Guess, map[string]bool{"minutes": made.Minutes != p.Minutes})
			return define(e, made, func(p *model.Place) (*model.ID, string) { return &p.ID, p.Name })
		}, nil)
}

// service is the date since which a component is in use, as it is typed.
func service(c model.Component) string {
	if c.InService == model.NotInUse {
		return "never"
	}
	if c.ServiceAbout() {
		return "about " + c.InService.String()
	}
	return c.InService.String()
}

// component asks for a component. Of one in the book, a later in-service date is a
// new part of the same kind.
func (e *editor) component(c model.Component) tea.Cmd {
	fields := []form.Field{nameField(c.Name),
		hinted(choice(fieldReach, "reach", strconv.Itoa(c.Reach), reachOptions...), "how hard it is to get at; the harder, the earlier its chores are due"),
		minutesField(fieldAccess, "minutes to get at it", c.AccessMinutes, "before hands reach it; g on its row grades by questions"),
		e.openers(c),
		{Name: fieldService, Label: "in use since", Value: service(c), Cells: 16, Hint: "a later date is a new part: new cycles begin; never is not yet"},
		choice(fieldStage, "stage of the unit", string(c.Stage), [3]string{"n", "", "none"}, [3]string{"s", "sediment", "sediment"},
			[3]string{"c", "carbon", "carbon"}, [3]string{"m", "membrane", "membrane"}, [3]string{"r", "resin", "resin"}),
	}
	if c.Stage == model.StageMembrane {
		fields = append(fields, e.label(c)...)
	}
	read := func(r *reader, c model.Component) model.Component {
		before := c
		c.Name, c.OpensWith, c.Stage = r.name(fieldName), model.ID(r.text(fieldOpens)), model.Stage(r.text(fieldStage))
		c.Reach, _ = strconv.Atoi(r.text(fieldReach)) // one of its options
		c.AccessMinutes = r.whole(fieldAccess, 0, 1440)
		since := parse.When{On: model.NotInUse}
		if !parse.Never(r.text(fieldService)) {
			since = r.date(fieldService)
		}
		if _, asked := r.values[fieldRated]; asked {
			c.Rated = r.rated(c.Rated)
		}
		c.Guess = stillGuessed(c.Guess, map[string]bool{"reach": c.Reach != before.Reach, "access_minutes": c.AccessMinutes != before.AccessMinutes})
		c.Serve(since.On, since.About)
		return c
	}
	if c.ID == "" {
		place, _ := e.session.Book.Place(c.Place)
		e.sheet("A new component, "+place.Name, fields, func(r *reader) ui.Job {
			return define(e, read(r, c), func(c *model.Component) (*model.ID, string) { return &c.ID, c.Name })
		}, nil)
		return nil
	}
	return e.ahead(c.Name, fields, "saving "+c.Name, func(r *reader) session.Act {
		read(r, c) // for what is wrong with it; what is written is made of the component as it is then
		return request.EditComponent(e.session.Stamp(), c.ID, func(now *model.Component) { *now = read(r, *now) })
	}, nil, moves)
}

// openers offers what a component may open with: what stands at its place and opens
// by itself.
func (e *editor) openers(c model.Component) form.Field {
	f := choice(fieldOpens, "opens with", string(c.OpensWith), [3]string{"", "", "by itself"})
	for _, o := range e.session.Book.Components() {
		if o.Place == c.Place && o.ID != c.ID && o.OpensWith == "" && o.Retired.IsZero() || o.ID == c.OpensWith && c.OpensWith != "" {
			f.Options = append(f.Options, form.Option{Value: string(o.ID), Label: o.Name})
		}
	}
	return f
}

// counter asks for a counter.
func (e *editor) counter(c model.Counter) {
	rate := e.shown(c.DeclaredRate, "")
	e.sheet(cmp.Or(c.Name, "A new counter"), []form.Field{nameField(c.Name),
		{Name: fieldUnit, Label: "unit", Value: c.Unit, Cells: 10, Limit: 20, Hint: "L, h, batch"},
		choice(fieldStyle, "logged as", string(c.Style), [3]string{"a", "amount", "amounts"}, [3]string{"m", "meter", "a running meter"}),
		choice(fieldRole, "counts", c.Role, [3]string{"o", "", "something else"}, [3]string{"w", model.RoleWaterMade, "water made"}, [3]string{"b", model.RoleBatches, "batches mixed"}),
		{Name: fieldRate, Label: "usually a day", Value: rate, Cells: 10, Hint: "in its unit, until the log knows better; may stay empty"},
	}, func(r *reader) ui.Job {
		c := c
		c.Name, c.Unit, c.Style, c.Role = r.name(fieldName), r.text(fieldUnit), model.Style(r.text(fieldStyle)), r.text(fieldRole)
		if c.Unit == "" {
			r.fail(fieldUnit, "give a unit, such as L, h or batch")
		}
		if r.text(fieldRate) != rate {
			c.DeclaredRate = r.number(fieldRate, 0, true)
			c.Guess = nil
		}
		return define(e, c, func(c *model.Counter) (*model.ID, string) { return &c.ID, c.Name })
	}, nil)
}

// choreDates says which dates a chore would have, and what else would move.
func choreDates(look *preview.Preview, chore model.ID, clock int, today model.Date) []string {
	effect, ok := look.Effect()
	if !ok {
		return look.Lines(foreseen)
	}
	s := effect.Round.Of(chore)
	if s == nil {
		return []string{"it takes no part in the round: retired, or not in use yet"}
	}
	var out []string
	if clock >= 0 && clock < len(s.Clocks) {
		l := inWords(effect.Book, s, clock, today)
		text := l.Text
		if l.Dates != "" {
			text += "; " + l.Dates
		}
		if l.Decides {
			text += " (decides)"
		}
		out = append(out, "this clock: "+text)
	}
	line := "the chore: " + phrase.Due(s, today)
	for _, shift := range effect.Shifts {
		if shift.Chore.ID == chore && shift.Before != nil {
			line += fmt.Sprintf(" (now %s)", phrase.Due(shift.Before, today))
		}
	}
	return append(out, line)
}

// inWords is the i-th clock of a chore in words, which have the one that decides
// first.
func inWords(b *ledger.Book, s *schedule.Standing, i int, today model.Date) phrase.Line {
	at := i
	switch {
	case i == s.Governs:
		at = 0
	case i < s.Governs:
		at++
	}
	l := phrase.Clocks(b, s, today)[at]
	l.Dates = strings.Join(strings.Fields(l.Dates), " ") // in columns there, in a sentence here
	return l
}

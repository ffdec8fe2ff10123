package gear

import (
	"strconv"

	"brine/wrasse/model"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/preview"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// Options of a chore's fields.
var (
	workOptions = [][3]string{{"c", "clean", "clean"}, {"r", "renew", "renew"}, {"t", "test", "test"}, {"d", "read", "read"}}
	harmOptions = [][3]string{{"1", "1", "looks bad"}, {"2", "2", "costs money or water"}, {"3", "3", "endangers animals or people"}}
	ruleOptions = [][3]string{{"e", "every", "every, at least"}, {"l", "lasts", "usually lasts"}}
)

// ruleField asks how a life is meant.
func ruleField(r model.Rule) form.Field {
	return hinted(choice(fieldRule, "meant as", string(r), ruleOptions...), "every is a rule, never made longer; lasts is a guess that the log puts right")
}

// basics are the fields of a chore that hold one value each.
func basics(c model.Chore) []form.Field {
	planned, failure := "", ""
	if c.Cost != nil {
		planned, failure = parse.Number(c.Cost.Planned), parse.Number(c.Cost.Failure)
	}
	return []form.Field{nameField(c.Name),
		choice(fieldWork, "work", string(c.Work), workOptions...),
		minutesField(fieldMinutes, "minutes hands-on", c.Minutes, "without getting at it and without waiting"),
		hinted(choice(fieldHarm, "left undone it", strconv.Itoa(c.Consequence), harmOptions...), "worse is due earlier; the limit is when it is more likely spent than not"),
		form.YesNo(fieldHidden, "wear is hidden", c.Hidden),
		form.YesNo(fieldFixed, "dates are fixed", c.Fixed),
		{Name: fieldPlanned, Label: "costs when planned", Value: planned, Cells: 10, Hint: "both costs, or neither: they weigh early against late"},
		{Name: fieldFailure, Label: "costs when too late", Value: failure, Cells: 10, Hint: "more than planned; may stay empty"},
		form.YesNo(fieldSitter, "for a sitter", c.Sitter),
	}
}

// readBasics puts what was typed into a chore.
func readBasics(r *reader, c *model.Chore) {
	before, minutes := basics(*c), c.Minutes
	c.Name, c.Work = r.name(fieldName), model.Work(r.text(fieldWork))
	c.Minutes = r.whole(fieldMinutes, 0, 1440)
	c.Guess = stillGuessed(c.Guess, map[string]bool{"minutes": c.Minutes != minutes})
	c.Consequence, _ = strconv.Atoi(r.text(fieldHarm)) // one of its options
	c.Hidden, c.Fixed, c.Sitter = r.text(fieldHidden) == "yes", r.text(fieldFixed) == "yes", r.text(fieldSitter) == "yes"
	if c.Work != model.WorkRead {
		c.DoneBy = nil
	}
	planned, failure := r.number(fieldPlanned, 0, true), r.number(fieldFailure, 0, true)
	switch {
	case r.text(fieldPlanned) == "" && r.text(fieldFailure) == "":
		c.Cost = nil
	case planned == 0 || failure == 0:
		r.fail(fieldFailure, "give both costs, or neither")
	case failure <= planned || failure > 1000*planned:
		r.fail(fieldFailure, "give more than when planned, and at most 1000 times it")
	case r.text(fieldPlanned) == before[6].Value && r.text(fieldFailure) == before[7].Value:
		// as shown, which may be rounded
	default:
		c.Cost = &model.Cost{Planned: planned, Failure: failure}
	}
}

// editBasics asks for the plain fields of a chore in the book.
func (e *editor) editBasics(c model.Chore) tea.Cmd {
	return e.ahead(parse.ChoreLabel(e.session.Book, c), basics(c), "saving "+c.Name, func(r *reader) session.Act {
		scratch := c // for what is wrong with it; what is written is made of the chore as it is then
		readBasics(r, &scratch)
		return request.EditChore(e.session.Stamp(), c.ID, func(now *model.Chore) { readBasics(r, now) })
	}, nil, func(look *preview.Preview) []string { return choreDates(look, c.ID, -1, e.session.Today()) })
}

// newChore asks for a chore of a component: what it is, how often, and when it was
// last done. Its further clocks, steps, cautions and spares follow on its page.
func (e *editor) newChore(component model.Component) tea.Cmd {
	c := model.Chore{Component: component.ID, Work: model.WorkClean, Minutes: 10, Consequence: 1}
	fields := append(basics(c)[:4:4],
		form.Field{Name: fieldEvery, Label: "how often", Value: "1mo", Cells: 8, Hint: "5d, 2w, 6mo or 1y; other clocks follow on its page"},
		ruleField(model.RuleEvery),
		form.Field{Name: fieldLast, Label: "last done", Cells: 16, Hint: "a date, or roughly: about 3mo; empty: not known"})
	request := func(r *reader) session.Act {
		c := c
		c.Name, c.Work, c.Minutes = r.name(fieldName), model.Work(r.text(fieldWork)), r.whole(fieldMinutes, 0, 1440)
		c.Consequence, _ = strconv.Atoi(r.text(fieldHarm)) // one of its options
		c.Clocks = []model.Clock{{Kind: model.ClockCalendar, Every: r.span(fieldEvery), Rule: model.Rule(r.text(fieldRule))}}
		out := request.AddChore{Stamp: e.session.Stamp(), Chore: c}
		if r.text(fieldLast) != "" {
			w := r.date(fieldLast)
			if w.On > r.today {
				r.fail(fieldLast, w.On.String()+" is yet to come; give a date not after today")
			}
			out.Last = request.LastDone{On: w.On, About: w.About}
			return out
		}
		// Nobody remembers: half its life is taken to be gone, as on a first start.
		half := max(c.Clocks[0].Every.Days(r.today)/2, 1)
		out.Last = request.LastDone{On: r.today.AddDays(-half), About: true}
		return out
	}
	return e.ahead("A new chore, "+component.Name, fields, "adding a chore to "+component.Name, request, e.added, e.foreseenNew)
}

// foreseenNew says what dates a chore would have that is not in the book yet.
func (e *editor) foreseenNew(look *preview.Preview) []string {
	effect, ok := look.Effect()
	if !ok {
		return nil
	}
	for _, shift := range effect.Shifts {
		if shift.Before == nil && shift.After != nil {
			return []string{"it would be " + phrase.Due(shift.After, e.session.Today())}
		}
	}
	return nil
}

// span is a length of calendar time.
func (r *reader) span(field string) model.Span {
	s := r.text(field)
	if s == "" {
		r.fail(field, "give a length of time, such as 5d, 2w, 6mo or 1y")
		return model.Span{N: 1, Unit: model.SpanMonths}
	}
	span, err := model.ParseSpan(s)
	if err != nil {
		r.fail(field, err.Error())
		return model.Span{N: 1, Unit: model.SpanMonths}
	}
	return span
}

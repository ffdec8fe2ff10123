package shelf

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

// Names of the fields.
const (
	fieldName  = "name"
	fieldUnit  = "unit"
	fieldHand  = "hand"
	fieldLead  = "lead"
	fieldPrice = "price"
	fieldSalt  = "salt"
	fieldPart  = "part"
	fieldFrom  = "from"
	fieldGood  = "good"
)

// edit asks for what a spare is and how much of it is there. One without an id is new.
func (v *View) edit(s model.Spare) tea.Cmd {
	title, hand, price := "A new spare", "", ""
	if s.ID != "" {
		title = s.Name
	}
	if v.session.Book.Counted(s.ID, v.session.Today()) {
		hand = parse.Figure(v.session.Book.OnHand(s.ID, v.session.Today()), s.Unit, v.session.Book.Def().Units)
	}
	if s.Price != nil {
		price = parse.Number(*s.Price)
	}
	good := ""
	if !s.Expires.IsZero() {
		good = s.Expires.String()
	}
	fields := []form.Field{
		{Name: fieldName, Label: "name", Value: s.Name, Limit: model.MaxNameLen},
		{Name: fieldHand, Label: "on hand, counted", Value: hand, Cells: 10, Hint: "12, 6+6, 500 mL"},
		{Name: fieldUnit, Label: "unit", Value: s.Unit, Cells: 8, Limit: 20, Hint: "pc, L, mL, kg, g, m"},
		{Name: fieldLead, Label: "days to come", Value: strconv.Itoa(s.LeadDays), Cells: 6, Limit: 4, Hint: "from ordering to having it"},
		{Name: fieldPrice, Label: "price of one", Value: price, Cells: 10, Hint: "of one unit, in your money; may stay empty"},
		{Name: fieldGood, Label: "good until", Value: good, Cells: 10, Hint: "of its label, such as 2027-03; may stay empty"},
		{Name: fieldPart, Label: "part number", Value: s.Part, Limit: model.MaxNameLen, Hint: "may stay empty"},
		{Name: fieldFrom, Label: "bought from", Value: s.Source, Limit: model.MaxNameLen, Hint: "may stay empty"},
		form.YesNo(fieldSalt, "this is my salt mix", s.Role == model.RoleSalt),
	}
	if s.ID != "" {
		fields[0], fields[1] = fields[1], fields[0] // counting is what is most often wanted
	}
	v.session.Root.Push(ui.NewFormSheet(v.session.Root, form.Spec{
		Title:    title,
		Fields:   fields,
		Problems: func(values form.Values) map[string]string { return v.problems(values) },
	}, func(values form.Values) ui.Job {
		request, _ := v.read(s, values) // checked as problems
		if s.ID == "" {
			v.added = request.Spare.Name
		}
		if values[fieldHand] == hand {
			request.OnHand = nil // shown rounded; only what was counted anew counts
		}
		if values[fieldPrice] == price {
			request.Spare.Price = s.Price
			if slices.Contains(s.Guess, "price") {
				request.Spare.Guess = append(request.Spare.Guess, "price")
			}
		}
		return v.session.Job("saving "+request.Spare.Name, request, nil)
	}))
	return nil
}

func (v *View) problems(values form.Values) map[string]string {
	_, problems := v.read(model.Spare{}, values)
	return problems
}

// read makes a request of what was typed into a form about a spare.
func (v *View) read(s model.Spare, values form.Values) (request.PutSpare, map[string]string) {
	problems := map[string]string{}
	get := func(name string) string { return strings.TrimSpace(values[name]) }
	before := s
	s.Name, s.Unit = get(fieldName), get(fieldUnit)
	if s.Name == "" {
		problems[fieldName] = "give the spare a name"
	}
	if s.Unit == "" {
		problems[fieldUnit] = "give a unit, such as pc or L"
	}
	n, err := strconv.Atoi(get(fieldLead))
	if err != nil || n < 0 || n > 3650 {
		problems[fieldLead] = fmt.Sprintf("%q is not a number of days; give 0 to 3650", get(fieldLead))
	}
	s.LeadDays = n
	s.Price = nil
	if p := get(fieldPrice); p != "" {
		price, err := parse.Amount(p, "", v.session.Book.Def().Units)
		if err != nil {
			problems[fieldPrice] = err.Error()
		}
		s.Price = &price
	}
	s.Guess = slices.DeleteFunc(slices.Clone(s.Guess), func(field string) bool {
		return field == "lead_days" && s.LeadDays != before.LeadDays || field == "price"
	})
	s.Part, s.Source, s.Expires = get(fieldPart), get(fieldFrom), 0
	if on := get(fieldGood); on != "" {
		if s.Expires, err = parse.Expiry(on, v.session.Today()); err != nil {
			problems[fieldGood] = err.Error()
		}
	}
	s.Role = ""
	if get(fieldSalt) == "yes" {
		s.Role = model.RoleSalt
	}
	out := request.PutSpare{Stamp: v.session.Stamp(), Spare: s}
	if h := get(fieldHand); h != "" {
		hand, err := parse.Amount(h, s.Unit, v.session.Book.Def().Units)
		if err != nil {
			problems[fieldHand] = err.Error()
		}
		out.OnHand = &hand
	}
	return out, problems
}

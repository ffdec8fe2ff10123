package prompt

import (
	"errors"
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

const (
	fieldVessel = "vessel"
	fieldLitres = "litres"
	fieldWanted = "wanted"
)

// Level counts the water in a vessel: one number.
func Level(d *session.Session) tea.Cmd {
	units := d.Book.Def().Units
	field := form.Field{Name: fieldLitres, Label: "holds", Cells: 12, Hint: "in " + parse.UnitName(parse.Unit("L", units)) + ", as counted"}
	return onVessel(d, "What is in it?", "counting the water", model.HoldsFresh, field, func(typed string, vessel model.Vessel) (model.Body, string, error) {
		litres, err := parse.Amount(typed, "L", units)
		return model.Level{Vessel: vessel.ID, Litres: litres}, phrase.OddLevel(d.Book, vessel, litres), err
	})
}

// Need asks for water by a date: "120 sat".
func Need(d *session.Session) tea.Cmd {
	field := form.Field{Name: fieldWanted, Label: "wanted", Cells: 24, Limit: 60, Hint: "litres and a date: 120 sat"}
	return onVessel(d, "Water wanted by a date", "asking for water", model.HoldsSalt, field, func(typed string, vessel model.Vessel) (model.Body, string, error) {
		n, err := wanted(d, typed)
		n.Vessel = vessel.ID
		return n, "", err
	})
}

// wanted reads litres and a date: "120 sat", "30 gal sat".
func wanted(d *session.Session, typed string) (n model.Need, err error) {
	words := strings.Fields(typed)
	if len(words) < 2 {
		return n, errors.New("give the litres and a date, such as 120 sat")
	}
	last, units := 1, d.Book.Def().Units
	if len(words) > 2 {
		if _, err := parse.Amount(strings.Join(words[:2], " "), "L", units); err == nil {
			last = 2
		}
	}
	if n.Litres, err = parse.Amount(strings.Join(words[:last], " "), "L", units); err != nil {
		return n, err
	}
	if !(n.Litres > 0) {
		return n, errors.New("give litres above 0")
	}
	n.By, err = parse.By(strings.Join(words[last:], " "), d.Today())
	return n, err
}

// onVessel puts the form of an entry about a vessel. read makes the entry of what is typed and asks about what is odd in it;
// what follows of it stands there while it is typed.
func onVessel(d *session.Session, title, op string, holds model.Holds, field form.Field, read func(typed string, vessel model.Vessel) (model.Body, string, error)) tea.Cmd {
	vessels, ok := vesselField(d, holds)
	if !ok {
		return nil
	}
	of := func(v form.Values) (what model.Body, vessel model.Vessel, odd string, err error) {
		vessel, _ = d.Book.Vessel(vesselOf(vessels, v))
		what, odd, err = read(v[field.Name], vessel)
		return what, vessel, odd, err
	}
	d.Root.Push(ui.NewFormSheet(d.Root, form.Spec{
		Title: title, Fields: append([]form.Field{field}, vessels...),
		Problems: func(v form.Values) map[string]string {
			if _, _, _, err := of(v); err != nil {
				return map[string]string{field.Name: err.Error()}
			}
			return nil
		},
		Queries: func(v form.Values) map[string]string {
			_, _, odd, _ := of(v)
			return map[string]string{field.Name: odd}
		},
		Notes: func(v form.Values) []string {
			what, vessel, _, err := of(v)
			if err != nil {
				return nil
			}
			return answer(d, what, vessel.ID)
		},
	}, func(v form.Values) ui.Job {
		what, _, _, _ := of(v) // checked above
		return d.Job(op, request.Log{Stamp: d.Stamp(), What: what}, nil)
	}))
	return nil
}

// answer is what an entry asks of a vessel, were it written.
func answer(d *session.Session, what model.Body, vessel model.ID) []string {
	entries, err := request.Log{Stamp: d.Stamp(), What: what}.Entries(d.Book)
	if err != nil {
		return []string{err.Error()}
	}
	then, err := request.Foresee(d.Book, d.Round, entries)
	if err != nil {
		return []string{err.Error()}
	}
	return phrase.Answer(then.Book, then.Round, vessel)
}

// vesselField asks for the vessel where there is more than one, beginning with the first that holds a kind of water. It
// says so when there is none.
func vesselField(d *session.Session, holds model.Holds) ([]form.Field, bool) {
	f := form.Field{Name: fieldVessel, Label: "vessel"}
	for _, v := range d.Book.Vessels() {
		if !v.Retired.IsZero() && v.Retired <= d.Today() {
			continue
		}
		if f.Value == "" && v.Holds == holds {
			f.Value = string(v.ID)
		}
		f.Options = append(f.Options, form.Option{Value: string(v.ID), Label: v.Name})
	}
	if len(f.Options) == 0 {
		d.Root.Fail(fmt.Errorf("the book has no vessel yet; add one with: wrasse vessel NAME LITRES"))
		return nil, false
	}
	if f.Value == "" {
		f.Value = f.Options[0].Value
	}
	return []form.Field{f}, true
}

// vesselOf is the vessel that is chosen.
func vesselOf(fields []form.Field, v form.Values) model.ID {
	if chosen := v[fieldVessel]; chosen != "" {
		return model.ID(chosen)
	}
	return model.ID(fields[0].Value)
}

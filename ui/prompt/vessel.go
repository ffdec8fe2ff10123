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

// Level counts the water in a vessel: one number. What follows of it stands there while it is typed.
func Level(d *session.Session) tea.Cmd {
	vessels, ok := vesselField(d, model.HoldsFresh)
	if !ok {
		return nil
	}
	read := func(v form.Values) (model.Level, error) {
		litres, err := parse.Amount(v[fieldLitres], "L", d.Book.Def().Units)
		return model.Level{Vessel: vesselOf(vessels, v), Litres: litres}, err
	}
	d.Root.Push(ui.NewFormSheet(d.Root, form.Spec{
		Title: "What is in it?",
		Fields: append([]form.Field{{Name: fieldLitres, Label: "holds", Cells: 12,
			Hint: "in " + parse.UnitName(parse.Unit("L", d.Book.Def().Units)) + ", as counted"}}, vessels...),
		Problems: problems(fieldLitres, func(v form.Values) error { _, err := read(v); return err }),
		Queries: func(v form.Values) map[string]string {
			level, _ := read(v)
			vessel, _ := d.Book.Vessel(level.Vessel)
			return map[string]string{fieldLitres: phrase.OddLevel(d.Book, vessel, level.Litres)}
		},
		Notes: func(v form.Values) []string {
			level, err := read(v)
			return answer(d, level, level.Vessel, err)
		},
	}, func(v form.Values) ui.Job {
		level, _ := read(v) // checked above
		return d.Job("counting the water", request.Log{Stamp: d.Stamp(), What: level}, nil)
	}))
	return nil
}

// Need asks for water by a date: "120 sat". What it takes stands there while it is typed.
func Need(d *session.Session) tea.Cmd {
	vessels, ok := vesselField(d, model.HoldsSalt)
	if !ok {
		return nil
	}
	read := func(v form.Values) (n model.Need, err error) {
		n.Vessel = vesselOf(vessels, v)
		words := strings.Fields(v[fieldWanted])
		if len(words) < 2 {
			return n, errors.New("give the litres and a date, such as 120 sat")
		}
		last := 1
		if len(words) > 2 { // "120 L sat", "30 gal sat"
			if _, err := parse.Amount(strings.Join(words[:2], " "), "L", d.Book.Def().Units); err == nil {
				last = 2
			}
		}
		if n.Litres, err = parse.Amount(strings.Join(words[:last], " "), "L", d.Book.Def().Units); err != nil {
			return n, err
		}
		if !(n.Litres > 0) {
			return n, errors.New("give litres above 0")
		}
		n.By, err = parse.By(strings.Join(words[last:], " "), d.Today())
		return n, err
	}
	d.Root.Push(ui.NewFormSheet(d.Root, form.Spec{
		Title:    "Water wanted by a date",
		Fields:   append([]form.Field{{Name: fieldWanted, Label: "wanted", Cells: 24, Limit: 60, Hint: "litres and a date: 120 sat"}}, vessels...),
		Problems: problems(fieldWanted, func(v form.Values) error { _, err := read(v); return err }),
		Notes: func(v form.Values) []string {
			need, err := read(v)
			return answer(d, need, need.Vessel, err)
		},
	}, func(v form.Values) ui.Job {
		need, _ := read(v) // checked above
		return d.Job("asking for water", request.Log{Stamp: d.Stamp(), What: need}, nil)
	}))
	return nil
}

// answer is what an entry asks of a vessel, were it written; nothing while it can't be read.
func answer(d *session.Session, what model.Body, vessel model.ID, err error) []string {
	if err != nil {
		return nil
	}
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

func problems(field string, check func(form.Values) error) func(form.Values) map[string]string {
	return func(v form.Values) map[string]string {
		if err := check(v); err != nil {
			return map[string]string{field: err.Error()}
		}
		return nil
	}
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

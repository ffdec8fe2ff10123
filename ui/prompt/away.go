package prompt

import (
	"fmt"
	"io"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/sheet"

	tea "github.com/charmbracelet/bubbletea"
)

// The fields of an absence, beside fieldUntil.
const (
	fieldFrom    = "from"
	fieldContact = "contact"
)

// beforeShown is how many lines of a list to do before going a sheet shows.
const beforeShown = 8

// Away says from when until when nobody is there, and lists what to do before going. A key writes the page for a sitter.
func Away(d *session.Session) tea.Cmd {
	s := ui.NewFormSheet(d.Root, form.Spec{
		Title: "Away",
		Fields: []form.Field{
			{Name: fieldFrom, Label: "leaving", Value: "today", Cells: 18, Limit: 40, Hint: "today, or a date to come"},
			untilField("back on"),
			{Name: fieldContact, Label: "a sitter calls", Value: d.Book.Def().Contact, Cells: 44, Limit: 500, Hint: "name and number, for the page; may stay empty"},
		},
		Problems: func(v form.Values) map[string]string {
			from, err := leaving(v[fieldFrom], d.Today())
			if err != nil {
				return map[string]string{fieldFrom: err.Error()}
			}
			if _, err := parse.Until(v[fieldUntil], from); err != nil {
				return map[string]string{fieldUntil: err.Error()}
			}
			return nil
		},
		Notes: func(v form.Values) []string {
			a, ok := absence(d, v)
			if !ok {
				return []string{"The first day back. Days away don't count as late."}
			}
			return toDo(d, a)
		},
	}, func(v form.Values) ui.Job {
		a, _ := absence(d, v) // checked above
		stamp, contact := d.Stamp(), strings.TrimSpace(v[fieldContact])
		stamp.On = a.From
		return d.Job("noting the absence", request.Away{Stamp: stamp, Away: model.Away{Until: a.Until}, Contact: &contact}, nil)
	})
	s.In = keys.Leaving
	s.Do = func(act keys.Action) (tea.Cmd, bool) {
		if act != keys.Page {
			return nil, false
		}
		return page(d, s.Form().Values()), true
	}
	s.Form().Focus(fieldUntil)
	d.Root.Push(s)
	return nil
}

// leaving reads the day of leaving.
func leaving(s string, today model.Date) (model.Date, error) {
	if s = strings.TrimSpace(s); s == "" || strings.EqualFold(s, "today") {
		return today, nil
	}
	on, err := parse.Until(s, today.AddDays(-1))
	if err != nil {
		return 0, fmt.Errorf("%q is not accepted; give today or a date to come, such as friday or 5 dec", s)
	}
	return on, nil
}

// absence is what is typed; ok is false while it makes none.
func absence(d *session.Session, v form.Values) (a schedule.Absence, ok bool) {
	from, err := leaving(v[fieldFrom], d.Today())
	if err != nil {
		return a, false
	}
	until, err := parse.Until(v[fieldUntil], from)
	return schedule.Absence{From: from, Until: until, By: d.By}, err == nil
}

// page writes the page for a sitter of the absence that is typed, as a new file in the folder wrasse was started in.
func page(d *session.Session, v form.Values) tea.Cmd {
	a, ok := absence(d, v)
	if !ok {
		d.Root.Fail(fmt.Errorf("no page without the first day back; type it"))
		return nil
	}
	if d.NewFile == nil {
		d.Root.Fail(fmt.Errorf("no file can be written from here; the command does: wrasse sheet --sitter %s sitter.html", a.Until))
		return nil
	}
	made, err := sheet.ForSitter(d.Book, d.Round, a)
	if err != nil {
		d.Root.Fail(err)
		return nil
	}
	made.Contact = strings.TrimSpace(v[fieldContact])
	file := "sitter-" + a.From.String() + ".html"
	return d.Root.Write(ui.Job{
		Op: "writing the page for a sitter",
		Run: func() error {
			return d.NewFile(file, func(w io.Writer) error {
				_, err := io.WriteString(w, made.HTML())
				return err
			})
		},
		Done: func(err error) tea.Cmd {
			if err != nil {
				d.Root.Fail(err)
				return nil
			}
			d.Root.Say("written: " + file + "; a browser prints it. enter notes the absence")
			return nil
		},
	})
}

// toDo is what is due now or comes due before a return, and is not for a sitter.
func toDo(d *session.Session, a schedule.Absence) []string {
	out := []string{phrase.Leaving(d.Round, a)}
	list := d.Round.BeforeYouGo(a)
	for i, s := range list {
		if i == beforeShown && len(list) > beforeShown+1 {
			return append(out, fmt.Sprintf("  and %d more that come due meanwhile", len(list)-i))
		}
		out = append(out, phrase.When(s, d.Today())+" - "+parse.ChoreLabel(d.Book, s.Chore))
	}
	return out
}

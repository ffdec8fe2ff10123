package logbook

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/preview"
	"brine/wrasse/ui/request"

	tea "github.com/charmbracelet/bubbletea"
)

// amend opens a form of what an entry says. What is changed in it becomes an amend;
// what it would do to the dates stands below while it is typed.
func (v *View) amend(l *line) tea.Cmd {
	e := l.shown
	seq := e.Seq
	switch {
	case l.Struck:
		v.session.Root.Say("this entry is struck; x brings it back, then it can be amended")
		return nil
	case e.Kind == model.KindAmend:
		v.session.Root.Say("an amend is not amended itself; strike it with x, and amend the entry anew")
		return nil
	}
	all := slots(v.session.Book, e, v.session.Today())
	look := preview.New(v.session)
	spec := form.Spec{
		Title:    fmt.Sprintf("amend entry %d: %s", seq, l.says),
		Problems: func(values form.Values) map[string]string { return problems(all, values) },
		Queries:  func(values form.Values) map[string]string { return queries(all, values, v.session.Today()) },
		Notes: func(values form.Values) []string {
			if len(changed(all, values)) == 0 {
				return []string{"what is changed here is written as an amend; the entry itself stays in the log"}
			}
			return look.Lines(effectLines)
		},
	}
	for _, s := range all {
		spec.Fields = append(spec.Fields, s.Field)
	}
	sheet := ui.NewFormSheet(v.session.Root, spec, func(values form.Values) ui.Job {
		return v.session.Job("amending", v.amendment(seq, all, values), nil)
	})
	sheet.Watch = func(values form.Values) tea.Cmd {
		if len(changed(all, values)) == 0 || len(problems(all, values)) > 0 {
			look.Forget()
			return nil
		}
		return look.Ask(v.amendment(seq, all, values))
	}
	v.session.Root.Push(sheet)
	return nil
}

// changed are the slots whose text is not what it was.
func changed(all []slot, values form.Values) []slot {
	var out []slot
	for _, s := range all {
		if strings.TrimSpace(values[s.Name]) != strings.TrimSpace(s.Value) {
			out = append(out, s)
		}
	}
	return out
}

// problems says what of the changed fields can't be read.
func problems(all []slot, values form.Values) map[string]string {
	out := map[string]string{}
	for _, s := range changed(all, values) {
		if _, err := s.parse(values[s.Name]); err != nil {
			out[s.Name] = err.Error()
		}
	}
	return out
}

// queries asks about a day that was changed to one after today.
func queries(all []slot, values form.Values, today model.Date) map[string]string {
	for _, s := range changed(all, values) {
		if day, err := s.parse(values[s.Name]); s.Name == onField && err == nil {
			if on, ok := day.(model.Date); ok {
				return map[string]string{onField: parse.OddDate(on, today)}
			}
		}
	}
	return nil
}

// amendment is the act of what was changed.
func (v *View) amendment(seq model.Seq, all []slot, values form.Values) amendment {
	return amendment{v.session.Stamp(), seq, changed(all, values), values}
}

type amendment struct {
	request.Stamp
	entry   model.Seq
	changed []slot
	values  form.Values
}

// Entries is the amend.
func (a amendment) Entries(b *ledger.Book) ([]model.Entry, error) {
	fields := map[string]any{}
	for _, s := range a.changed {
		value, err := s.parse(a.values[s.Name])
		if err != nil {
			return nil, err
		}
		fields[s.Name] = value
	}
	if len(fields) == 0 {
		return nil, fmt.Errorf("nothing was changed; esc leaves it as it is")
	}
	with, err := model.With(fields)
	if err != nil {
		return nil, err
	}
	return request.Log{Stamp: a.Stamp, What: model.Amend{Entry: a.entry, With: with}}.Entries(b)
}

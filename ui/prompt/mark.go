package prompt

import (
	"fmt"
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

	tea "github.com/charmbracelet/bubbletea"
)

// About puts the question of an action about a component: its flag, its fault, its reach.
// It reports whether the action is one of them.
func About(d *session.Session, a keys.Action, component model.ID) (cmd tea.Cmd, used bool) {
	switch a {
	case keys.Flag:
		return Flag(d, component), true
	case keys.Fault:
		return Fault(d, component), true
	case keys.Reach:
		return Reach(d, component), true
	}
	return nil, false
}

// causeLetters are the letters of model.Causes, in their order.
const causeLetters = "iotdshno"

// Flag asks for the cause for which a component is hard to reach and puts it on the
// rethink list: a letter goes to a cause, enter takes it.
func Flag(d *session.Session, component model.ID) tea.Cmd {
	c, _ := d.Book.Component(component)
	options := make([]ui.Answer, len(model.Causes))
	for i, cause := range model.Causes {
		options[i] = ui.Answer{Letter: rune(letterOf(i)), Label: request.CauseText(cause)}
	}
	q := ui.NewChoice(d.Root, "Flag "+c.Name+": what makes it hard to reach?", options, func(i int) tea.Cmd {
		return d.Do("flagging "+c.Name, request.Flag{Stamp: d.Stamp(), Flag: model.Flag{Component: component, Cause: model.Causes[i]}})
	})
	q.Confirm = true
	d.Root.Push(q)
	return nil
}

// letterOf is the letter of the i-th cause. "out of sight" and "other" begin alike,
// so the last is x.
func letterOf(i int) byte {
	if i == len(causeLetters)-1 {
		return 'x'
	}
	return causeLetters[i]
}

// Fault reports a component as broken now, with a note that may stay empty.
func Fault(d *session.Session, component model.ID) tea.Cmd {
	c, _ := d.Book.Component(component)
	d.Root.Push(ui.NewFormSheet(d.Root, form.Spec{
		Title:  c.Name + " is broken now",
		Fields: []form.Field{{Name: fieldNote, Label: "what is wrong", Cells: 44, Limit: 2000, Hint: "may stay empty"}},
		Notes: func(form.Values) []string {
			return []string{"It stands first in the round until it is repaired or one of its chores is ticked."}
		},
	}, func(v form.Values) ui.Job {
		note := strings.TrimSpace(v[fieldNote])
		return d.Job("reporting "+c.Name, request.Log{Stamp: d.Stamp(), What: model.Fault{Component: component, Note: note}}, nil)
	}))
	return nil
}

// Mended ends a fault: by a repair, which may have taken something off the shelf, or by a chore of the component.
func Mended(d *session.Session, f schedule.OpenFault, after func(first model.ID)) tea.Cmd {
	var chores []model.Chore
	options := []ui.Answer{{Letter: 'r', Label: "it is repaired", Note: "with a note, and what it took off the shelf"}}
	letters := strings.NewReplacer("r", "").Replace("abcdefghijklmnopqrstuvwxyz")
	for i := range d.Round.Standings {
		if s := &d.Round.Standings[i]; s.Component.ID == f.Component.ID {
			options = append(options, ui.Answer{Letter: rune(letters[len(chores)%len(letters)]), Label: "done: " + s.Chore.Name})
			chores = append(chores, s.Chore)
		}
	}
	d.Root.Push(ui.NewChoice(d.Root, f.Component.Name+" works again - how?", options, func(i int) tea.Cmd {
		if i == 0 {
			return repair(d, f, after)
		}
		return Tick(d, []model.ID{chores[i-1].ID}, after)
	}))
	return nil
}

// repair asks what was done about a fault.
func repair(d *session.Session, f schedule.OpenFault, after func(first model.ID)) tea.Cmd {
	uses := func(v form.Values) ([]model.SpareUse, error) { return parse.Uses(d.Book, v[fieldUses]) }
	d.Root.Push(ui.NewFormSheet(d.Root, form.Spec{
		Title: f.Component.Name + " is repaired",
		Fields: []form.Field{
			{Name: fieldNote, Label: "what was done", Cells: 44, Limit: 2000, Hint: "may stay empty"},
			{Name: fieldUses, Label: "off the shelf", Cells: 44, Limit: 500, Hint: "such as: 1 fan; 0.6 L resin; may stay empty"},
		},
		Problems: func(v form.Values) map[string]string {
			if _, err := uses(v); err != nil {
				return map[string]string{fieldUses: err.Error()}
			}
			return nil
		},
	}, func(v form.Values) ui.Job {
		taken, _ := uses(v) // checked above
		return d.Job("ending the fault of "+f.Component.Name, request.Repair{Stamp: d.Stamp(),
			Repair: model.Repair{Fault: f.Seq, Note: strings.TrimSpace(v[fieldNote]), Uses: taken}}, func() tea.Cmd {
			after("")
			return nil
		})
	}))
	return nil
}

const (
	fieldUntil  = "until"
	fieldReason = "reason"
	fieldUses   = "uses"
)

// untilField asks for a date to come.
func untilField(label string) form.Field {
	return form.Field{Name: fieldUntil, Label: label, Cells: 18, Limit: 40, Hint: "a date, tomorrow, 5d, 2w, friday, 5 dec"}
}

// PutOff puts chores off until a date, with a reason that may stay empty.
func PutOff(d *session.Session, chores []model.ID, after func()) tea.Cmd {
	title := fmt.Sprintf("Put off %d chores", len(chores))
	if len(chores) == 1 {
		c, _ := d.Book.Chore(chores[0])
		title = "Put off " + parse.ChoreLabel(d.Book, c)
	}
	d.Root.Push(ui.NewFormSheet(d.Root, form.Spec{
		Title:  title,
		Fields: []form.Field{untilField("until"), {Name: fieldReason, Label: "why", Cells: 44, Limit: 500, Hint: "may stay empty"}},
		Problems: func(v form.Values) map[string]string {
			if _, err := parse.Until(v[fieldUntil], d.Today()); err != nil {
				return map[string]string{fieldUntil: err.Error()}
			}
			return nil
		},
		Notes: func(v form.Values) []string {
			until, err := parse.Until(v[fieldUntil], d.Today())
			if err != nil {
				return nil
			}
			return append([]string{"till " + phrase.Weekday(until, d.Today())}, beyond(d, chores, until, false)...)
		},
		Queries: func(v form.Values) map[string]string {
			until, err := parse.Until(v[fieldUntil], d.Today())
			if err != nil {
				return nil
			}
			return map[string]string{fieldUntil: strings.Join(beyond(d, chores, until, true), "; ")}
		},
	}, func(v form.Values) ui.Job {
		until, _ := parse.Until(v[fieldUntil], d.Today()) // checked above
		return d.Job("putting off", request.PutOff{Stamp: d.Stamp(), Chores: chores, Until: until, Reason: strings.TrimSpace(v[fieldReason])},
			func() tea.Cmd {
				after()
				return nil
			})
	}))
	return nil
}

// beyond names those of the chores that would be past their limit by a date: the ones
// that endanger animals or people, or the others.
func beyond(d *session.Session, chores []model.ID, until model.Date, dangers bool) []string {
	var out []string
	for _, id := range chores {
		s := d.Round.Of(id)
		if s == nil || s.Limit.IsZero() || until <= s.Limit || dangers != (s.Chore.Consequence == 3) {
			continue
		}
		line := s.Component.Name + " would then be past its limit, " + phrase.Day(s.Limit, d.Today())
		if dangers {
			line += "; left undone, it endangers animals or people"
		}
		out = append(out, line)
	}
	return out
}

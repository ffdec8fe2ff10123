package rethink

import (
	"fmt"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/request"

	tea "github.com/charmbracelet/bubbletea"
)

// Names of the fields.
const (
	fieldCause  = "cause"
	fieldIdea   = "idea"
	fieldReach  = "reach"
	fieldAccess = "access"
	fieldOpens  = "opens"
)

// edit asks for the cause and the idea. A component that is not on the list is put
// on it with them.
func (v *View) edit(a *schedule.Awkward) tea.Cmd {
	st := state(a)
	if st == "" || st == model.FlagDropped {
		st = model.FlagFlagged
	}
	causes := form.Field{Name: fieldCause, Label: "cause", Value: string(cause(a))}
	for _, c := range model.Causes {
		causes.Options = append(causes.Options, form.Option{Value: string(c), Label: request.CauseText(c)})
	}
	v.session.Root.Push(ui.NewFormSheet(v.session.Root, form.Spec{
		Title: a.Component.Name + ": what makes it hard to reach, and what could be done",
		Fields: []form.Field{causes,
			{Name: fieldIdea, Label: "idea", Value: idea(a), Cells: 56, Limit: model.MaxNoteLen, Hint: "what would bring it into reach; may stay empty"}},
		Notes: func(form.Values) []string { return []string{costs(v.session.Book, a)} },
	}, func(values form.Values) ui.Job {
		return v.job(a, request.Flag{Flag: model.Flag{State: st, Cause: model.Cause(values[fieldCause]), Note: strings.TrimSpace(values[fieldIdea])}})
	}))
	return nil
}

// steps are the states a component can go on to, with their letters.
var steps = []struct {
	state  model.FlagState
	letter rune
	note   string
}{
	{model.FlagPlanned, 'p', "what to do is decided"},
	{model.FlagRebuilt, 'r', "it is done: asks for the new grade and minutes"},
	{model.FlagDropped, 'd', "it stays as it is"},
	{model.FlagFlagged, 'f', "back to where it began"},
}

// advance asks for the next state.
func (v *View) advance(a *schedule.Awkward) tea.Cmd {
	now := state(a)
	if now == "" {
		v.session.Root.Say("not on the list yet; f flags it with a cause")
		return nil
	}
	var options []ui.Answer
	var states []model.FlagState
	for _, s := range steps {
		if s.state == now && now != model.FlagRebuilt {
			continue
		}
		options = append(options, ui.Answer{Letter: s.letter, Label: string(s.state), Note: s.note})
		states = append(states, s.state)
	}
	v.session.Root.Push(ui.NewChoice(v.session.Root, a.Component.Name+" is "+string(now)+"; now", options, func(i int) tea.Cmd {
		if states[i] == model.FlagRebuilt {
			return v.rebuilt(a)
		}
		return v.session.Root.Write(v.job(a, request.Flag{Flag: model.Flag{State: states[i]}}))
	}))
	return nil
}

// rebuilt asks how hard the component is to reach now and, where its opening was
// another's, whether it still is.
func (v *View) rebuilt(a *schedule.Awkward) tea.Cmd {
	c := a.Component
	reach := form.Field{Name: fieldReach, Label: "new reach", Value: strconv.Itoa(c.Reach)}
	for i, label := range []string{"open", "bend or stretch", "kneel, a tool", "lie, two tools", "help, drained"} {
		reach.Options = append(reach.Options, form.Option{Letter: rune('1' + i), Value: strconv.Itoa(i + 1), Label: label})
	}
	fields := []form.Field{reach,
		{Name: fieldAccess, Label: "minutes to get at it", Value: strconv.Itoa(c.AccessMinutes), Cells: 6, Limit: 4, Hint: "before hands reach the part"}}
	opener, shared := v.session.Book.Component(c.OpensWith)
	if shared {
		fields = append(fields, form.Field{Name: fieldOpens, Label: "does it still open with", Value: answerYes,
			Options: []form.Option{{Letter: 'y', Value: answerYes, Label: "the " + opener.Name}, {Letter: 'n', Value: answerNo, Label: "no, by itself"}}})
	}
	fields = append(fields, form.Field{Name: fieldIdea, Label: "what was done", Cells: 48, Limit: model.MaxNoteLen, Hint: "may stay empty"})
	v.session.Root.Push(ui.NewFormSheet(v.session.Root, form.Spec{
		Title:  c.Name + " is rebuilt: how hard is it to reach now?",
		Fields: fields,
		Problems: func(values form.Values) map[string]string {
			if _, err := minutes(values[fieldAccess]); err != nil {
				return map[string]string{fieldAccess: err.Error()}
			}
			return nil
		},
		Notes: func(values form.Values) []string {
			n, err := minutes(values[fieldAccess])
			switch {
			case err != nil:
				return nil
			case values[fieldOpens] == answerYes:
				return []string{"its opening is that of the " + opener.Name + "; " + yearly(&a.Placing) + ", as before"}
			}
			now := a.Placing
			if shared {
				now = *a.Alone
			}
			now.MinutesAYear = float64(n) * now.Visits
			return []string{yearly(&now) + " instead of " + hours(a.MinutesAYear)}
		},
	}, func(values form.Values) ui.Job {
		grade, _ := strconv.Atoi(values[fieldReach]) // one of its options
		access, _ := minutes(values[fieldAccess])    // checked as a problem
		f := request.Flag{Apart: values[fieldOpens] == answerNo}
		f.Flag = model.Flag{State: model.FlagRebuilt, Reach: grade, AccessMinutes: &access, Note: strings.TrimSpace(values[fieldIdea])}
		return v.job(a, f)
	}))
	return nil
}

// Answers to whether a component still opens with another.
const (
	answerYes = "yes"
	answerNo  = "no"
)

// yearly is a placing's visits and what they cost.
func yearly(p *schedule.Placing) string {
	return fmt.Sprintf("%.0f visits a year: %s a year", p.Visits, hours(p.MinutesAYear))
}

// minutes reads whole minutes.
func minutes(s string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil || n < 0 || n > 1440 {
		return 0, fmt.Errorf("%q is not a number of minutes; give 0 to 1440", s)
	}
	return n, nil
}

// job writes a flag of a component.
func (v *View) job(a *schedule.Awkward, f request.Flag) ui.Job {
	f.Stamp, f.Component = v.session.Stamp(), a.Component.ID
	return v.session.Job("rethinking "+a.Component.Name, f, nil)
}

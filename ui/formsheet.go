package ui

import (
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/keys"

	tea "github.com/charmbracelet/bubbletea"
)

// FormSheet shows a form over the foot of the present screen and saves it
// through the root's write queue. It stays open, with its content, until the
// save has succeeded. Make one with NewFormSheet; show it with Root.Push.
type FormSheet struct {
	// Watch, if set, is called with the values after every key, and its command
	// may work something out for the form's notes: what a change would do.
	Watch func(form.Values) tea.Cmd
	// In is the scope of a form with keys of its own, which stands in that of forms; Do carries their actions out, and
	// tells which they are.
	In keys.Scope
	Do func(keys.Action) (cmd tea.Cmd, used bool)
	// Intercept, if set, sees a typed key before the form does and may take it.
	Intercept func(tea.KeyMsg) bool

	root   *Root
	form   *form.Form
	save   func(form.Values) Job
	saving bool
}

// NewFormSheet makes a sheet of spec. When the form is complete, save turns its
// values into the write; the job's Done, if any, is called on success only,
// after the sheet has closed. A failure is shown in the form.
func NewFormSheet(r *Root, spec form.Spec, save func(form.Values) Job) *FormSheet {
	return &FormSheet{root: r, form: form.New(r.theme, spec), save: save}
}

// Form is the form in the sheet, for preparing it.
func (s *FormSheet) Form() *form.Form { return s.form }

// Scope is that of forms, or the form's own.
func (s *FormSheet) Scope() keys.Scope {
	if s.In != keys.Anywhere {
		return s.In
	}
	return keys.Form
}

// TextEntry is true: letters are text, or answers of a choice.
func (s *FormSheet) TextEntry() bool { return true }

// Act moves between fields and saves.
func (s *FormSheet) Act(a keys.Action) tea.Cmd {
	if s.saving {
		return nil
	}
	if s.Do != nil {
		if cmd, used := s.Do(a); used {
			return cmd
		}
	}
	return s.after(s.form.Act(a))
}

// Msg takes typed text.
func (s *FormSheet) Msg(msg tea.Msg) tea.Cmd {
	k, ok := msg.(tea.KeyMsg)
	if !ok || s.saving || (s.Intercept != nil && s.Intercept(k)) {
		return nil
	}
	return s.after(s.form.Type(k))
}

// Close lets the form ask when something was typed. While a save runs, the
// sheet stays.
func (s *FormSheet) Close() (tea.Cmd, bool) {
	if s.saving {
		s.root.Say("still saving; the form closes when it is done")
		return nil, false
	}
	return nil, s.form.Act(keys.Back) == form.Left
}

// Height is what the form wants.
func (s *FormSheet) Height(w int) int { return s.form.Height(w) }

// Render draws the form.
func (s *FormSheet) Render(w, h int) string { return s.form.Render(w, h) }

// after acts on what became of the form.
func (s *FormSheet) after(o form.Outcome) tea.Cmd {
	switch o {
	case form.Left:
		s.root.Drop(s)
	case form.Submit:
		job := s.save(s.form.Values())
		done := job.Done
		job.Done = func(err error) tea.Cmd {
			s.saving = false
			if err != nil {
				s.form.Fail(err.Error())
				return nil
			}
			s.root.Drop(s)
			if done == nil {
				return nil
			}
			return done(nil)
		}
		s.saving = true
		return s.root.Write(job)
	}
	if s.Watch == nil {
		return nil
	}
	return s.Watch(s.form.Values())
}

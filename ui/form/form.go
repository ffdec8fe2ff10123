// Package form is the program's one kind of form: a few labelled fields, typed
// into or chosen from, over bubbles' text field.
//
// It keeps three promises. Tab and shift+tab always move, whatever a field
// holds; problems stand beside their fields and hold back saving only. Leaving
// asks only when something was changed. A form keeps its content until its
// owner drops it, so a save that fails loses nothing.
//
// Start at New. The owner passes actions to Act and typed keys to Type, acts on
// the Outcome, and draws with Render. The form checks nothing itself: what a
// value must be is said by the owner's pure functions in Spec.
package form

import (
	"maps"
	"strings"

	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// Values are a form's contents by field name.
type Values map[string]string

// Spec describes a form. Every function in it must be pure; each may be nil.
type Spec struct {
	Title  string
	Fields []Field // at least one

	// Problems says, by field name, what is wrong and what is accepted.
	Problems func(Values) map[string]string
	// Queries says, by field name, what is odd but possible. The first attempt
	// to save shows it; a second one with the same values goes through.
	Queries func(Values) map[string]string
	// Notes are live remarks on the values, a line each, below the fields.
	Notes func(Values) []string

	OneLine    bool // fields side by side where they fit
	SpaceMoves bool // a space goes to the next field, for rows of figures
	EnterMoves bool // enter saves on the last field only; before, it moves on from a field without a problem
}

// Outcome is what became of a form after a key.
type Outcome int

// The outcomes.
const (
	Open   Outcome = iota // still being filled in
	Submit                // complete and without problems: save Values
	Left                  // given up
)

// Form is a form being filled in. Make one with New.
type Form struct {
	theme  theme.Theme
	spec   Spec
	fields []*field
	at     int

	tried    bool   // saving was tried: show every problem
	asking   bool   // asking whether to leave with changes
	fault    string // why the last save failed
	accepted Values // values whose queries have been shown
}

// New makes a form with the cursor in its first field.
func New(th theme.Theme, spec Spec) *Form {
	f := &Form{theme: th, spec: spec}
	for _, d := range spec.Fields {
		f.fields = append(f.fields, newField(d))
	}
	f.fields[0].focus()
	return f
}

// Values returns the present contents.
func (f *Form) Values() Values {
	out := make(Values, len(f.fields))
	for _, d := range f.fields {
		out[d.Name] = d.value()
	}
	return out
}

// Changed reports whether any field differs from what it began with.
func (f *Form) Changed() bool {
	for _, d := range f.fields {
		if d.value() != d.Value {
			return true
		}
	}
	return false
}

// Fail shows why a save failed. The contents stay; typing takes it away.
func (f *Form) Fail(why string) { f.fault = why }

// Focused is the name of the field the cursor is in.
func (f *Form) Focused() string { return f.fields[f.at].Name }

// Focus puts the cursor into the named field; an unknown name moves nothing.
func (f *Form) Focus(name string) {
	for i, d := range f.fields {
		if d.Name == name {
			f.move(i)
			return
		}
	}
}

// Set replaces a field's contents, as if typed; an unknown name does nothing.
func (f *Form) Set(name, value string) {
	for _, d := range f.fields {
		if d.Name == name {
			d.set(value)
		}
	}
}

// Act carries out an action of the form's scope.
func (f *Form) Act(a keys.Action) Outcome {
	if f.asking {
		f.asking = false
		return Open
	}
	switch a {
	case keys.NextField:
		f.step(1)
	case keys.PrevField:
		f.step(-1)
	case keys.Submit:
		return f.submit()
	case keys.Back:
		if !f.Changed() {
			return Left
		}
		f.asking = true
	}
	return Open
}

// Type takes a key that is not an action: text, a paste, or an editing key.
func (f *Form) Type(k tea.KeyMsg) Outcome {
	if f.asking {
		f.asking = false
		if k.Type == tea.KeyRunes && !k.Paste && strings.EqualFold(string(k.Runes), "y") {
			return Left
		}
		return Open
	}
	f.fault = ""
	if !f.spec.SpaceMoves || (k.Type != tea.KeyRunes && k.Type != tea.KeySpace) {
		f.fields[f.at].typed(k)
		return Open
	}
	f.typeFigures(k)
	return Open
}

// typeFigures types text in which spaces separate fields: `248 6 0` fills
// three. A space at the start of an empty field is ignored, and one after the
// last field has nowhere to go.
func (f *Form) typeFigures(k tea.KeyMsg) {
	for i, part := range strings.Split(string(k.Runes), " ") {
		if i > 0 && f.fields[f.at].value() != "" && f.at < len(f.fields)-1 {
			f.move(f.at + 1)
		}
		if part != "" {
			f.fields[f.at].typed(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(part), Paste: k.Paste})
		}
	}
}

// step moves the cursor n fields on, round the end.
func (f *Form) step(n int) {
	f.move((f.at + n + len(f.fields)) % len(f.fields))
}

// move puts the cursor into field i. The field it leaves may now show what is
// wrong with it; while it was being typed that would have been nagging.
func (f *Form) move(i int) {
	f.fields[f.at].blur()
	f.at = i
	f.fields[i].focus()
}

// submit checks the values and says whether they may be saved. The cursor goes
// to the first field that holds it back.
func (f *Form) submit() Outcome {
	if f.spec.EnterMoves && f.at < len(f.fields)-1 {
		d := f.fields[f.at]
		if d.refused = f.problems(f.Values())[d.Name] != ""; !d.refused {
			f.step(1)
		}
		return Open
	}
	f.tried, f.fault = true, ""
	values := f.Values()
	if bad := f.first(f.problems(values)); bad >= 0 {
		f.move(bad)
		return Open
	}
	if odd := f.first(f.queries(values)); odd >= 0 && !maps.Equal(values, f.accepted) {
		f.accepted = values
		f.move(odd)
		return Open
	}
	return Submit
}

// first is the index of the first field named in notes, or -1.
func (f *Form) first(notes map[string]string) int {
	for i, d := range f.fields {
		if notes[d.Name] != "" {
			return i
		}
	}
	return -1
}

func (f *Form) problems(v Values) map[string]string {
	if f.spec.Problems == nil {
		return nil
	}
	return f.spec.Problems(v)
}

func (f *Form) queries(v Values) map[string]string {
	if f.spec.Queries == nil {
		return nil
	}
	return f.spec.Queries(v)
}

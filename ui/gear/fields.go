package gear

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
)

// reader reads the values of a form and keeps what is wrong with them, by field.
type reader struct {
	values   form.Values
	today    model.Date
	units    model.Units
	problems map[string]string
}

func (e *editor) reader(values form.Values) *reader {
	return &reader{values, e.session.Today(), e.session.Book.Def().Units, map[string]string{}}
}

func (r *reader) text(name string) string { return strings.TrimSpace(r.values[name]) }

// fail keeps the first thing that is wrong with a field.
func (r *reader) fail(name, why string) {
	if r.problems[name] == "" {
		r.problems[name] = why
	}
}

// name is a text that may not be empty.
func (r *reader) name(field string) string {
	s := r.text(field)
	if s == "" {
		r.fail(field, "give it a name")
	}
	return s
}

// whole is a whole number between two others.
func (r *reader) whole(field string, low, high int) int {
	n, err := strconv.Atoi(r.text(field))
	if err != nil || n < low || n > high {
		r.fail(field, fmt.Sprintf("%q is not accepted; give a whole number from %d to %d", r.text(field), low, high))
	}
	return n
}

// number is a number above low; where empty is allowed, nothing typed is 0.
func (r *reader) number(field string, low float64, empty bool) float64 {
	s := r.text(field)
	if s == "" && empty {
		return 0
	}
	v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil || v <= low || v > model.MaxAmount {
		r.fail(field, fmt.Sprintf("%q is not accepted; give a number above %s", s, parse.Number(low)))
	}
	return v
}

// date is a date as a keeper types it.
func (r *reader) date(field string) parse.When {
	w, err := parse.Date(r.text(field), r.today)
	if err != nil {
		r.fail(field, err.Error())
	}
	return w
}

// stillGuessed is which of the fields of a definition stay marked as guesses: those
// that were, and whose value was left as it was.
func stillGuessed(guess []string, changed map[string]bool) []string {
	return slices.DeleteFunc(slices.Clone(guess), func(field string) bool { return changed[field] })
}

// choice is a field of options, given as letter, value and label; a letter " " is none.
func choice(name, label, value string, options ...[3]string) form.Field {
	f := form.Field{Name: name, Label: label, Value: value}
	for _, o := range options {
		opt := form.Option{Value: o[1], Label: o[2]}
		if o[0] != "" {
			opt.Letter = []rune(o[0])[0]
		}
		f.Options = append(f.Options, opt)
	}
	return f
}

// hinted is a field with a hint.
func hinted(f form.Field, hint string) form.Field {
	f.Hint = hint
	return f
}

// addInUse adds what is in use to the options of a field, and what is chosen in it. of is
// the id, the name and the date of retirement.
func addInUse[E any](f *form.Field, all []E, of func(E) (model.ID, string, model.Date)) {
	for _, e := range all {
		if id, name, retired := of(e); retired.IsZero() || string(id) == f.Value {
			f.Options = append(f.Options, form.Option{Value: string(id), Label: name})
		}
	}
}

func minutesField(name, label string, v int, hint string) form.Field {
	return form.Field{Name: name, Label: label, Value: strconv.Itoa(v), Cells: 6, Limit: 4, Hint: hint}
}

func nameField(v string) form.Field {
	return form.Field{Name: fieldName, Label: "name", Value: v, Limit: model.MaxNameLen}
}

// reachOptions are the grades, by what is most telling of each.
var reachOptions = [][3]string{
	{"1", "1", "open"}, {"2", "2", "bend, stretch"}, {"3", "3", "kneel, a tool"}, {"4", "4", "lie, two tools"}, {"5", "5", "help, drained"},
}

// Names of the fields.
const (
	fieldName     = "name"
	fieldMinutes  = "minutes"
	fieldReach    = "reach"
	fieldAccess   = "access"
	fieldOpens    = "opens"
	fieldService  = "service"
	fieldStage    = "stage"
	fieldRated    = "rated"
	fieldRatedAt  = "rated at"
	fieldLow      = "safe low"
	fieldHigh     = "safe high"
	fieldUnit     = "unit"
	fieldStyle    = "style"
	fieldRole     = "role"
	fieldRate     = "rate"
	fieldPart     = "part"
	fieldScale    = "scale"
	fieldWith     = "with"
	fieldWork     = "work"
	fieldHarm     = "harm"
	fieldHidden   = "hidden"
	fieldFixed    = "fixed"
	fieldSitter   = "sitter"
	fieldCalled   = "called"
	fieldAfter    = "after"
	fieldPlanned  = "planned"
	fieldFailure  = "failure"
	fieldEvery    = "every"
	fieldRule     = "rule"
	fieldLast     = "last"
	fieldCounter  = "counter"
	fieldAmount   = "amount"
	fieldRatio    = "ratio"
	fieldInlet    = "inlet"
	fieldOutlet   = "outlet"
	fieldGauge    = "gauge"
	fieldLimit    = "limit"
	fieldBad      = "bad"
	fieldText     = "text"
	fieldTimer    = "timer"
	fieldAt       = "at"
	fieldSpare    = "spare"
	fieldHazards  = "hazards"
	fieldPlace    = "place"
	fieldHolds    = "holds"
	fieldCare     = "care"
	fieldVolume   = "volume"
	fieldWarmth   = "temperature"
	fieldPressure = "pressure"
	fieldHours    = "hours"
	fieldMixing   = "mixing"
	fieldValue    = "value"
	fieldContact  = "contact"
	fieldKeep     = "keep"
	fieldAuto     = "auto"
	fieldVessel   = "vessel"
)

package prompt

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
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// The questions a reach grade is made of, each answered by what can be observed.
const (
	askAccess  = "access"
	askMoved   = "moved"
	askTools   = "tools"
	askPosture = "posture"
	askOff     = "off"
	askSeen    = "seen"
)

// questions are the five columns a grade is scored by, and what stands for 1 to 5.
var questions = []struct {
	name, label string
	answers     [5]string
}{
	{askMoved, "moved first", [5]string{"nothing", "a lid", "1-3 things", "3-6 things", "furniture"}},
	{askTools, "tools", [5]string{"none", "still none", "one", "two, torch", "special"}},
	{askPosture, "posture", [5]string{"standing", "bending", "kneeling", "lying, blind", "cramped"}},
	{askOff, "shut off", [5]string{"nothing", "nothing yet", "one item", "several", "all, drained"}},
}

// most minutes of grades 1 to 4 before hands reach the part.
var reachMinutes = [4]int{1, 3, 8, 20}

// Grade is the reach grade of answers: the highest of the columns, and one more, at
// most 5, where the part cannot be seen and touched at once.
func Grade(minutes int, columns [4]int, seen bool) int {
	grade := 1
	for _, most := range reachMinutes {
		if minutes > most {
			grade++
		}
	}
	grade = max(grade, slices.Max(columns[:]))
	if !seen {
		grade++
	}
	return min(grade, 5)
}

// Reach grades how hard a component is to get at by five questions and one more.
func Reach(d *session.Session, component model.ID) tea.Cmd {
	c, ok := d.Book.Component(component)
	if !ok {
		return nil
	}
	fields := []form.Field{{Name: askAccess, Label: "minutes to get at it", Value: strconv.Itoa(c.AccessMinutes), Cells: 6, Limit: 4}}
	for _, q := range questions {
		f := form.Field{Name: q.name, Label: q.label, Value: "1"}
		for i, a := range q.answers {
			f.Options = append(f.Options, form.Option{Letter: rune('1' + i), Value: strconv.Itoa(i + 1), Label: a})
		}
		fields = append(fields, f)
	}
	fields = append(fields, form.Field{Name: askSeen, Label: "seen and touched at once", Options: []form.Option{
		{Letter: 'y', Value: "yes", Label: "yes"}, {Letter: 'n', Value: "no", Label: "no"},
	}})
	d.Root.Push(ui.NewFormSheet(d.Root, form.Spec{
		Title:  "How hard is " + c.Name + " to get at?",
		Fields: fields,
		Problems: func(v form.Values) map[string]string {
			if n, ok, err := wholeMinutes(v[askAccess]); err != nil {
				return map[string]string{askAccess: err.Error()}
			} else if !ok || n < 0 {
				return map[string]string{askAccess: "give minutes, such as 4"}
			}
			return nil
		},
		Notes: func(v form.Values) []string {
			g := graded(v)
			if g == c.Reach {
				return []string{fmt.Sprintf("grade %d, as it stands", g)}
			}
			return []string{fmt.Sprintf("grade %d; it stands at %d", g, c.Reach)}
		},
	}, func(v form.Values) ui.Job {
		minutes, _, _ := wholeMinutes(v[askAccess]) // checked as a problem
		return d.Job("grading "+c.Name, request.EditComponent(d.Stamp(), component, func(c *model.Component) {
			c.Reach, c.AccessMinutes = graded(v), minutes
			c.Guess = slices.DeleteFunc(slices.Clone(c.Guess), func(f string) bool { return f == "reach" || f == "access_minutes" })
		}), nil)
	}))
	return nil
}

// graded is the grade of a filled-in form.
func graded(v form.Values) int {
	var columns [4]int
	for i, q := range questions {
		columns[i], _ = strconv.Atoi(v[q.name]) // one of its options
	}
	minutes, _, _ := wholeMinutes(v[askAccess])
	return Grade(minutes, columns, v[askSeen] == "yes")
}

// wholeMinutes reads minutes; ok is false when nothing was typed.
func wholeMinutes(s string) (n int, ok bool, err error) {
	if strings.TrimSpace(s) == "" {
		return 0, false, nil
	}
	n, err = parse.WholeMinutes(s)
	return n, err == nil, err
}

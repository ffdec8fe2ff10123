package logbook

import (
	"fmt"

	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/preview"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// question is a choice with what the answer at the cursor would do to the dates under
// it.
type question struct {
	*ui.Choice
	root *ui.Root
	look *preview.Preview
	acts []session.Act // of the first answers; the others do nothing
}

// effectLines is how many lines a look ahead takes.
const effectLines = 5

// Height is what the choice wants and the look under it.
func (q *question) Height(w int) int { return q.Choice.Height(w) + len(q.look.Lines(effectLines)) }

// Act moves, and looks ahead from the answer it has come to.
func (q *question) Act(a keys.Action) tea.Cmd {
	was := q.At()
	cmd := q.Choice.Act(a)
	switch at := q.At(); {
	case at == was:
	case at < len(q.acts):
		return tea.Batch(cmd, q.look.Ask(q.acts[at]))
	default:
		q.look.Rest()
	}
	return cmd
}

// Msg takes in what was seen.
func (q *question) Msg(msg tea.Msg) tea.Cmd {
	if seen, ok := msg.(preview.Ready); ok {
		seen.Deliver()
	}
	return nil
}

// Render draws the choice, and what would move below it.
func (q *question) Render(w, h int) string {
	th := q.root.Theme()
	lines := q.look.Lines(effectLines)
	top := max(h-len(lines), min(q.Choice.Height(w), h))
	var below []string
	for _, l := range lines {
		below = append(below, "  "+th.Dim.Render(text.Fit(text.Clean(l), w-2)))
	}
	out := q.Choice.Render(w, top)
	if rest := h - top; rest > 0 {
		out += "\n" + text.Block(below, w, rest)
	}
	return out
}

// strike asks whether to strike an entry, or to bring it back when it is struck.
func (v *View) strike(l *line) tea.Cmd {
	verb := "strike"
	if l.Struck {
		verb = "bring back"
	}
	one := request.StrikeOne{Stamp: v.session.Stamp(), Entry: l.target}
	whole := request.Strike{Stamp: v.session.Stamp(), Act: l.target}
	acts := []session.Act{one}
	answers := []ui.Answer{{Letter: 'y', Label: verb, Note: "it stays in the log, struck"}}
	if verb != "strike" {
		answers[0].Note = "the strike stays in the log, struck itself"
	}
	if n := l.standing; n > 1 {
		acts = append(acts, whole)
		answers = append(answers, ui.Answer{Letter: 'w', Label: "the whole act", Note: fmt.Sprintf("%d entries written together", n)})
	}
	answers = append(answers, ui.Answer{Letter: 'n', Label: "leave it"})
	q := &question{root: v.session.Root, look: preview.New(v.session), acts: acts}
	q.Choice = ui.NewChoice(v.session.Root, verb+" entry "+fmt.Sprint(l.shown.Seq)+": "+l.says, answers, func(i int) tea.Cmd {
		v.session.Root.Drop(q)
		if i >= len(acts) {
			return nil
		}
		return v.session.Do(verb, acts[i])
	})
	v.session.Root.Push(q)
	return q.look.Ask(one)
}

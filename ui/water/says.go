package water

import (
	"fmt"

	physics "brine/wrasse/model/water"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// mostBrief is how many lines the cause, and the step after it, may take in brief.
const mostBrief = 3

// brief is the likeliest cause and what to do, with all the cause rests on or what of that has room beside it: the step is
// what was asked for.
func (s *Screen) brief(w int, full bool) []string {
	th := s.session.Root.Theme()
	c, ok := s.first()
	if !ok {
		return append(text.Brief(text.Clean(s.nothing()), w, mostBrief), s.silent(w)...)
	}
	var out []string
	said := text.Clean(c.Said())
	switch because := text.Clauses(text.Clean(c.Because), w-text.Width(said)-2); {
	case full:
		out = append(out, text.Para(w, "", "  ", th.Title.Render, said)...)
		out = append(out, text.Para(w, "  ", "  ", th.Dim.Render, th.Words(c.Because))...)
	case because != "":
		out = append(out, th.Title.Render(said)+": "+th.Dim.Render(because))
	default:
		for _, line := range text.Brief(said, w, mostBrief) {
			out = append(out, th.Title.Render(line))
		}
	}
	out = append(out, text.Brief("next: "+text.Clean(c.Next), w, mostBrief)...)
	return append(out, s.silent(w)...)
}

// silent names what has not been logged for long, which makes the dates above wrong.
func (s *Screen) silent(w int) []string {
	var out []string
	for _, say := range phrase.Silent(s.session.Book, s.session.Round) {
		out = append(out, text.Para(w, "", "", s.session.Root.Theme().Caution.Render, say)...)
	}
	return out
}

func (s *Screen) first() (physics.Cause, bool) {
	if len(s.is.Diagnosis.Causes) == 0 {
		return physics.Cause{}, false
	}
	return s.is.Diagnosis.Causes[0], true
}

// nothing is what is said when the readings give no cause.
func (s *Screen) nothing() string {
	switch {
	case s.is.Refused != nil:
		return "a reading can't be true: " + s.is.Refused.Error() + "; amend it in the log"
	case len(s.is.Diagnosis.CannotTell) > 0:
		return s.is.Diagnosis.CannotTell[0]
	}
	return "nothing to say yet: r logs the first readings"
}

// said is as much of the diagnosis behind its first cause as goes into h lines.
func (s *Screen) said(w, h int) []string {
	lines := s.diagnosis(w, 1)
	if len(lines) <= h || h < 1 {
		return lines
	}
	th := s.session.Root.Theme()
	return append(lines[:h-1:h-1], th.Key.Render("w")+" "+th.Dim.Render("shows the rest"))
}

// diagnosis is the causes from one on with what they rest on, and what can't be told.
func (s *Screen) diagnosis(w, from int) []string {
	th := s.session.Root.Theme()
	var out []string
	for i, c := range s.is.Diagnosis.Causes {
		if i < from {
			continue
		}
		out = append(out, text.Para(w, "", "  ", th.Title.Render, fmt.Sprintf("%d %s", i+1, c.Said()))...)
		out = append(out, text.Para(w, "  ", "  ", th.Dim.Render, th.Words(c.Because))...)
		out = append(out, text.Para(w, "  ", "  ", nil, th.Words("next: "+c.Next))...)
	}
	if from == 0 && len(s.is.Diagnosis.Causes) == 0 && len(s.is.Diagnosis.CannotTell) == 0 {
		out = append(out, text.Para(w, "", "", nil, s.nothing())...)
	}
	for _, d := range s.drifts {
		out = append(out, text.Para(w, "", "", nil, th.Words(d))...)
	}
	open := s.is.Diagnosis.CannotTell
	if from == 0 {
		out = append(out, s.silent(w)...)
	} else if len(s.is.Diagnosis.Causes) == 0 && len(open) > 0 { // the brief has said it
		open = open[1:]
	}
	for _, off := range phrase.OffNow(s.session.Book, s.is.On) {
		out = append(out, text.Para(w, "", "  ", nil, "? "+off)...)
	}
	for _, q := range append(append([]string{}, open...), s.is.Cautions...) {
		out = append(out, text.Para(w, "", "  ", nil, th.Words("? "+q))...)
	}
	return out
}

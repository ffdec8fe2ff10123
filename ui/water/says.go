package water

import (
	"fmt"

	physics "brine/wrasse/model/water"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// cut is at most n lines, the last of them ending in an ellipsis where some were left out.
func cut(lines []string, n int) []string {
	if len(lines) <= n {
		return lines
	}
	out := append([]string{}, lines[:n]...)
	out[n-1] += text.Ellipsis
	return out
}

// mostBrief is how many lines the cause, and the step after it, may take in brief.
const mostBrief = 3

// brief is the likeliest cause and what to do, in full where a few lines hold it: the rest of the view can be looked up, the
// step is what was asked for.
func (s *Screen) brief(w int) []string {
	th := s.session.Root.Theme()
	c, ok := s.first()
	if !ok {
		return append(cut(text.Wrap(text.Clean(s.nothing()), w), mostBrief), s.silent(w)...)
	}
	var out []string
	for _, line := range cut(text.Wrap(text.Clean(c.Said()), w), mostBrief) {
		out = append(out, th.Title.Render(line))
	}
	if len(out) == 1 {
		if room := w - text.Width(c.Said()) - 2; room > 16 {
			out[0] += ": " + th.Dim.Render(text.Fit(text.Clean(c.Because), room))
		}
	}
	for _, line := range cut(text.Wrap("next: "+text.Clean(c.Next), w), mostBrief) {
		out = append(out, text.Fit(line, w))
	}
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

// said is as much of the diagnosis as goes into h lines.
func (s *Screen) said(w, h int) []string {
	lines := s.diagnosis(w)
	if len(lines) <= h || h < 1 {
		return lines
	}
	th := s.session.Root.Theme()
	return append(lines[:h-1:h-1], th.Key.Render("w")+" "+th.Dim.Render("shows the rest"))
}

// diagnosis is all causes with what they rest on, and what can't be told.
func (s *Screen) diagnosis(w int) []string {
	th := s.session.Root.Theme()
	var out []string
	for i, c := range s.is.Diagnosis.Causes {
		out = append(out, text.Para(w, "", "  ", th.Title.Render, fmt.Sprintf("%d %s", i+1, c.Said()))...)
		out = append(out, text.Para(w, "  ", "  ", th.Dim.Render, c.Because)...)
		out = append(out, text.Para(w, "  ", "  ", nil, "next: "+c.Next)...)
	}
	if len(s.is.Diagnosis.Causes) == 0 && len(s.is.Diagnosis.CannotTell) == 0 {
		out = append(out, text.Para(w, "", "", nil, s.nothing())...)
	}
	for _, d := range s.drifts {
		out = append(out, text.Para(w, "", "", nil, d)...)
	}
	out = append(out, s.silent(w)...)
	for _, q := range append(append([]string{}, s.is.Diagnosis.CannotTell...), s.is.Cautions...) {
		out = append(out, text.Para(w, "", "  ", nil, "? "+q)...)
	}
	return out
}

package water

import (
	"strings"

	"brine/wrasse/model"
	physics "brine/wrasse/model/water"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/tide"
	"brine/wrasse/ui/words"
)

// bar is the tide bar of a chore in w cells, with its look.
func (s *Screen) bar(st *schedule.Standing, w int) string {
	if !st.HasDue {
		return text.Fit("", w)
	}
	th := s.desk.Root.Theme()
	return tide.Look(th, st, th.Tide).Render(tide.Bar(w, tide.Of(st, s.is.On)))
}

// standing is the chore that renews a stage, the one to be done first of several.
func (s *Screen) standing(stage model.Stage) *schedule.Standing {
	r := s.desk.Round
	for i := range r.Standings {
		if st := &r.Standings[i]; st.Component.Stage == stage && st.Chore.Work == model.WorkRenew {
			return st
		}
	}
	return nil
}

// inUse tells whether the book has a component of a stage.
func (s *Screen) inUse(stage model.Stage) bool {
	for _, c := range s.desk.Book.Components() {
		if c.Stage == stage && c.Retired.IsZero() {
			return true
		}
	}
	return false
}

// verdict is the word on a stage, with its look.
func (s *Screen) verdict(v physics.Verdict) string {
	th := s.desk.Root.Theme()
	switch v {
	case physics.Act:
		return th.Late.Render("act")
	case physics.Watch:
		return th.Soon.Render("watch")
	case physics.Sound:
		return th.Good.Render("sound")
	}
	return th.Dim.Render(string(v))
}

const barWidth = 14

// stages is a line for each stage: its bar, when it is due, the verdict and why.
func (s *Screen) stages(w int) []string {
	if s.desk.Root.Theme().Plain {
		return s.stagesInWords(w)
	}
	var out []string
	for _, stage := range words.Stages() {
		if !s.inUse(stage) {
			continue
		}
		v := s.is.Verdict(stage)
		name, bar, when := text.Fit(words.StageName(stage), 8), "", ""
		if st := s.standing(stage); st != nil {
			bar, when = s.bar(st, barWidth), words.When(st, s.is.On)
		}
		row := name + " " + text.Fit(bar, barWidth) + " " + text.Fit(when, 11) + " " + s.verdict(v.Verdict)
		if room := w - text.Width(row) - 2; room >= 12 {
			row += ": " + text.Fit(text.Clean(v.Because), room)
		}
		out = append(out, text.Fit(row, w))
	}
	if out == nil {
		out = append(out, text.Fit("no stage in the book; view 3 adds them", w))
	}
	return out
}

// cards is a card for each stage: a line with its bar, and the reason in full.
func (s *Screen) cards(w int) []string {
	th := s.desk.Root.Theme()
	if th.Plain {
		return s.stagesInWords(w)
	}
	var out []string
	for _, stage := range words.Stages() {
		if !s.inUse(stage) {
			continue
		}
		v := s.is.Verdict(stage)
		bar, when := "", ""
		if st := s.standing(stage); st != nil {
			bar, when = s.bar(st, barWidth+6), words.When(st, s.is.On)
		}
		head := th.Title.Render(text.Fit(words.StageName(stage), 9)) + text.Fit(bar, barWidth+6) + "  " + text.Fit(when, 11) + " " + s.verdict(v.Verdict)
		out = append(out, text.Fit(head, w))
		because := v.Because
		if v.Verdict == physics.Act || v.Verdict == physics.Watch {
			because, _, _ = strings.Cut(because, ": ") // its readings stand with the causes
		}
		for _, line := range cut(text.Wrap(text.Clean(because), w-2), 2) {
			out = append(out, "  "+th.Dim.Render(line))
		}
	}
	if out == nil {
		out = append(out, text.Fit("no stage in the book; view 3 adds them", w))
	}
	return out
}

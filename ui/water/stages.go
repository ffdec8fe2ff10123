package water

import (
	"slices"
	"strings"

	"brine/wrasse/model"
	physics "brine/wrasse/model/water"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/lifebar"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// unitStage is a stage of the unit of which the book has a component.
type unitStage struct {
	name string
	physics.StageVerdict
	chore *schedule.Standing // that renews it, the one to be done first of several; nil when none does
}

// inUse are those there are, in the order the water flows.
func (s *Screen) inUse() []unitStage {
	var out []unitStage
	for _, of := range phrase.Stages() {
		if slices.ContainsFunc(s.session.Book.Components(), func(c model.Component) bool { return c.Stage == of && c.Retired.IsZero() }) {
			out = append(out, unitStage{phrase.StageName(of), s.is.Verdict(of), s.renews(of)})
		}
	}
	return out
}

// inBrief is why the verdict is as it is. The readings behind one that asks for something stand with the causes.
func (of unitStage) inBrief() string {
	because := of.Because
	if of.Verdict == physics.Act || of.Verdict == physics.Watch {
		because, _, _ = strings.Cut(because, ": ")
	}
	return text.Clean(because)
}

func (s *Screen) renews(stage model.Stage) *schedule.Standing {
	r := s.session.Round
	for i := range r.Standings {
		if st := &r.Standings[i]; st.Component.Stage == stage && st.Chore.Work == model.WorkRenew {
			return st
		}
	}
	return nil
}

// barAndDate are the tide bar of a stage's chore in w cells, and when it is due.
func (s *Screen) barAndDate(of unitStage, w int) (bar, when string) {
	th, bar := s.session.Root.Theme(), text.Fit("", w)
	if of.chore == nil {
		return bar, ""
	}
	if of.chore.HasDue {
		bar = lifebar.Draw(th, w, lifebar.Of(of.chore, s.is.On))
	}
	return bar, phrase.When(of.chore, s.is.On)
}

// verdict is the word on a stage, with its look.
func (s *Screen) verdict(v physics.Verdict) string {
	th := s.session.Root.Theme()
	switch v {
	case physics.Act:
		return th.Late.Render("act")
	case physics.Watch, physics.ReadAgain:
		return th.Soon.Render(string(v))
	case physics.Sound:
		return th.Good.Render("sound")
	}
	return th.Dim.Render(string(v))
}

const barWidth = 12

// stages is a line for each stage: its bar, when it is due, the verdict and why.
func (s *Screen) stages(w int) []string {
	if s.session.Root.Theme().Plain {
		return s.stagesInWords(w)
	}
	var out []string
	whens := 0
	for _, v := range s.inUse() {
		_, when := s.barAndDate(v, barWidth)
		whens = max(whens, text.Width(when))
	}
	for _, v := range s.inUse() {
		bar, when := s.barAndDate(v, barWidth)
		row := text.Fit(v.name, 8) + " " + bar + " " + text.Fit(when, whens) + " " + s.verdict(v.Verdict)
		if because := text.Clauses(v.inBrief(), w-text.Width(row)-2); because != "" {
			row += ": " + because
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
	th := s.session.Root.Theme()
	if th.Plain {
		return s.stagesInWords(w)
	}
	var out []string
	for _, v := range s.inUse() {
		bar, when := s.barAndDate(v, barWidth+8)
		head := th.Title.Render(text.Fit(v.name, 9)) + bar + "  " + text.Fit(when, 11) + " " + s.verdict(v.Verdict)
		out = append(out, text.Fit(head, w))
		for _, line := range text.Brief(v.inBrief(), w-2, 2) {
			out = append(out, "  "+th.Dim.Render(line))
		}
	}
	if out == nil {
		out = append(out, text.Fit("no stage in the book; view 3 adds them", w))
	}
	return out
}

package water

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/station"
	"brine/wrasse/ui"
	"brine/wrasse/ui/request"

	tea "github.com/charmbracelet/bubbletea"
)

// sightLetters answer "what did you see?", in the order of the sightings.
const sightLetters = "wdiuf"

// see asks what was seen without a meter. What is seen already is answered as gone.
func (s *Screen) see() {
	all := station.Sights(s.session.Book)
	if len(all) == 0 {
		s.session.Root.Fail(fmt.Errorf("the book has no gauge for what is seen; view 3 adds one, such as of the role %s", station.RoleSilica))
		return
	}
	answers := make([]ui.Answer, len(all))
	values := make([]float64, len(all))
	for i, g := range all {
		values[i] = 1
		answers[i] = ui.Answer{Letter: rune(sightLetters[i]), Label: g.Name, Note: "seen today"}
		if station.Seen(s.session.Book, g, s.session.Today()) {
			values[i], answers[i].Note = 0, "seen of late; this says that it is gone"
		}
	}
	s.session.Root.Push(ui.NewChoice(s.session.Root, "What did you see?", answers, func(i int) tea.Cmd {
		return s.session.Do("logging what was seen", request.Read{Stamp: s.session.Stamp(), Readings: []model.Reading{{Gauge: all[i].ID, Value: values[i]}}})
	}))
}

// normal says that from today on the readings are as they should be, because something was changed on purpose.
func (s *Screen) normal() {
	parts := station.Changed(s.session.Book, s.session.Today())
	if len(parts) == 0 {
		s.session.Root.Fail(fmt.Errorf("no stage in the book; view 3 adds them"))
		return
	}
	var answers []ui.Answer
	for i, c := range parts {
		answers = append(answers, ui.Answer{Letter: rune('a' + i), Label: c.Name, Note: "was changed; its readings today are normal"})
	}
	s.session.Root.Push(ui.NewChoice(s.session.Root, "From today is normal: the first weeks begin anew", answers, func(i int) tea.Cmd {
		return s.session.Do("beginning the first weeks anew", request.Log{Stamp: s.session.Stamp(), What: model.Normal{Component: parts[i].ID}})
	}))
}

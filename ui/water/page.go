package water

import (
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/words"
)

// readable is the longest line that is pleasant to read.
const readable = 92

// inFull is what the readings say in full, and what keepers most often get wrong.
func (s *Screen) inFull(w int) []string {
	th := s.desk.Root.Theme()
	measure := min(w, readable)
	lines := []string{s.heading("what the readings say", "", w)}
	lines = append(lines, s.diagnosis(measure)...)
	lines = append(lines, "", s.heading("stages", "", w))
	lines = append(lines, s.cards(measure)...)
	if n := s.is.NormalFlow; !n.Known() && n.Why != "" {
		lines = append(lines, "", th.Title.Render("normalised flow: no value"))
		lines = append(lines, text.Para(measure, "  ", "  ", th.Dim.Render, n.Why)...)
	}
	if f := s.is.FirstWeeks; f.From != 0 {
		lines = append(lines, "")
		lines = append(lines, text.Para(measure, "", "", th.Dim.Render,
			"First weeks, against which readings are held: "+words.Day(f.From, s.is.On)+" to "+words.Day(f.Through, s.is.On)+".")...)
	}
	lines = append(lines, "", s.heading("easily got wrong", "", w))
	first, rest := "· ", "  "
	if th.Plain {
		first, rest = "", ""
	}
	for _, fact := range words.Facts(s.desk.Book, s.is) {
		lines = append(lines, text.Para(measure, first, rest, nil, fact)...)
	}
	return lines
}

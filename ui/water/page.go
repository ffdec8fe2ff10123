package water

import (
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// readable is the longest line that is pleasant to read.
const readable = 92

// inFull is what the readings say in full, and what keepers most often get wrong.
func (s *Screen) inFull(w int) []string {
	th := s.session.Root.Theme()
	measure := min(w, readable)
	lines := []string{s.heading("what the readings say", "", w)}
	lines = append(lines, s.diagnosis(measure, 0)...)
	lines = append(lines, "", s.heading("stages", "", w))
	lines = append(lines, s.cards(measure)...)
	if n := s.is.NormalFlow; !n.Known() && n.Why != "" {
		lines = append(lines, "", th.Title.Render("normalised flow: no value"))
		lines = append(lines, text.Para(measure, "  ", "  ", th.Dim.Render, n.Why)...)
	}
	if f := s.is.FirstWeeks; f.From != 0 {
		say := "First weeks, against which readings are held: " + phrase.Day(f.From, s.is.On) + " to " + phrase.Day(f.Through, s.is.On)
		if f.UnknownAge {
			say += ", of a membrane whose renewal is not in the log"
		}
		lines = append(lines, "")
		lines = append(lines, text.Para(measure, "", "", th.Dim.Render, say+"; N begins them anew.")...)
	}
	say := phrase.Figures(s.session.Book, s.is)
	if s.is.Rejection.Known() {
		about := phrase.Rejection(s.is.Rejection.Value, s.is.RejectionAt)
		if span := phrase.RejectionSpan(s.is); span != "" {
			about += ": " + span
		}
		say = append([]string{about}, say...)
	}
	if len(say) > 0 {
		lines = append(lines, "", s.heading("reckoned beside it", "", w))
		lines = append(lines, s.points(say, measure)...)
	}
	lines = append(lines, "", s.heading("easily got wrong", "", w))
	return append(lines, s.points(phrase.Facts(s.session.Book, s.is), measure)...)
}

// points is a list of sentences.
func (s *Screen) points(sentences []string, measure int) []string {
	first, rest := "· ", "  "
	if s.session.Root.Theme().Plain {
		first, rest = "", ""
	}
	var out []string
	for _, fact := range sentences {
		out = append(out, text.Para(measure, first, rest, nil, fact)...)
	}
	return out
}

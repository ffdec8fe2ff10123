package water

import (
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// onHand is the card of the water there is: a vessel in two lines, its level with its age, and how long it lasts. Nothing
// where the book has no vessel.
func (s *Screen) onHand(w int) []string {
	b, r := s.session.Book, s.session.Round
	all := r.OnHand()
	if len(all) == 0 {
		return nil
	}
	out := []string{s.heading("on hand", "l counts, n asks", w)}
	for i := range all {
		lines := phrase.Card(b, &all[i], r.On)
		out = append(out, text.Brief(text.Clean(lines[0]), w, 2)...)
		for _, say := range lines[1:] {
			for _, line := range text.Brief(text.Clean(say), w-2, 2) {
				out = append(out, "  "+s.session.Root.Theme().Dim.Render(line))
			}
		}
	}
	return out
}

// vessels are a line each, for a window without room for more.
func (s *Screen) vessels(w int) (out []string) {
	b, r := s.session.Book, s.session.Round
	for _, o := range r.OnHand() {
		out = append(out, text.Fit(text.Clean(phrase.Brief(b, &o, r.On)), w))
	}
	return out
}

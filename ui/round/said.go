package round

import (
	"fmt"

	"brine/wrasse/schedule"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// sentence is a row in words.
func (s *Screen) sentence(r *row) string {
	on := s.session.Round.On
	switch {
	case r.f != nil:
		return phrase.FaultSaid(r.f, on)
	case r.b != nil:
		return phrase.BreachSaid(s.session.Book, r.b, on)
	case r.s == nil && s.open[r.fold]:
		return r.line + ", unfolded"
	case r.s == nil:
		return r.line + ", folded"
	}
	say := phrase.Said(r.s, on)
	if flag := flagged(s.session.Book, r.s.Component.ID); flag != "" {
		say += ", " + flag
	}
	if s.marked[r.s.Chore.ID] {
		say = "marked: " + say
	}
	return say
}

// inWords is what fits into the minutes at hand, a fact a line.
func (b *box) inWords(w int) []string {
	var out []string
	say := func(format string, args ...any) {
		out = append(out, text.Para(w, "", "", nil, fmt.Sprintf(format, args...))...)
	}
	for _, stop := range b.fit.Stops {
		say("at %s, %s to get set up", stop.Place.Name, phrase.Count(stop.Place.Minutes, "minute"))
		for _, o := range stop.Openings {
			if o.Component.AccessMinutes > 0 {
				say("get at %s, %s", o.Component.Name, phrase.Count(o.Component.AccessMinutes, "minute"))
			}
			for _, s := range o.Chores {
				say("%s, %s: %s, %s", s.Component.Name, s.Chore.Name, phrase.WhenSaid(s, b.session.Round.On), phrase.Minutes(s.Chore))
			}
		}
	}
	return out
}

// weekInWords is a week of the year ahead.
func weekInWords(k schedule.Week) string {
	s := "week of " + k.Start.Format("2 Jan") + ": "
	if len(k.Visits) == 0 {
		return s + "nothing"
	}
	s += fmt.Sprintf("%s hands-on, %d to get at it", phrase.Count(k.Hands, "minute"), k.Access)
	if k.Waiting > 0 {
		s += fmt.Sprintf(", %d waiting", k.Waiting)
	}
	if k.Spares > 0 {
		s += fmt.Sprintf(", spares for %.2f", k.Spares)
	}
	return s
}

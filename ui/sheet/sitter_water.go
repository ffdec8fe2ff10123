package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// fourWeeks is how far ahead the water on hand is said.
const fourWeeks = 28

// jobs are the numbers that chores have on the page.
type jobs map[model.ID]int

// waters are the vessels of which something is taken, wanted or asked in the days of the page, an item each.
func (s *Sitter) waters(b *ledger.Book, r *schedule.Round, known jobs) []string {
	var out []string
	all := r.OnHand()
	for i := range all {
		o := &all[i]
		var say []string
		for _, id := range takers(b, o.Vessel.ID, known) {
			say = append(say, fmt.Sprintf("Job %d takes its water from here.", known[id]+1))
		}
		say = append(append(say, s.wanted(b, o, known)...), s.asked(b, r, o, known)...)
		if len(say) > 0 {
			out = append(out, text.Clean(s.ready(b, o, r.On)+" "+strings.Join(say, " ")))
		}
	}
	if len(out) > 0 && s.Back.Sub(r.On) > fourWeeks {
		out = append(out, "This is reckoned up to "+phrase.Weekday(r.On.AddDays(fourWeeks), s.From)+"; for the days after it, call.")
	}
	return out
}

// takers are the chores of the page that take water from a vessel, by number.
func takers(b *ledger.Book, vessel model.ID, known jobs) []model.ID {
	var out []model.ID
	for id := range known {
		c, _ := b.Chore(id)
		if slices.ContainsFunc(c.Takes, func(t model.Take) bool { return t.Vessel == vessel }) {
			out = append(out, id)
		}
	}
	slices.SortFunc(out, func(a, b model.ID) int { return known[a] - known[b] })
	return out
}

// ready is what stands ready in a vessel when the sitter begins: "Reservoir (Cellar), fresh water: some 42 L on Sat 5 Dec."
func (s *Sitter) ready(b *ledger.Book, o *schedule.OnHand, on model.Date) string {
	place, _ := b.Place(o.Vessel.Place)
	out := fmt.Sprintf("%s (%s), %s water: ", o.Vessel.Name, place.Name, o.Vessel.Holds)
	day := s.From.Sub(on)
	switch {
	case o.Vessel.Auto:
		return out + "its float valve keeps it full."
	case day >= len(o.Ahead):
		return out + "look how much is in it, and call if it is low."
	case o.Ahead[day] < o.Vessel.Keep && s.From > on:
		return out + "the keeper fills it before leaving."
	}
	return out + "some " + phrase.Amount(b, math.Round(max(0, o.Ahead[day])), "L") + " on " + phrase.Weekday(s.From, s.From) + "."
}

// wanted is what somebody needs from a vessel in the days of the page, and whether the sitter takes it. What nobody's chore
// takes is set on its day too.
func (s *Sitter) wanted(b *ledger.Book, o *schedule.OnHand, known jobs) []string {
	var out []string
	for _, of := range o.Out {
		if of.Need == nil || !s.covers(of.On) {
			continue
		}
		say := phrase.Amount(b, of.Litres, "L") + " of it are wanted by " + phrase.Weekday(of.On, s.From)
		if note := of.Need.What.Note; note != "" {
			say += " (" + note + ")"
		}
		c, ok := b.Chore(of.Need.What.Chore)
		switch n, yours := known[c.ID]; {
		case yours:
			say += fmt.Sprintf(": for job %d.", n+1)
		case ok:
			say += ", for " + parse.ChoreLabel(b, c) + ": not your job; the keeper sees to it, or somebody who is sent."
			s.keepers = true
		default:
			say += ": take them from here if the keeper asked you to, else leave them for whoever comes."
			day := &s.Days[of.On.Sub(s.From)]
			day.Water = append(day.Water, text.Clean(phrase.Amount(b, of.Litres, "L")+" of water wanted from: "+o.Vessel.Name))
		}
		out = append(out, say)
	}
	return out
}

// asked is what must be made, mixed or carried for a vessel in the days of the page, by when, and whose job that is.
func (s *Sitter) asked(b *ledger.Book, r *schedule.Round, o *schedule.OnHand, known jobs) []string {
	var parts []string
	for _, m := range o.Mixes {
		if s.covers(m.By) {
			parts = append(parts, phrase.Amount(b, m.Litres, "L")+" by "+phrase.Weekday(m.By, s.From))
		}
	}
	how := "must be carried into it"
	if o.Vessel.Holds == model.HoldsSalt {
		how = "must be mixed in it"
	}
	if o.Missing > 0 && s.covers(o.StartBy) {
		parts, how = []string{"By " + phrase.Weekday(o.StartBy, s.From)}, "the unit must be started to make "+phrase.Amount(b, o.Missing, "L")
	}
	if len(parts) == 0 {
		return nil
	}
	return []string{strings.Join(parts, ", ") + " " + how + ": " + s.whose(r, o.Vessel.ID, known)}
}

// covers tells whether a date is one of the days of the page.
func (s *Sitter) covers(on model.Date) bool { return on >= s.From && on < s.Back }

// whose says who sees to the water in a vessel: the sitter where the chore that watches it is on the page.
func (s *Sitter) whose(r *schedule.Round, vessel model.ID, known jobs) string {
	for i := range r.Standings {
		c := r.Standings[i].Chore
		if n, ok := known[c.ID]; ok && slices.ContainsFunc(c.Clocks, func(c model.Clock) bool { return c.Kind == model.ClockLevel && c.Vessel == vessel }) {
			return fmt.Sprintf("that is your job %d.", n+1)
		}
	}
	s.keepers = true
	return "not your job; the keeper sees to it, or somebody who is sent."
}

// word is a part that a stranger does not know by its name.
type word struct {
	in    []string // what its name holds, in small letters
	is    string
	yours string // what is said where jobs of the page are on it, which %s names
	leave string // what is said where none is
}

// words are what the parts with odd names are, and what to do about them. Common practice, no source.
var words = []word{
	{in: []string{"sump"},
		is:    "the lower basin, into which the tank's water runs and from which a pump lifts it back. It holds the tank's own water; none is taken out or put in.",
		yours: "On it: %s.", leave: "Leave it alone."},
	{in: []string{"skimmer"},
		is:    "a tube full of foam, with a cup on top for what it takes out. The tank does without it for a day or two.",
		yours: "Cup full before its day: do %s that day and write it down. Full again a day later, or running over: pull its plug with dry hands, if a strip of tape marks it, leave it out, and call.",
		leave: "Cup full or running over: pull its plug with dry hands, if a strip of tape marks it, leave it out, and call."},
	{in: []string{"top-up"},
		is:    "a small pump with a float, that replaces from a can of fresh water what dries up in the tank.",
		yours: "On it: %s, and no more.", leave: "The can is filled by whoever is written below, and nobody else. Empty: call."},
	{in: []string{"rcd", "gfci"},
		is:    "a switch with a test button, that cuts the power where it leaks away.",
		yours: "On it: %s, and no more. In need you reach for the fuse box.",
		leave: "You reach for none of them: in need the power goes off at the fuse box. One that has gone off stays off: call."},
}

// said are the words for the parts in use of a book.
func said(b *ledger.Book, on model.Date, known jobs) []string {
	var out []string
	for _, w := range words {
		var names []string
		var mine []int
		for _, c := range b.Components() {
			if retired(c.Retired, on) || !w.names(c.Name) {
				continue
			}
			place, _ := b.Place(c.Place)
			names = append(names, c.Name+" ("+place.Name+")")
			for id, n := range known {
				if chore, _ := b.Chore(id); chore.Component == c.ID {
					mine = append(mine, n+1)
				}
			}
		}
		if len(names) == 0 {
			continue
		}
		slices.Sort(mine)
		do := w.leave
		if len(mine) > 0 {
			do = fmt.Sprintf(w.yours, numbered(mine))
		}
		out = append(out, text.Clean(strings.Join(names, "; ")+": "+w.is+" "+do))
	}
	return out
}

// numbered are jobs by their numbers: "job 2, job 10".
func numbered(all []int) string {
	out := make([]string, len(all))
	for i, n := range all {
		out[i] = fmt.Sprint("job ", n)
	}
	return strings.Join(out, ", ")
}

func (w word) names(part string) bool {
	return slices.ContainsFunc(w.in, func(in string) bool { return strings.Contains(strings.ToLower(part), in) })
}

package phrase

import (
	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
)

// Leaving is an absence that is ahead, and what there is to do before it: "Ines leaves Sat 5 Dec, back Sun 13 Dec; before
// that 7 chores, 1 h 20; 2 for the sitter".
func Leaving(r *schedule.Round, a schedule.Absence) string {
	out := "away from " + leaves(a.From, r.On) + ", back " + Weekday(a.Until, r.On)
	if a.By != "" {
		out = a.By + " " + out
	}
	todo := r.BeforeYouGo(a)
	minutes := 0
	for _, s := range todo {
		minutes += s.Chore.Minutes
	}
	if len(todo) == 0 {
		out += "; nothing comes due before"
	} else {
		out += "; before that " + Count(len(todo), "chore") + ", " + parse.Duration(float64(minutes))
	}
	return out + theSitters(r, a)
}

func leaves(d, today model.Date) string {
	if d == today {
		return "today"
	}
	return Weekday(d, today)
}

// Gone is an absence that lasts: "Ines is away until Sun 13 Dec; 2 for the sitter".
func Gone(r *schedule.Round, a schedule.Absence) string {
	out := "away until " + Weekday(a.Until, r.On)
	if a.By != "" {
		out = a.By + " is " + out
	}
	return out + theSitters(r, a)
}

// theSitters is how many chores are left to the sitter.
func theSitters(r *schedule.Round, a schedule.Absence) string {
	chores := map[model.ID]bool{}
	for _, v := range r.ForSitter(a) {
		chores[v.Standing.Chore.ID] = true
	}
	if len(chores) == 0 {
		return ""
	}
	return "; " + Count(len(chores), "chore") + " for a sitter"
}

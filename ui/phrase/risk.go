package phrase

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
)

// harm is what a failure would do, by consequence.
var harm = [...]string{1: "looks bad", 2: "costs money or water", 3: "endangers animals or people"}

// Risk is what is likely to happen within a week if a chore is left, and what that
// would harm: "a chance of 34 % to be spent within a week, which costs money
// or water".
func Risk(s *schedule.Standing) string {
	what := ""
	if c := s.Chore.Consequence; c >= 1 && c < len(harm) {
		what = harm[c]
	}
	g := s.Governing()
	switch {
	case s.Chore.Work == model.WorkTest || s.Chore.Work == model.WorkRead:
		// Checks do not learn, so their chance is the rule's and nobody's experience.
		return "left unchecked it " + what
	case s.Chore.Fixed: // nor does what is done by a rule alone
		return "left undone it " + what
	case g == nil:
		return what
	case g.Call != nil:
		return "not looked at since then, which " + what
	case g.Confirmed:
		return "over its threshold now, which " + what
	case g.Crossed:
		return "perhaps over its threshold now, which " + what
	}
	if s.Chore.Hidden && s.Chance > 0.99 {
		return "almost surely worn out by now, which " + what
	}
	fails := "be spent within a week"
	switch {
	case s.Chore.Hidden:
		fails = "have worn out within a week"
	case s.Chore.Work == model.WorkClean:
		fails = "foul up within a week"
	}
	if s.Chance >= almostSure {
		return "almost sure to " + fails + ", which " + what
	}
	return fmt.Sprintf("a chance of %s to %s, which %s", percent(s.Chance), fails, what)
}

// almostSure is the chance from which a figure tells nobody more.
const almostSure = 0.95

// percent is a chance in whole percent, and no false certainty at the ends.
func percent(p float64) string {
	switch n := int(p*100 + 0.5); {
	case n < 1:
		return "under 1 %"
	case n > 99:
		return "over 99 %"
	default:
		return fmt.Sprintf("%d %%", n)
	}
}

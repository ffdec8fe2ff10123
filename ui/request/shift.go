package request

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
)

// SayShift is what would become of a chore's dates, in one line.
func SayShift(b *ledger.Book, s Shift, today model.Date) string {
	label := parse.ChoreLabel(b, s.Chore)
	switch {
	case s.After == nil:
		return label + ": leaves the round"
	case s.Before == nil:
		return label + ": comes into the round, " + phrase.Due(s.After, today)
	case s.Before.Due == s.After.Due && s.Before.Limit != s.After.Limit:
		return fmt.Sprintf("%s: limit %s, now %s", label, dateOr(s.After.Limit, today), dateOr(s.Before.Limit, today))
	case s.Before.Due == s.After.Due:
		return fmt.Sprintf("%s: %s, now %s", label, stateWord(s.After, today), stateWord(s.Before, today))
	}
	return fmt.Sprintf("%s: due %s, now %s", label, dateOr(s.After.Due, today), dateOr(s.Before.Due, today))
}

func dateOr(d, today model.Date) string {
	if d.IsZero() {
		return "without date"
	}
	return phrase.Day(d, today)
}

// stateWord tells states with the same dates apart: put off, or not.
func stateWord(s *schedule.Standing, today model.Date) string {
	if s.State == schedule.StateDeferred {
		return "put off " + phrase.When(s, today)
	}
	return phrase.Due(s, today)
}

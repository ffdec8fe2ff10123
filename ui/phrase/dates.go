package phrase

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
)

// farDays is how far from today a date lies before its year is named.
const farDays = 270

// Day is a date as it stands in a sentence: "22 Nov", with its year when that is not
// plain from today.
func Day(d, today model.Date) string {
	if gap := d.Sub(today); gap > farDays || gap < -farDays {
		return d.Format("2 Jan 2006")
	}
	return d.Format("2 Jan")
}

// Weekday is Day with the day of the week: "Mon 7 Dec".
func Weekday(d, today model.Date) string { return d.Format("Mon ") + Day(d, today) }

// Today is a date in full: "Wed 25 Nov 2026".
func Today(d model.Date) string { return d.Format("Mon 2 Jan 2006") }

// InDays is a date as seen from today: "today", "tomorrow", "in 3 d", "3 d ago".
func InDays(d, today model.Date) string {
	switch n := d.Sub(today); {
	case n == 0:
		return "today"
	case n == 1:
		return "tomorrow"
	case n == -1:
		return "yesterday"
	case n > 0:
		return fmt.Sprintf("in %d d", n)
	default:
		return fmt.Sprintf("%d d ago", -n)
	}
}

// When is the word of a row for when a chore is to be done, in at most 11 cells for
// anything less than three years late: "limit +3 d", "due +9 d", "today", "in 3 d",
// "till 5 Dec", "7 Dec", "no date".
func When(s *schedule.Standing, today model.Date) string {
	switch {
	case s.State == schedule.StateDeferred && s.Deferred != nil:
		return "till " + s.Deferred.What.Until.Format("2 Jan")
	case !s.HasDue:
		return "no date"
	case s.PastLimit:
		return fmt.Sprintf("limit +%d d", today.Sub(s.Limit))
	case s.State == schedule.StateLate:
		return fmt.Sprintf("due +%d d", s.DaysLate)
	case s.State == schedule.StateAhead:
		return Ahead(s.Due, today)
	}
	return InDays(s.Due, today)
}

// WhenShort is When in at most 8 cells.
func WhenShort(s *schedule.Standing, today model.Date) string {
	switch {
	case s.State == schedule.StateDeferred && s.Deferred != nil:
		return "> " + s.Deferred.What.Until.Format("2 Jan")
	case !s.HasDue:
		return "no date"
	case s.PastLimit:
		return fmt.Sprintf("lim+%dd", today.Sub(s.Limit))
	case s.State == schedule.StateLate:
		return fmt.Sprintf("due+%dd", s.DaysLate)
	case s.State == schedule.StateAhead:
		return Ahead(s.Due, today)
	}
	return InDays(s.Due, today)
}

// Ahead is a date to come in a column: a far one names its month and year instead of its day.
func Ahead(d, today model.Date) string {
	if d.Sub(today) > farDays {
		return d.Format("Jan 2006")
	}
	return d.Format("2 Jan")
}

// Counts is how many chores stand how: "1 past limit · 2 late · 2 today". short
// leaves out what can wait.
func Counts(r *schedule.Round, short bool) string {
	c := r.Counts
	var parts []string
	add := func(n int, word string) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, word))
		}
	}
	add(len(r.Faults), "broken")
	add(len(r.Breaches), "unsafe")
	if short {
		add(c.PastLimit, "limit")
	} else {
		add(c.PastLimit, "past limit")
	}
	add(c.Late-past(r, schedule.StateLate), "late")
	add(c.Due-past(r, schedule.StateDue), "today")
	if len(parts) == 0 {
		return "nothing due"
	}
	return strings.Join(parts, " · ")
}

// Now is Counts in one number: "7 now".
func Now(r *schedule.Round) string {
	n := len(r.Faults) + len(r.Breaches) + r.Counts.Late + r.Counts.Due
	if n == 0 {
		return "nothing due"
	}
	return fmt.Sprintf("%d now", n)
}

// past is how many in a state are named as past their limit instead.
func past(r *schedule.Round, state schedule.State) int {
	n := 0
	for i := range r.Standings {
		if s := &r.Standings[i]; s.State == state && s.PastLimit {
			n++
		}
	}
	return n
}

// Count is a number of things: "1 chore", "3 chores".
func Count(n int, one string) string {
	switch {
	case n == 1:
		return "1 " + one
	case one == "batch":
		return fmt.Sprintf("%d batches", n)
	case one == "entry":
		return fmt.Sprintf("%d entries", n)
	}
	return fmt.Sprintf("%d %ss", n, one)
}

package phrase

import (
	"cmp"
	"slices"

	"brine/wrasse/schedule"
)

// Section is a heading of the round, and the chores that stand under it.
type Section struct {
	State  schedule.State
	Title  string
	Far    bool  // not shown until it is asked for
	Chores []int // their places in the round
}

// BeforeYouGo stands for a state in which no chore is, but in whose section those stand that come due in an absence that is
// ahead. What is late or due today stands where it always does.
const BeforeYouGo schedule.State = "before you go"

// Sections are the chores of a round under their headings. Of several days they stand by day, else by what is at risk: days
// out of order read as a mistake.
func Sections(r *schedule.Round) []Section {
	out := []Section{
		{State: schedule.StateLate, Title: "overdue, worst first"},
		{State: schedule.StateDue, Title: "today"},
		{State: BeforeYouGo, Title: "before you go"},
		{State: schedule.StateSoon, Title: "this week"},
		{State: schedule.StateDeferred, Title: "put off"},
		{State: schedule.StateAhead, Title: "ahead", Far: true},
		{State: schedule.StateIdle, Title: "no date yet", Far: true},
	}
	var leaving []*schedule.Standing
	if a := r.Leaving(); a != nil {
		leaving = r.BeforeYouGo(*a)
	}
	for i := range r.Standings {
		s := &r.Standings[i]
		state := s.State
		if state != schedule.StateLate && state != schedule.StateDue && slices.Contains(leaving, s) {
			state = BeforeYouGo
		}
		at := slices.IndexFunc(out, func(sec Section) bool { return sec.State == state })
		out[at].Chores = append(out[at].Chores, i)
	}
	for _, sec := range out {
		if sec.State == BeforeYouGo || sec.State == schedule.StateSoon || sec.State == schedule.StateAhead {
			slices.SortStableFunc(sec.Chores, func(a, b int) int { return cmp.Compare(r.Standings[a].Due, r.Standings[b].Due) })
		}
	}
	return out
}

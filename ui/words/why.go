package words

import (
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/typed"
)

// Lead is how the due date follows from the date planned: "22 Nov, less 9 d for
// reach: grade 4 jobs slip 9 % here". Empty when nothing is taken off.
func Lead(s *schedule.Standing, today model.Date) string {
	g := s.Governing()
	if g == nil || g.LeadDays <= 0 {
		return ""
	}
	why := fmt.Sprintf("grade %d jobs slip %s %% here", s.Lead.Grade, typed.Number(estimate(s.Lead.Slip*100)))
	if s.Lead.Ticks == 0 {
		why = fmt.Sprintf("grade %d jobs are taken to slip %s %%", s.Lead.Grade, typed.Number(estimate(s.Lead.Slip*100)))
	}
	switch g.LeadHeld {
	case schedule.HeldQuarter:
		why += ", but a quarter at most is taken off"
	case schedule.HeldDays:
		why += ", but four weeks at most are taken off"
	}
	return fmt.Sprintf("%s, less %d d for reach: %s", Day(g.Planned, today), g.LeadDays, why)
}

// Learnt is what the log has taught about the life of a chore: "6 cycles: 1 found
// spent at 212 d, 2 heavy; half last 198 d, plan 164 d; your rule says 180 d". Empty
// when it has taught nothing.
func Learnt(b *model.Book, s *schedule.Standing) string {
	c := taught(s)
	if c == nil {
		return ""
	}
	return evidence(b, s, c) + "; half last " + rough(b, c.Median, c.Unit) + ", plan " + rough(b, c.Plan.Age, c.Unit) + planned(c) +
		"; " + stated(c) + " " + Exact(b, c.Life, c.Unit)
}

// LearntBriefly is Learnt without the evidence: "6 cycles; half last 198 d, plan 164 d; your
// rule says 180 d".
func LearntBriefly(b *model.Book, s *schedule.Standing) string {
	c := taught(s)
	if c == nil {
		return ""
	}
	return Count(c.Evidence.Cycles, "cycle") + "; half last " + roughFigure(b, c.Median, c.Unit) + ", plan " + rough(b, c.Plan.Age, c.Unit) +
		"; " + stated(c) + " " + Exact(b, c.Life, c.Unit)
}

// taught is the clock of a chore that its log has taught something, nil when it has none.
func taught(s *schedule.Standing) *schedule.ClockStanding {
	i := slices.IndexFunc(s.Clocks, func(c schedule.ClockStanding) bool { return c.Learns && c.Observations > 0 })
	if i < 0 {
		return nil
	}
	return &s.Clocks[i]
}

// planned says what decided a learnt plan, where that is not plain.
func planned(c *schedule.ClockStanding) string {
	switch c.Plan.By {
	case schedule.PlanLife:
		return " so that " + odds(c.Plan.Quantile) + " fail sooner"
	case schedule.PlanCost:
		return ", the cheapest in the long run"
	case schedule.PlanMedian:
		return ", where cost alone would go longer"
	}
	return ""
}

func stated(c *schedule.ClockStanding) string {
	if c.Clock.Rule == model.RuleEvery {
		return "your rule says"
	}
	return "stated as"
}

// evidence is the cycles a life rests on, by what they taught.
func evidence(b *model.Book, s *schedule.Standing, c *schedule.ClockStanding) string {
	e := c.Evidence
	failed := typed.FoundText(s.Chore.Work, model.FoundFailed)
	heavy := typed.FoundText(s.Chore.Work, model.FoundHeavy)
	var parts []string
	if e.FailedAt > 0 {
		parts = append(parts, fmt.Sprintf("%d over its threshold%s", e.FailedAt, ages(b, c, true)))
	}
	if e.Failed > 0 {
		parts = append(parts, fmt.Sprintf("%d found %s%s", e.Failed, failed, ages(b, c, false)))
	}
	if e.Heavy > 0 {
		parts = append(parts, fmt.Sprintf("%d %s", e.Heavy, heavy))
	}
	if e.Good > 0 {
		parts = append(parts, fmt.Sprintf("%d still good", e.Good))
	}
	if e.Untaught > 0 {
		parts = append(parts, fmt.Sprintf("%d left out", e.Untaught))
	}
	return Count(e.Cycles, "cycle") + ": " + strings.Join(parts, ", ")
}

// agesShown is how many ages of failure a sentence names.
const agesShown = 3

// ages names when the failures of one kind came: " at 212 d and 230 d".
func ages(b *model.Book, c *schedule.ClockStanding, exact bool) string {
	var out []string
	for _, a := range c.Evidence.FailAges {
		if a.Exact == exact {
			out = append(out, roughFigure(b, a.Value, c.Unit))
		}
	}
	if len(out) == 0 {
		return ""
	}
	out = out[max(len(out)-agesShown, 0):]
	unit := typed.UnitName(typed.Unit(c.Unit, b.Def().Units))
	return " at " + strings.Join(out, ", ") + " " + unit
}

// Change is what would move a chore's date, in one line. Empty when nothing would
// but its next tick.
func Change(b *model.Book, s *schedule.Standing) string {
	g := s.Governing()
	switch {
	case s.Chore.Fixed:
		return "fixed: what is found never changes its life" + besides(s)
	case s.Chore.Work == model.WorkTest || s.Chore.Work == model.WorkRead:
		return ""
	case g != nil && g.Confirmed:
		return "ticking it starts a new cycle; the log keeps the age at which it went over"
	case g != nil && g.Crossed:
		return "a second reading beyond decides, one within clears it"
	}
	for i := range s.Clocks {
		c := &s.Clocks[i]
		if !c.Learns {
			continue
		}
		bad := typed.FoundText(s.Chore.Work, model.FoundHeavy)
		good := typed.FoundText(s.Chore.Work, model.FoundLight)
		if c.Clock.Rule == model.RuleEvery {
			out := "found " + bad + " brings it forward; the rule is never made longer"
			if c.Plan.By == schedule.PlanRule && c.Observations > 0 && c.Plan.Log > c.Plan.Age {
				out += "; the log says " + rough(b, c.Plan.Log, c.Unit) + " would do"
			}
			return out
		}
		return "found " + bad + " brings it forward, found " + good + " or better sets it back"
	}
	return ""
}

// besides names what still moves the date of a chore whose life is fixed.
func besides(s *schedule.Standing) string {
	var what []string
	has := func(kinds ...model.ClockKind) bool {
		return slices.ContainsFunc(s.Clocks, func(c schedule.ClockStanding) bool { return slices.Contains(kinds, c.Kind) })
	}
	if has(model.ClockUsage, model.ClockLoad) {
		what = append(what, "use")
	}
	if has(model.ClockReading) {
		what = append(what, "readings")
	}
	if s.LeadDays > 0 {
		what = append(what, "the lead for reach")
	}
	if len(what) == 0 {
		return ""
	}
	return "; its date still goes by " + enumerate(what)
}

// enumerate joins words as a sentence does: "a, b and c".
func enumerate(what []string) string {
	last := len(what) - 1
	if last == 0 {
		return what[0]
	}
	return strings.Join(what[:last], ", ") + " and " + what[last]
}

// Put is the line of a chore put off: "put off till 5 Dec: o-ring on order".
func Put(s *schedule.Standing, today model.Date) string {
	if s.Deferred == nil {
		return ""
	}
	out := "put off till " + Day(s.Deferred.What.Until, today)
	if s.State != schedule.StateDeferred {
		out = "was put off till " + Day(s.Deferred.What.Until, today)
	}
	if r := s.Deferred.What.Reason; r != "" {
		out += ": " + r
	}
	if s.State == schedule.StateDeferred && s.PastLimit {
		out += "; past its limit since " + Day(s.Limit, today)
	}
	return out
}

// Needs is what a tick takes off the shelf: "needs 0.6 L resin, shelf 1.2 L". short
// reports that the shelf has less than that.
func Needs(b *model.Book, s *schedule.Standing) (line string, short bool) {
	var parts []string
	for _, sp := range s.Spares {
		part := Exact(b, sp.Quantity, sp.Spare.Unit) + " " + lowerFirst(sp.Spare.Name)
		if !sp.Counted {
			parts = append(parts, part+", shelf not counted yet")
			continue
		}
		part += ", shelf " + Exact(b, sp.OnHand, sp.Spare.Unit)
		switch {
		case sp.OnHand < 0:
			part += " (count it)"
		case sp.OnHand < sp.Quantity:
			part += " (too little)"
		}
		short = short || sp.OnHand < sp.Quantity
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return "", false
	}
	return "needs " + strings.Join(parts, "; "), short
}

// Due is the chore's two dates: "due 22 Nov, limit 12 Dec".
func Due(s *schedule.Standing, today model.Date) string {
	if !s.HasDue {
		return "no date yet"
	}
	out := "due " + Day(s.Due, today)
	if !s.Limit.IsZero() {
		out += ", limit " + Day(s.Limit, today)
	}
	return out
}

// Last is when a chore was last done and what was found.
func Last(s *schedule.Standing, today model.Date) string {
	if s.LastTick.IsZero() {
		return "never ticked; in service since " + Day(s.Component.InService, today)
	}
	out := "last done "
	if s.StartAbout {
		out += "about "
	}
	out += Day(s.LastTick, today)
	if s.Start > s.LastTick {
		out += "; renewed as a part " + Day(s.Start, today)
	}
	if s.LastFound != "" {
		out += ", found " + typed.FoundText(s.Chore.Work, s.LastFound)
	}
	return out
}

// backDays is how long after a return it is spoken of.
const backDays = 3

// Back greets a keeper in the first days after an absence of more than a few days:
// "back after 14 days: days away count as nobody's delay". Empty otherwise.
func Back(b *model.Book, today model.Date) string {
	for _, a := range b.Aways() {
		gone := a.What.Until.Sub(a.On)
		if since := today.Sub(a.What.Until); since >= 0 && since < backDays && gone > backDays {
			return fmt.Sprintf("back after %s: worst first, and days away count as nobody's delay", Count(gone, "day"))
		}
	}
	return ""
}

// What of a counter's log decides whether it has fallen silent.
const (
	silentTimes = 4 // its usual gap
	gapsNeeded  = 3
	gapsLatest  = 20
)

// Silent names the counters in use that have been silent for four times their usual
// gap: "water made: nothing logged for 31 d, usually every 7". Only those a clock
// rests on are named.
func Silent(b *model.Book, today model.Date) []string {
	used := map[model.ID]bool{}
	for _, c := range b.Chores() {
		for _, k := range c.Clocks {
			if c.Retired.IsZero() && k.Counter != "" {
				used[k.Counter] = true
			}
		}
	}
	var out []string
	for _, c := range b.Counters() {
		if s := silent(b, c, today); s != "" && used[c.ID] {
			out = append(out, s)
		}
	}
	return out
}

func silent(b *model.Book, c model.Counter, today model.Date) string {
	if !c.Retired.IsZero() {
		return ""
	}
	var days []model.Date
	for _, u := range b.Usages(c.ID) {
		if u.On <= today && (len(days) == 0 || u.On > days[len(days)-1]) { // they are in order of time
			days = append(days, u.On)
		}
	}
	if len(days) <= gapsNeeded {
		return ""
	}
	days = days[max(len(days)-gapsLatest-1, 0):]
	var gaps []int
	for i := 1; i < len(days); i++ {
		gaps = append(gaps, days[i].Sub(days[i-1]))
	}
	slices.Sort(gaps)
	usual, quiet := gaps[len(gaps)/2], today.Sub(days[len(days)-1])
	if quiet <= silentTimes*usual {
		return ""
	}
	return fmt.Sprintf("%s: nothing logged for %d d, usually every %d", c.Name, quiet, usual)
}

// orderWithin is how many days ahead an order is worth a line on the first screen.
const orderWithin = 7

// Order names what should be ordered within a week, the soonest first: "order
// mixed-bed resin by 2 Dec (0.6 L left), and 1 more". Empty when nothing must be. What
// nobody has counted yet has no day to order it by.
func Order(b *model.Book, shelf []schedule.SpareForecast, today model.Date) string {
	var due []schedule.SpareForecast
	for _, f := range shelf {
		if !f.OrderBy.IsZero() && f.OrderBy <= today.AddDays(orderWithin) {
			due = append(due, f)
		}
	}
	if len(due) == 0 {
		return ""
	}
	first := due[0]
	by := "by " + Day(first.OrderBy, today)
	if first.OrderBy <= today {
		by = "now"
	}
	s := fmt.Sprintf("order %s %s (%s left)", lowerFirst(first.Spare.Name), by, Exact(b, first.OnHand, first.Spare.Unit))
	if len(due) > 1 {
		s += fmt.Sprintf(", and %d more", len(due)-1)
	}
	return s
}

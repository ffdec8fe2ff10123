package phrase

import (
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
)

// Lead is why the due date comes before the date planned: "due 9 days before 28 May, because parts this hard to
// reach get done late". Empty when nothing is taken off. A part in easy reach isn't called hard to reach.
func Lead(s *schedule.Standing, today model.Date) string {
	g := s.Governing()
	if g == nil || g.LeadDays <= 0 {
		return ""
	}
	why := "parts this hard to reach get done late"
	if s.Lead.Grade <= easyReach {
		why = "jobs get done a little late here, easy ones too"
		if s.Lead.Ticks == 0 {
			why = "jobs get done a little late as a rule, easy ones too"
		}
	}
	return "due " + Count(g.LeadDays, "day") + " before " + Day(g.Planned, today) + ", because " + why
}

// easyReach is the worst grade of reach at which a part is at hand.
const easyReach = 2

// LeadFigures is what a lead rests on: "jobs at reach 4 come 15 % late here (12 ticks); a quarter at most is taken off".
func LeadFigures(s *schedule.Standing) string {
	g := s.Governing()
	if g == nil || g.LeadDays <= 0 {
		return ""
	}
	slip := parse.Number(estimate(s.Lead.Slip*100)) + " %"
	out := fmt.Sprintf("jobs at reach %d come %s late here (%s)", s.Lead.Grade, slip, Count(s.Lead.Ticks, "tick"))
	if s.Lead.Ticks == 0 {
		out = fmt.Sprintf("jobs at reach %d are taken to come %s late", s.Lead.Grade, slip)
	}
	switch g.LeadHeld {
	case schedule.HeldQuarter:
		out += "; a quarter at most is taken off"
	case schedule.HeldDays:
		out += "; four weeks at most are taken off"
	}
	return out
}

// Learnt is what the log has taught about the life of a chore: "half of yours lasted 24 batches, so 20 is planned
// (you began with 30)". Empty when it has taught nothing.
func Learnt(b *ledger.Book, s *schedule.Standing) string {
	c := taught(s)
	if c == nil {
		return ""
	}
	half := "half of yours lasted " + lasting(b, c, c.Median)
	plan, planned := lasting(b, c, c.Plan.Age), roughFigure(b, c.Plan.Age, c.Unit)
	began := " (you began with " + began(b, c) + ")"
	switch c.Plan.By {
	case schedule.PlanRule:
		return half + "; the rule stands, every " + every(b, c)
	case schedule.PlanCost:
		return half + ", and at " + plan + " it costs least in the long run" + began
	case schedule.PlanMedian:
		return half + ", and no more is planned: cost alone would go on" + began
	case schedule.PlanGuard:
		return "the last one was found " + parse.FoundText(s.Chore.Work, model.FoundFailed) + " at " + plan + ", so none is left longer" + began
	case schedule.PlanWorse:
		return half + "; " + planned + " is planned: a good word never counts for less than a bad one" + began
	case schedule.PlanBefore:
		return "good ones never shorten it: " + plan + ", as before" + began
	}
	if planned == roughFigure(b, c.Median, c.Unit) {
		return half + ", and that is planned" + began
	}
	return half + ", so " + planned + " is planned" + began
}

// began is the life that a chore was defined with, as little as its unit allows.
func began(b *ledger.Book, c *schedule.ClockStanding) string {
	if c.Kind == model.ClockCalendar {
		return Stated(b, c)
	}
	return parse.Figure(c.Life, c.Unit, b.Def().Units)
}

// LearntFrom is what was learnt from: "4 so far: 3 heavy, 1 still good; 1 in 9 is foul by then, weighed against 42 min of work".
func LearntFrom(b *ledger.Book, s *schedule.Standing, today model.Date) string {
	c := taught(s)
	if c == nil {
		return ""
	}
	out := evidence(b, s, c)
	if c.Plan.By == schedule.PlanLife {
		out += "; " + chance(s, c)
	}
	if o := c.Evidence.Latest; c.Evidence.Overruled > 0 {
		out += fmt.Sprintf("; found %s on %s, but %s: counted as good", parse.FoundText(s.Chore.Work, o.Found), Day(o.On, today), Read(b, o, today))
	}
	return out
}

// Read is a reading that says a part was good: "after resin read 0 ppm on 23 Nov".
func Read(b *ledger.Book, o schedule.Overruled, today model.Date) string {
	return gaugeName(b, o.Gauge) + " read " + Amount(b, o.Value, gaugeUnit(b, o.Gauge)) + " on " + Day(o.Read, today)
}

// taught is the clock of a chore that its log has taught something, nil when it has none.
func taught(s *schedule.Standing) *schedule.ClockStanding {
	i := slices.IndexFunc(s.Clocks, func(c schedule.ClockStanding) bool { return c.Learns && c.Observations > 0 })
	if i < 0 {
		return nil
	}
	return &s.Clocks[i]
}

// evidence is the cycles a life rests on, by what they taught.
func evidence(b *ledger.Book, s *schedule.Standing, c *schedule.ClockStanding) string {
	e := c.Evidence
	failed := parse.FoundText(s.Chore.Work, model.FoundFailed)
	heavy := parse.FoundText(s.Chore.Work, model.FoundHeavy)
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
	return fmt.Sprintf("%d so far: %s", e.Cycles, strings.Join(parts, ", "))
}

// agesShown is how many ages of failure a sentence names.
const agesShown = 3

// ages names when the failures of one kind came: " at 212 d and 230 d".
func ages(b *ledger.Book, c *schedule.ClockStanding, exact bool) string {
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
	unit := parse.UnitName(parse.Unit(c.Unit, b.Def().Units))
	return " at " + strings.Join(out, ", ") + " " + unit
}

// Change is what would move a chore's date, in one line. Empty when nothing would
// but its next tick.
func Change(b *ledger.Book, s *schedule.Standing) string {
	g := s.Governing()
	switch {
	case g != nil && g.Call != nil:
		return "ticking it ends the call"
	case s.Chore.Fixed:
		return "fixed: what is found doesn't move it" + besides(s)
	case s.Chore.Work == model.WorkTest || s.Chore.Work == model.WorkRead:
		return ""
	case g != nil && g.Confirmed:
		return "ticking it begins anew; the log keeps how long this one lasted"
	case g != nil && g.Crossed:
		return "a second reading beyond decides, one within clears it"
	}
	for i := range s.Clocks {
		c := &s.Clocks[i]
		if !c.Learns {
			continue
		}
		bad := parse.FoundText(s.Chore.Work, model.FoundHeavy)
		good := parse.FoundText(s.Chore.Work, model.FoundLight)
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
		what = append(what, "reach")
	}
	if len(what) == 0 {
		return ""
	}
	verb := " do"
	if len(what) == 1 && what[0] != "readings" {
		verb = " does"
	}
	return "; " + enumerate(what) + verb
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
func Needs(b *ledger.Book, s *schedule.Standing) (line string, short bool) {
	var parts []string
	for _, sp := range s.Spares {
		part := Exact(b, sp.Quantity, sp.Spare.Unit) + " " + lowerFirst(sp.Spare.Name)
		if strings.HasSuffix(sp.Spare.Name, " "+sp.Spare.Unit) { // "1 alkalinity test", not "1 test alkalinity test"
			part = parse.Figure(sp.Quantity, sp.Spare.Unit, b.Def().Units) + " " + lowerFirst(sp.Spare.Name)
		}
		if sp.Spare.Part != "" {
			part += " (" + sp.Spare.Part + ")"
		}
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
		case sp.Expired:
			part += " (past its date)"
		}
		short = short || sp.OnHand < sp.Quantity || sp.Expired
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

// Service is since when a component is in use.
func Service(c model.Component, today model.Date) string {
	if c.InService == model.NotInUse {
		return "not in use yet"
	}
	if c.ServiceAbout() {
		return "in use since about " + Day(c.InService, today)
	}
	return "in use since " + Day(c.InService, today)
}

// Last is when a chore was last done and what was found.
func Last(s *schedule.Standing, today model.Date) string {
	switch {
	case s.LastTick.IsZero() && s.StartTick:
		return "not known when it was last done; a guess counts from " + Day(s.Start, today)
	case s.LastTick.IsZero():
		return "never ticked; " + Service(s.Component, today)
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
		out += ", found " + parse.FoundText(s.Chore.Work, s.LastFound)
	}
	return out
}

// backDays is how long after a return it is spoken of.
const backDays = 3

// Back greets a keeper in the first days after an absence of more than a few days:
// "back after 14 days: days away count as nobody's delay". Empty otherwise.
func Back(b *ledger.Book, today model.Date) string {
	for _, a := range b.Aways() {
		gone := a.What.Until.Sub(a.On)
		if since := today.Sub(a.What.Until); since >= 0 && since < backDays && gone > backDays {
			return fmt.Sprintf("back after %s: worst first, and days away count as nobody's delay", Count(gone, "day"))
		}
	}
	return ""
}

// Silent names the counters that have fallen silent: "Water made: nothing logged since 1 Apr, usually every 7 d; counted on
// at 10 L a day".
func Silent(b *ledger.Book, r *schedule.Round) []string {
	var out []string
	for _, c := range r.Silent() {
		s := fmt.Sprintf("%s: nothing logged since %s, usually every %s d", c.Counter.Name, Day(c.Since, r.On), parse.Number(estimate(c.Usual)))
		if c.PerDay > 0 {
			s += "; counted on at " + pace(b, c.PerDay, c.Counter.Unit)
		}
		out = append(out, s)
	}
	return out
}

// orderWithin is how many days ahead an order is worth a line on the first screen.
const orderWithin = 7

// ToOrder tells whether a spare is to be ordered by a day. What is past its date is, whenever it is used next.
func ToOrder(f *schedule.SpareForecast, by model.Date) bool {
	return f.Expired || !f.OrderBy.IsZero() && f.OrderBy <= by
}

// OrderBy is by when: "now", "by 3 Dec".
func OrderBy(f *schedule.SpareForecast, today model.Date) string {
	if ToOrder(f, today) {
		return "now"
	}
	return "by " + Day(f.OrderBy, today)
}

// GoodUntil is the date of what is on the shelf: "good until 3 Dec", "past its date since 3 Dec"; "" without one.
func GoodUntil(s model.Spare, today model.Date) string {
	switch {
	case s.Expires.IsZero():
		return ""
	case s.Expired(today):
		return "past its date since " + Day(s.Expires, today)
	}
	return "good until " + Day(s.Expires, today)
}

// Bought is how a spare is asked for in a shop: "part C-10, from the hardware store"; "" where nobody said.
func Bought(s model.Spare) string {
	var parts []string
	if s.Part != "" {
		parts = append(parts, "part "+s.Part)
	}
	if s.Source != "" {
		parts = append(parts, "from "+s.Source)
	}
	return strings.Join(parts, ", ")
}

// Order names what should be ordered within a week, the soonest first: "order
// mixed-bed resin by 2 Dec (0.6 L left), and 1 more". Empty when nothing must be. What
// nobody has counted yet has no day to order it by.
func Order(b *ledger.Book, shelf []schedule.SpareForecast, today model.Date) string {
	due := slices.DeleteFunc(slices.Clone(shelf), func(f schedule.SpareForecast) bool { return !ToOrder(&f, today.AddDays(orderWithin)) })
	if len(due) == 0 {
		return ""
	}
	first := due[0]
	left := Exact(b, first.OnHand, first.Spare.Unit) + " left"
	if first.Expired {
		left = GoodUntil(first.Spare, today)
	}
	s := fmt.Sprintf("order %s %s (%s)", lowerFirst(first.Spare.Name), OrderBy(&first, today), left)
	if len(due) > 1 {
		s += fmt.Sprintf(", and %d more", len(due)-1)
	}
	return s
}

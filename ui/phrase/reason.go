package phrase

import (
	"cmp"
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
)

// Reason is why a chore has the date it has: "after resin 0 0 1 2 3 ppm: over 1 since 22 Nov, read twice", "24 batches
// since 3 Oct, planned after 20". Empty when nothing gives it a date.
func Reason(b *ledger.Book, s *schedule.Standing, today model.Date) string {
	out := counted(b, s, today)
	if lead := Lead(s, today); lead != "" {
		out += "; " + lead
	}
	return out
}

// Reasons are Reason, and what says as much of it in fewer cells: without the readings before the latest, and without what
// is taken off for reach.
func Reasons(b *ledger.Book, s *schedule.Standing, today model.Date) []string {
	out := []string{Reason(b, s, today)}
	g := s.Governing()
	switch {
	case g == nil:
	case g.Kind == model.ClockReading && g.Crossed:
		last := Amount(b, g.Recent[len(g.Recent)-1].Value, g.Unit)
		out = append(out, gaugeName(b, g.Clock.Gauge)+" "+last+", change "+Threshold(b, g), last+", change "+Threshold(b, g))
	default:
		out = append(out, counted(b, s, today))
	}
	return out
}

// counted is what was read, or how far a clock has come, and what was planned.
func counted(b *ledger.Book, s *schedule.Standing, today model.Date) string {
	g := s.Governing()
	if g == nil {
		return ""
	}
	switch {
	case g.Call != nil:
		return "called for " + called(b, g, today)
	case g.Kind == model.ClockLevel:
		return levelLine(b, g, today)
	case g.Kind == model.ClockReading:
		return cmp.Or(readBefore(b, s, g, today), reading(b, g, today))
	}
	since := Day(s.Start, today)
	plan := "planned after " + roughFigure(b, g.Plan.Age, g.Unit)
	switch calendar := g.Kind == model.ClockCalendar; {
	case g.Clock.Rule == model.RuleEvery && g.Plan.By == schedule.PlanRule:
		if g.Unit == "batch" && g.Used < 0.5 && g.Plan.Age < 1.5 {
			return "no batch since " + since + ", wanted after " + wanted(b, g)
		}
		plan = "wanted " + wanted(b, g)
	case calendar && (!g.Learns || g.Observations == 0):
		plan = "planned every " + every(b, g)
	case calendar:
		plan = "planned after " + lasting(b, g, g.Plan.Age)
	}
	switch {
	case s.StartAbout && s.LastTick.IsZero():
		return fmt.Sprintf("not known when last done, so %s ago is assumed; %s", passed(b, g), plan)
	case s.StartAbout:
		return fmt.Sprintf("about %s since %s, a guess; %s", passed(b, g), since, plan)
	}
	return fmt.Sprintf("%s since %s, %s", passed(b, g), since, plan)
}

// wanted is how often a rule wants a chore: "every week", "every 9500 L".
func wanted(b *ledger.Book, c *schedule.ClockStanding) string { return "every " + every(b, c) }

// passed is how far a clock that counts has come: "24 batches", "177 days", "8930 L". What was never logged is counted at
// the rate that the keeper stated.
func passed(b *ledger.Book, c *schedule.ClockStanding) string {
	if c.Unlogged && c.HasRate {
		return lasting(b, c, c.Age)
	}
	return lasting(b, c, c.Used)
}

// ClockRow is a clock as a row of a table: how far it has come of what is planned, and its two dates.
type ClockRow struct {
	Head       string // its kind
	Come       string // "24 of 20 batches", "after resin 3 ppm"
	Pace       string // "1 a week", "change over 1 ppm"; empty where there is none
	Due, Limit string
	Decides    bool
}

// ClockRows are the clocks of a chore, the one that decides first.
func ClockRows(b *ledger.Book, s *schedule.Standing, today model.Date) []ClockRow {
	var first, rest []ClockRow
	for i := range s.Clocks {
		c := &s.Clocks[i]
		f := ClockRow{Head: string(c.Kind), Decides: i == s.Governs}
		if c.HasPlanned() {
			f.Due = aligned(c.Planned, today)
			if !c.Limit.IsZero() {
				f.Limit = aligned(c.Limit, today)
			}
		}
		switch {
		case c.Call != nil:
			f.Head, f.Come = "called", called(b, c, today)
		case c.Kind == model.ClockLevel:
			f.Come = levelLine(b, c, today)
			if f.Decides && c.OnHand != nil { // the reason says the rest
				f.Come = c.OnHand.Vessel.Name + ": " + Level(b, c.OnHand)
			}
		case c.Kind == model.ClockReading:
			f.Come = gaugeName(b, c.Clock.Gauge)
			if n := len(c.Recent); n > 0 {
				f.Come += " " + Amount(b, c.Recent[n-1].Value, c.Unit)
			}
			f.Pace = "change " + Threshold(b, c)
		default:
			f.Come = come(b, c)
			if c.Kind != model.ClockCalendar && c.HasRate && c.Rate > 0 {
				f.Pace = pace(b, c.Rate, c.Unit)
			}
		}
		if f.Decides {
			first = append(first, f)
		} else {
			rest = append(rest, f)
		}
	}
	return append(first, rest...)
}

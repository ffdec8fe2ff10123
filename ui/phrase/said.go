package phrase

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
)

// Said is a chore of the round in one sentence, for those who hear it: "DI resin, renew
// resin: 3 days past limit, reach 3, 15 minutes and 25 waiting, cellar".
func Said(s *schedule.Standing, today model.Date) string {
	parts := []string{
		WhenSaid(s, today), fmt.Sprintf("reach %d", s.Component.Reach), Minutes(s.Chore), s.Place.Name,
	}
	if s.State == schedule.StateDeferred && s.Deferred != nil && s.Deferred.What.Reason != "" {
		parts[0] += " because " + s.Deferred.What.Reason
	}
	return s.Component.Name + ", " + s.Chore.Name + ": " + strings.Join(parts, ", ")
}

// WhenSaid is When in whole words: "3 days past limit", "due in 3 days".
func WhenSaid(s *schedule.Standing, today model.Date) string {
	switch {
	case s.State == schedule.StateDeferred && s.Deferred != nil:
		return "put off till " + Day(s.Deferred.What.Until, today)
	case !s.HasDue:
		return "no date"
	case s.PastLimit:
		return Count(today.Sub(s.Limit), "day") + " past limit"
	case s.State == schedule.StateLate:
		return Count(s.DaysLate, "day") + " late"
	case s.State == schedule.StateAhead:
		return "due " + Day(s.Due, today)
	}
	switch n := s.Due.Sub(today); {
	case n > 1:
		return "due in " + Count(n, "day")
	case n < 0:
		return "due " + Count(-n, "day") + " ago"
	}
	return "due " + InDays(s.Due, today)
}

// Minutes is what a chore takes: "15 minutes and 25 waiting".
func Minutes(c model.Chore) string {
	s := Count(c.Minutes, "minute")
	if w := c.WaitingMinutes(); w > 0 {
		s += fmt.Sprintf(" and %d waiting", w)
	}
	return s
}

// BreachSaid is what reads outside its safe range, in one sentence: "Tank temperature: 33 °C since 22 Nov, safe is 24 to
// 27.5 °C".
func BreachSaid(b *ledger.Book, v *schedule.Breach, today model.Date) string {
	return v.Gauge.Name + ": " + Amount(b, v.Value, v.Gauge.Unit) + " since " + Day(v.Since, today) + ", " + Safe(b, v.Gauge)
}

// Safe is the safe range of a gauge: "safe is 24 to 27.5 °C", "safe is up to 5 bar"; empty when it has none.
func Safe(b *ledger.Book, g model.Gauge) string {
	r := g.Safe
	switch {
	case r == nil:
		return ""
	case r.Low == nil:
		return "safe is up to " + Amount(b, *r.High, g.Unit)
	case r.High == nil:
		return "safe is from " + Amount(b, *r.Low, g.Unit)
	}
	return "safe is " + parse.Figure(*r.Low, g.Unit, b.Def().Units) + " to " + Amount(b, *r.High, g.Unit)
}

// FaultSaid is what is broken, in one sentence: "Return pump: broken since 22 Nov, hums".
func FaultSaid(f *schedule.OpenFault, today model.Date) string {
	s := f.Component.Name + ": broken since " + Day(f.Since, today)
	if f.Note != "" {
		s += ", " + f.Note
	}
	return s
}

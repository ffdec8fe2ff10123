package phrase

import (
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
)

// reckoned says what of a clock's age nobody logged: "began before the record: 1046 L reckoned at your 120 L a week; nothing
// logged since 1 Apr: counted on at 70 L a week".
func reckoned(b *ledger.Book, c *schedule.ClockStanding, today model.Date) string {
	var parts []string
	counter, _ := b.Counter(c.Clock.Counter)
	switch before := c.Before; {
	case c.Unlogged && c.HasRate:
		parts = append(parts, "nothing logged yet: reckoned at your "+pace(b, counter.DeclaredRate, counter.Unit))
	case before.Record.IsZero():
	case !before.Known:
		parts = append(parts, "not counted before "+Day(before.Record, today))
	case before.Amount > 0:
		at := "at "
		if before.Stated {
			at = "at your "
		}
		parts = append(parts, "began before the record: "+rough(b, before.Amount, c.Unit)+" reckoned "+at+pace(b, before.PerDay, counter.Unit))
	}
	closed, amount := 0, 0.0
	for _, s := range c.Silences {
		if s.Until.IsZero() {
			parts = append(parts, "nothing logged since "+Day(s.Since, today)+": counted on at "+pace(b, s.PerDay/(1+c.Clock.FeedRatio), c.Unit))
			continue
		}
		closed, amount = closed+1, amount+s.Amount
	}
	if amount > 0 {
		silences := "a time when nothing was logged"
		if closed > 1 {
			silences = Count(closed, "time") + " when nothing was logged"
		}
		parts = append(parts, rough(b, amount, c.Unit)+" counted on for "+silences)
	}
	if c.TapOnly {
		parts = append(parts, "behind the membrane a guess, 3 % of the tap")
	}
	return strings.Join(parts, "; ")
}

package phrase

import (
	"math"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
)

// recentShown is how many of the latest readings a line shows.
const recentShown = 5

// reading says what a gauge has shown in this cycle and what follows from it.
func reading(b *ledger.Book, c *schedule.ClockStanding, today model.Date) string {
	s := gaugeName(b, c.Clock.Gauge)
	if v := recent(b, c); v != "" {
		s += " " + v
	}
	threshold := side(c) + " " + parse.Number(sensible(parse.Shown(c.Clock.Limit, c.Unit, b.Def().Units)))
	meter := ""
	if g, ok := b.Gauge(c.Clock.Gauge); ok && b.ReadSince(g.ID, today) {
		meter = "; " + OffSince(b, g, model.EndOf(today), today)
	}
	switch {
	case c.Confirmed:
		return s + ": " + threshold + " since " + Day(c.Since, today) + ", read " + times(run(c)) + meter
	case c.Crossed:
		return s + ": " + threshold + " on " + Day(c.Since, today) + ", one reading beyond: read again before you act" + meter
	}
	s += "; change " + Threshold(b, c)
	switch c.Reason {
	case schedule.ReasonNoReadings:
		return s + "; not read yet in this cycle"
	case schedule.ReasonTooFew:
		return s + "; too few readings for a forecast (5 dates over 2 weeks)"
	case schedule.ReasonNoTrend:
		return s + "; no trend, so no date"
	case schedule.ReasonAway:
		return s + "; moving away from it, so no date"
	case schedule.ReasonFar:
		return s + "; the trend gets there in two years or more"
	}
	if t := c.Trend; t != nil && c.HasPlanned() {
		way := "rising"
		if t.Slope < 0 {
			way = "falling"
		}
		s += "; " + way + " " + Amount(b, max(t.Slope, -t.Slope)*30, c.Unit) + " a month over " + Count(t.Dates, "date")
	}
	return s
}

// readBefore is what is said of a gauge that was read last before the chore was done: "after resin: renewed 14 Jun: read
// again". Empty when it was read since, or never.
func readBefore(b *ledger.Book, s *schedule.Standing, c *schedule.ClockStanding, today model.Date) string {
	if c.Reason != schedule.ReasonNoReadings || !s.StartTick || !station.EverRead(b, c.Clock.Gauge, today) {
		return ""
	}
	done := "done"
	if s.Chore.Work == model.WorkRenew {
		done = "renewed"
	}
	return gaugeName(b, c.Clock.Gauge) + ": " + done + " " + Day(s.Start, today) + ": read again"
}

// Threshold is a reading clock's threshold in words: "over 1 ppm".
func Threshold(b *ledger.Book, c *schedule.ClockStanding) string {
	return side(c) + " " + Exact(b, c.Clock.Limit, c.Unit)
}

func side(c *schedule.ClockStanding) string {
	if c.Clock.Bad == model.SideBelow {
		return "under"
	}
	return "over"
}

// recent is the latest readings and their unit: "0 0 1 2 3 ppm". What counts nowhere
// stands in brackets.
func recent(b *ledger.Book, c *schedule.ClockStanding) string {
	points := c.Recent[max(len(c.Recent)-recentShown, 0):]
	if len(points) == 0 {
		return ""
	}
	var out []string
	for _, p := range points {
		f := parse.Number(sensible(parse.Shown(p.Value, c.Unit, b.Def().Units)))
		if p.Shown {
			f = "(" + f + ")"
		}
		out = append(out, f)
	}
	if name := parse.UnitName(parse.Unit(c.Unit, b.Def().Units)); name != "" {
		out = append(out, name)
	}
	return strings.Join(out, " ")
}

// sensible rounds a value that may be computed to the digits a person would read.
func sensible(v float64) float64 {
	if v >= 100 || v <= -100 {
		return math.Round(v)
	}
	return math.Round(v*100) / 100
}

// run is how many readings in a row, the latest ones, count toward a crossing.
func run(c *schedule.ClockStanding) int {
	n := 0
	for _, p := range c.Recent {
		if !p.Shown && p.On >= c.Since {
			n++
		}
	}
	return n
}

func times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return Count(n, "time")
}

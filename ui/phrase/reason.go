package phrase

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
)

// Reason is why a chore has the date it has: "after resin 0 0 1 2 3 ppm: over 1 since 22 Nov, read twice", "24 batches
// since 3 Oct, 20 are planned". Empty when nothing gives it a date.
func Reason(b *ledger.Book, s *schedule.Standing, today model.Date) string {
	g := s.Governing()
	if g == nil {
		return ""
	}
	if g.Kind == model.ClockReading {
		if say := readBefore(b, s, g, today); say != "" {
			return say
		}
		return reading(b, g, today)
	}
	plan := rough(b, g.Plan.Age, g.Unit)
	if g.Kind == model.ClockCalendar && (!g.Learns || g.Observations == 0) {
		plan = Stated(b, g)
	}
	out := fmt.Sprintf("%s since %s, %s planned", passed(b, g), Day(s.Start, today), plan)
	if s.StartAbout {
		out = fmt.Sprintf("about %s since %s, a guess; %s planned", passed(b, g), Day(s.Start, today), plan)
	}
	if lead := Lead(s, today); lead != "" {
		out += "; due " + lead
	}
	return out
}

// passed is how far a clock that counts has come: "24 batches", "177 days", "8930 L".
func passed(b *ledger.Book, c *schedule.ClockStanding) string {
	if c.Kind == model.ClockCalendar {
		return Count(int(c.Used+0.5), "day")
	}
	return rough(b, c.Used, c.Unit)
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
		if c.Kind == model.ClockReading {
			f.Come = gaugeName(b, c.Clock.Gauge)
			if n := len(c.Recent); n > 0 {
				f.Come += " " + Amount(b, c.Recent[n-1].Value, c.Unit)
			}
			f.Pace = "change " + Threshold(b, c)
		} else {
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

package words

import (
	"fmt"
	"math"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/typed"
)

// Line is one line of the detail of a chore: what it is about, what there is to say,
// and whether it is what decides.
type Line struct {
	Head    string
	Text    string
	Dates   string // "by 2 Dec, limit 27 Dec"; empty where there are none
	Decides bool
}

// Clocks explains the dates of a chore, a line for each of its clocks.
func Clocks(b *model.Book, s *schedule.Standing, today model.Date) []Line {
	out := make([]Line, 0, len(s.Clocks))
	for i := range s.Clocks {
		c := &s.Clocks[i]
		l := Line{Head: string(c.Kind), Decides: i == s.Governs, Dates: clockDates(c, today)}
		if c.Kind == model.ClockReading {
			l.Text = reading(b, c, today)
		} else {
			l.Text = counted(b, s, c, today)
		}
		out = append(out, l)
	}
	return out
}

// clockDates are the two dates of a clock. A crossing says its own in words.
func clockDates(c *schedule.ClockStanding, today model.Date) string {
	switch {
	case !c.HasPlanned() || c.Crossed:
		return ""
	case c.Limit.IsZero():
		return "by " + Day(c.Planned, today)
	}
	return "by " + Day(c.Planned, today) + ", limit " + Day(c.Limit, today)
}

// counted says how far a clock that counts has come, and what it counts toward.
func counted(b *model.Book, s *schedule.Standing, c *schedule.ClockStanding, today model.Date) string {
	since := "since " + Day(s.Start, today)
	if s.StartAbout {
		since = "since about " + Day(s.Start, today)
	}
	var parts []string
	switch c.Kind {
	case model.ClockCalendar:
		parts = append(parts, fmt.Sprintf("%s of %s %s", typed.Number(c.Used), Amount(b, c.Plan.Age, c.Unit), since))
	case model.ClockLoad:
		parts = append(parts, fmt.Sprintf("%s of about %s taken up %s", figure(b, c.Used, c.Unit), Amount(b, c.Plan.Age, c.Unit), since))
	default:
		parts = append(parts, fmt.Sprintf("%s of %s %s", figure(b, c.Used, c.Unit), Amount(b, c.Plan.Age, c.Unit), since))
	}
	if c.Kind != model.ClockCalendar && c.HasRate && c.Rate > 0 {
		parts = append(parts, rate(b, c.Rate, c.Unit))
	}
	if r := noDate(b, c, today); r != "" {
		parts = append(parts, r)
	}
	return strings.Join(append(parts, life(b, c)), "; ")
}

// life says what a planned age comes from.
func life(b *model.Book, c *schedule.ClockStanding) string {
	stated := Stated(b, c)
	half := "half last " + Amount(b, c.Median, c.Unit)
	switch c.Plan.By {
	case schedule.PlanRule:
		return "rule: every " + stated
	case schedule.PlanCost:
		return half + ", cheapest renewed at " + Amount(b, c.Plan.Age, c.Unit)
	case schedule.PlanMedian:
		return half + ", where cost alone would go longer"
	}
	reserve := ", planned so that " + odds(c.Plan.Quantile) + " may fail first"
	if c.Clock.Rule == model.RuleEvery {
		return "the log makes less of the rule, every " + stated + ": " + half + reserve
	}
	if c.Observations > 0 {
		return "stated " + stated + ", the log says " + half + reserve
	}
	return "usually lasts " + stated + reserve
}

// odds is a quantile as people say it.
func odds(q float64) string {
	switch q {
	case 0.1:
		return "1 in 10"
	case 0.2:
		return "1 in 5"
	case 0.3:
		return "3 in 10"
	}
	return typed.Number(q*100) + " %"
}

// Stated is the life of a clock as it was declared: "6 months", "40 batches", "7 g".
func Stated(b *model.Book, c *schedule.ClockStanding) string {
	if c.Kind == model.ClockCalendar {
		return Span(c.Clock.Every)
	}
	return Amount(b, c.Life, c.Unit)
}

// Span is a length of time in words: "6 months".
func Span(s model.Span) string {
	switch s.Unit {
	case model.SpanWeeks:
		return Count(s.N, "week")
	case model.SpanMonths:
		return Count(s.N, "month")
	case model.SpanYears:
		return Count(s.N, "year")
	}
	return Count(s.N, "day")
}

// Amount is a quantity with its unit, as the book's keeper reads it: "40 L", "12
// batches", "164 d". It has no more digits than it deserves: three.
func Amount(b *model.Book, v float64, unit string) string {
	shown := figure(b, v, unit)
	name := typed.UnitName(typed.Unit(unit, b.Def().Units))
	switch {
	case name == "":
		return shown
	case name == "batch" && shown != "1":
		name = "batches"
	}
	return shown + " " + name
}

func figure(b *model.Book, v float64, unit string) string {
	return typed.Number(threeDigits(typed.Shown(v, unit, b.Def().Units)))
}

// threeDigits rounds away what an estimate cannot know.
func threeDigits(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	scale := math.Pow(10, 2-math.Floor(math.Log10(math.Abs(v))))
	if math.Abs(v) >= 1000 {
		scale = 1
	}
	return math.Round(v*scale) / scale
}

// rate is how fast something is used, over the time in which it can be pictured.
func rate(b *model.Book, perDay float64, unit string) string {
	switch {
	case unit == "g" || perDay >= 1 && unit != "L":
		return Amount(b, perDay, unit) + " a day"
	case perDay*7 >= 1:
		return Amount(b, perDay*7, unit) + " a week"
	}
	return Amount(b, perDay*30, unit) + " a month"
}

// noDate says why a clock that counts has no date, and what would give it one.
func noDate(b *model.Book, c *schedule.ClockStanding, today model.Date) string {
	switch c.Reason {
	case schedule.ReasonNoRate:
		return "no date until " + counterName(b, c) + " has been logged twice"
	case schedule.ReasonStill:
		return "no date: " + counterName(b, c) + " stands still"
	case schedule.ReasonFar:
		return "no date within a hundred years"
	case schedule.ReasonNoInlet:
		return "no date until " + gaugeName(b, c.Clock.Inlet) + " has been read"
	}
	return ""
}

func counterName(b *model.Book, c *schedule.ClockStanding) string {
	k, ok := b.Counter(c.Clock.Counter)
	if !ok {
		return string(c.Clock.Counter)
	}
	return lowerFirst(k.Name)
}

// gaugeName is a gauge, or a derived one, as it is called.
func gaugeName(b *model.Book, id model.ID) string {
	switch id {
	case model.Rejection:
		return "rejection"
	case model.NormalisedFlow:
		return "normalised flow"
	case model.PrefilterDrop:
		return "pressure drop over the prefilters"
	case model.WasteRatio:
		return "waste ratio"
	}
	g, ok := b.Gauge(id)
	if !ok {
		return string(id)
	}
	return g.Name
}

// lowerFirst puts a name into the middle of a sentence, unless it starts with an
// abbreviation.
func lowerFirst(s string) string {
	r := []rune(s)
	if len(r) < 2 || strings.ToUpper(string(r[1])) == string(r[1]) {
		return s
	}
	return strings.ToLower(string(r[0])) + string(r[1:])
}

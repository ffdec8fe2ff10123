package phrase

import (
	"fmt"
	"math"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
)

// Line is one clock of a chore in words.
type Line struct {
	Head    string // its kind
	Text    string // how far it has come
	Why     string // what its life comes from; empty of a reading
	Guess   string // what of it nobody logged; empty where that is nothing
	Dates   string // "by  2 Dec  lim 27 Dec"; empty where there are none
	Decides bool
}

// Clocks explains the dates of a chore, a line for each of its clocks, the one that
// decides first.
func Clocks(b *ledger.Book, s *schedule.Standing, today model.Date) []Line {
	var first, rest []Line
	for i := range s.Clocks {
		c := &s.Clocks[i]
		l := Line{Head: string(c.Kind), Decides: i == s.Governs, Dates: clockDates(c, today)}
		switch {
		case c.Call != nil:
			l.Head, l.Text = "called", called(b, c, today)
		case c.Kind == model.ClockReading:
			l.Text = reading(b, c, today)
			if say := readBefore(b, s, c, today); say != "" {
				l.Text = say
			}
		case c.Kind == model.ClockLevel:
			l.Text = levelLine(b, c, today)
		default:
			l.Text, l.Guess = progress(b, c), reckoned(b, c, today)
			if !c.Learns || c.Observations == 0 { // what was learnt has a line of its own
				l.Why = life(b, s, c)
			}
		}
		if l.Decides {
			first = append(first, l)
		} else {
			rest = append(rest, l)
		}
	}
	return append(first, rest...)
}

// called is what a chore was called for: "after Carbon block: renew cartridge, 28 Nov".
func called(b *ledger.Book, c *schedule.ClockStanding, today model.Date) string {
	return "after " + parse.ChoreLabel(b, *c.Call.By) + ", " + Day(c.Call.On, today)
}

// clockDates are the two dates of a clock. A crossing says its own in words.
func clockDates(c *schedule.ClockStanding, today model.Date) string {
	switch {
	case !c.HasPlanned() || c.Crossed && c.Call == nil:
		return ""
	case c.Limit.IsZero() || c.Call != nil:
		return "by " + aligned(c.Planned, today)
	}
	return "by " + aligned(c.Planned, today) + "  lim " + aligned(c.Limit, today)
}

// aligned is Day in a column of days.
func aligned(d, today model.Date) string {
	s := Day(d, today)
	if len(s) > 1 && s[1] == ' ' {
		return " " + s
	}
	return s
}

// progress says how far a clock that counts has come: "19 of 20 batches, 4.2 a month".
func progress(b *ledger.Book, c *schedule.ClockStanding) string {
	s := come(b, c)
	if c.Kind != model.ClockCalendar && c.HasRate && c.Rate > 0 {
		s += ", " + pace(b, c.Rate, c.Unit)
	}
	if r := noDate(b, c); r != "" {
		s += "; " + r
	}
	return s
}

// come is how much of its planned age has passed: "19 of 20 batches".
func come(b *ledger.Book, c *schedule.ClockStanding) string {
	if c.Reason == schedule.ReasonNoInlet || c.Unlogged && !c.HasRate {
		return "not counted yet"
	}
	age := roughFigure(b, c.Used, c.Unit)
	if n := len(c.Silences); c.Unlogged && c.HasRate || n > 0 && c.Silences[n-1].Until.IsZero() { // the log says too little
		age = "about " + roughFigure(b, c.Age, c.Unit)
	}
	if c.Kind == model.ClockLoad {
		return age + " of about " + rough(b, c.Plan.Age, c.Unit) + " taken up"
	}
	return age + " of " + rough(b, c.Plan.Age, c.Unit)
}

// life says what a planned age comes from.
func life(b *ledger.Book, s *schedule.Standing, c *schedule.ClockStanding) string {
	stated := Stated(b, c)
	if c.Reason == schedule.ReasonNoInlet {
		return "usually lasts " + stated
	}
	half := "half of them last " + lasting(b, c, c.Median)
	switch c.Plan.By {
	case schedule.PlanRule:
		return "every " + every(b, c) + ", by rule"
	case schedule.PlanCost:
		return half + ", cheapest renewed at " + lasting(b, c, c.Plan.Age)
	case schedule.PlanMedian:
		return half + ", where cost alone would go longer"
	case schedule.PlanGuess:
		return "usually lasts " + stated + "; on that word alone nothing is done before " + lasting(b, c, c.Plan.Age)
	}
	return "usually lasts " + stated + "; " + chance(s, c)
}

// lasting is a length of life in a sentence: "24 batches", "164 days".
func lasting(b *ledger.Book, c *schedule.ClockStanding, age float64) string {
	if c.Kind == model.ClockCalendar {
		return Count(int(age+0.5), "day")
	}
	return rough(b, age, c.Unit)
}

// chance is the chance taken and what it is weighed against: "1 in 25 is spent by then, weighed against 49 min of work".
func chance(s *schedule.Standing, c *schedule.ClockStanding) string {
	over := "spent"
	if s.Chore.Work == model.WorkClean {
		over = "foul"
	}
	out := fmt.Sprintf("1 in %d is %s by then, weighed against %d min of work", c.Plan.OneIn(), over, c.Price.Hands)
	if spares := c.Price.Minutes - float64(c.Price.Hands); spares >= 1 {
		out += " and spares worth " + parse.Number(estimate(spares)) + " min"
	}
	return out
}

// Stated is the life of a clock as it was declared: "6 months", "40 batches", "7 g".
func Stated(b *ledger.Book, c *schedule.ClockStanding) string {
	if c.Kind == model.ClockCalendar {
		return Span(c.Clock.Every)
	}
	return Exact(b, c.Life, c.Unit)
}

// every is a declared life after the word: "every week", "every 6 months".
func every(b *ledger.Book, c *schedule.ClockStanding) string {
	return strings.TrimPrefix(Stated(b, c), "1 ")
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

// Amount is a computed quantity with its unit, as the book's keeper reads it, with
// three digits or the whole number: "40.3 L", "12 batches".
func Amount(b *ledger.Book, v float64, unit string) string {
	return withUnit(b, figure(b, v, unit), unit)
}

// rough is an estimated quantity with its unit and no more digits than it deserves:
// "20 batches", "4.7 g", "164 d".
func rough(b *ledger.Book, v float64, unit string) string {
	return withUnit(b, roughFigure(b, v, unit), unit)
}

func roughFigure(b *ledger.Book, v float64, unit string) string {
	if unit == "d" && v >= wholeDays {
		v = math.Round(v)
	}
	return parse.Number(estimate(parse.Shown(v, unit, b.Def().Units)))
}

// Exact is a quantity as it was given, with its unit; where that is shown in another
// unit than it was given in, it is rounded as Amount does.
func Exact(b *ledger.Book, v float64, unit string) string {
	if parse.Unit(unit, b.Def().Units) != unit {
		return Amount(b, v, unit)
	}
	return withUnit(b, parse.Figure(v, unit, b.Def().Units), unit)
}

func withUnit(b *ledger.Book, shown, unit string) string {
	name := parse.UnitName(parse.Unit(unit, b.Def().Units))
	switch {
	case name == "":
		return shown
	case name == "batch" && shown != "1":
		name = "batches"
	}
	return shown + " " + name
}

// Several is a unit as it is called of more than one: "batches", "L".
func Several(b *ledger.Book, unit string) string {
	return strings.TrimPrefix(withUnit(b, "2", unit), "2 ")
}

func figure(b *ledger.Book, v float64, unit string) string {
	return parse.Number(threeDigits(parse.Shown(v, unit, b.Def().Units)))
}

// threeDigits rounds to three digits, or to a whole number from 1000 on.
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

// wholeDays is the span from which half a day is nothing to a keeper.
const wholeDays = 5

// estimate rounds away what an estimate cannot know: whole numbers from 10 on, two
// digits below.
func estimate(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	if math.Abs(v) >= 10 {
		return math.Round(v)
	}
	scale := math.Pow(10, 1-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*scale) / scale
}

// pace is how fast something is used, over the time in which it can be pictured; a
// count needs no unit twice.
func pace(b *ledger.Book, perDay float64, unit string) string {
	say := func(v float64) string {
		if unit == "batch" {
			return roughFigure(b, v, unit)
		}
		return rough(b, v, unit)
	}
	switch {
	case unit == "g" || perDay >= 1 && unit != "L":
		return say(perDay) + " a day"
	case perDay*7 >= 1:
		return say(perDay*7) + " a week"
	}
	return say(perDay*30) + " a month"
}

// noDate says why a clock that counts has no date, and what would give it one.
func noDate(b *ledger.Book, c *schedule.ClockStanding) string {
	switch c.Reason {
	case schedule.ReasonNoRate:
		return "no date until there are two entries of " + counterName(b, c)
	case schedule.ReasonStill:
		return "no date: " + counterName(b, c) + " stands still"
	case schedule.ReasonFar:
		return "no date within a hundred years"
	case schedule.ReasonNoInlet:
		g, _ := b.Gauge(c.Clock.Inlet)
		return "no date until " + lowerFirst(g.Name) + " has been read"
	}
	return ""
}

func counterName(b *ledger.Book, c *schedule.ClockStanding) string {
	k, ok := b.Counter(c.Clock.Counter)
	if !ok {
		return string(c.Clock.Counter)
	}
	return lowerFirst(k.Name)
}

// gaugeName is a gauge, or a derived one, as it is called.
func gaugeName(b *ledger.Book, id model.ID) string {
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
	switch {
	case !ok:
		return string(id)
	case g.Role == model.RoleTDSTap:
		return "at the tap"
	case g.Role == model.RoleTDSMembrane:
		return "after membrane"
	case g.Role == model.RoleTDSProduct:
		return "after resin"
	}
	return g.Name
}

// gaugeUnit is the unit of a gauge, or of a derived one.
func gaugeUnit(b *ledger.Book, id model.ID) string {
	switch id {
	case model.Rejection, model.NormalisedFlow:
		return "%"
	case model.PrefilterDrop:
		return "bar"
	}
	g, _ := b.Gauge(id)
	return g.Unit
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

package schedule

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule/trend"
)

// What a forecast from readings needs, and how far it goes.
const (
	leastDates = 5
	leastSpan  = 14  // days
	mostDates  = 200 // the latest of a longer cycle
	mostP      = 0.10
	farReading = 730 // days after the latest reading
)

// readingClock watches a gauge for a threshold.
type readingClock struct {
	clock model.Clock
	start ledger.Start
	sight *sight
}

func openReading(v *sight, c model.Clock, start ledger.Start) clock {
	return &readingClock{c, start, v}
}

func (c *readingClock) stand(p planner) ClockStanding {
	values := c.sight.series.Of(c.clock.Gauge, c.start.Mark, c.sight.end)
	s := ClockStanding{
		Clock: c.clock, Kind: c.clock.Kind, Unit: c.sight.gaugeUnit(c.clock.Gauge),
		Recent: c.sight.points(c.clock.Gauge, values, c.start.Mark),
		Drift:  c.drift(p.chore.Work, values),
	}
	if c.clock.Gauge == model.NormalisedFlow {
		s.Baseline, s.FirstEver, _ = c.sight.series.FlowBaseline()
	}
	held := c.sight.series.Against(&c.clock, c.start.Mark, c.sight.end)
	if n := ledger.RunBeyond(&c.clock, held); n > 0 {
		s.Crossed, s.Confirmed, s.Since = true, n >= model.ConfirmedRun, held[len(held)-n].On
		s.Planned = s.Since
		if s.Confirmed {
			s.Limit = s.Since
		} else {
			s.Reason = ReasonReadAgain
		}
		return s
	}
	c.forecast(&s, p, values)
	return s
}

// forecast finds where the line through the readings, and its steeper neighbour, cross the threshold.
func (c *readingClock) forecast(s *ClockStanding, p planner, values []ledger.Sample) {
	dates := lastOfDates(values)
	if n := len(dates); n > mostDates {
		dates = dates[n-mostDates:]
	}
	switch {
	case len(dates) == 0:
		s.Reason = ReasonNoReadings
		return
	case len(dates) < leastDates || dates[len(dates)-1].On.Sub(dates[0].On) < leastSpan:
		s.Reason = ReasonTooFew
		return
	}
	line := fitLine(dates)
	steep := line.High
	if c.clock.Bad == model.SideBelow {
		steep = line.Low
	}
	s.Trend = &Trend{
		Slope: line.Slope, Steep: steep, P: line.p, Dates: len(dates),
		From: dates[0].On, Through: dates[len(dates)-1].On,
	}
	toward := line.Slope > 0
	if c.clock.Bad == model.SideBelow {
		toward = line.Slope < 0
	}
	switch {
	case above(line.p, mostP) || line.Slope == 0:
		s.Reason = ReasonNoTrend
		return
	case !toward:
		s.Reason = ReasonAway
		return
	}
	s.Planned = c.crosses(line, steep, dates)
	s.Limit = c.crosses(line, line.Slope, dates)
	if s.Planned.IsZero() || s.Limit.IsZero() {
		s.Reason = ReasonFar
	}
}

// crosses is the first whole day on which a line of the slope has reached the threshold: that of the latest reading when
// it lies before it, no date when it is far off.
func (c *readingClock) crosses(line fittedLine, slope float64, dates []ledger.Sample) model.Date {
	t, ok := line.Reaches(c.clock.Limit, slope)
	if !ok {
		return 0
	}
	latest := dates[len(dates)-1].On
	days := ceil(t) - latest.Sub(dates[0].On)
	if days > farReading {
		return 0
	}
	return latest.AddDays(max(0, days))
}

// lastOfDates keeps the last value of each date.
func lastOfDates(values []ledger.Sample) []ledger.Sample {
	out := make([]ledger.Sample, 0, len(values))
	for _, v := range values {
		if n := len(out); n > 0 && out[n-1].On == v.On {
			out[n-1] = v
			continue
		}
		out = append(out, v)
	}
	return out
}

func (c *readingClock) chance(s *ClockStanding, _ bool) float64 {
	switch {
	case s.Confirmed:
		return 1
	case s.Crossed:
		return 0.5
	case !s.Limit.IsZero() && s.Limit <= c.sight.on.AddDays(week):
		return 1
	}
	return 0
}

// points are the readings of the present cycle for the eye: those that count, and of a gauge that is read also those
// taken too soon to count.
func (v *sight) points(gauge model.ID, values []ledger.Sample, after model.Mark) []Point {
	if gauge.Derived() {
		out := slices.Grow([]Point(nil), len(values))
		for _, l := range values {
			out = append(out, Point{On: l.On, Value: l.Value})
		}
		return out
	}
	readings := v.book.ReadingsWithin(gauge, after, v.end)
	out := slices.Grow([]Point(nil), len(readings))
	for i := range readings {
		r := &readings[i]
		out = append(out, Point{On: r.On, Value: r.What.Value, Shown: !r.What.Counts()})
	}
	return out
}

func (v *sight) gaugeUnit(gauge model.ID) string {
	switch gauge {
	case model.Rejection, model.NormalisedFlow:
		return "%"
	case model.PrefilterDrop:
		return "bar"
	case model.WasteRatio:
		return ""
	}
	g, _ := v.book.Gauge(gauge)
	return g.Unit
}

// fittedLine is the line through a cycle's readings, t in days from the first of them, with its trend test.
type fittedLine struct {
	trend.Line
	p float64
}

func fitLine(dates []ledger.Sample) fittedLine {
	t, y := make([]float64, len(dates)), make([]float64, len(dates))
	for i, d := range dates {
		t[i], y[i] = float64(d.On.Sub(dates[0].On)), d.Value
	}
	line, _ := trend.TheilSen(t, y, trend.Confidence95)
	return fittedLine{line, trend.MannKendall(t, y).P}
}

// drift is a drift of the gauge toward the threshold over its latest 200 readings: of those since the start of the cycle
// where that is a renewal, else of all.
func (c *readingClock) drift(w model.Work, values []ledger.Sample) *Drift {
	var d *Drift
	if w == model.WorkRenew {
		d = c.sight.findDrift(c.clock.Gauge, values)
	} else {
		d = c.sight.drift(c.clock.Gauge)
	}
	if d == nil || d.Up != (c.clock.Bad == model.SideAbove) {
		return nil
	}
	return d
}

package water

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/ui/chart"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	"github.com/charmbracelet/lipgloss"
)

// span is how far back the charts go.
type span struct {
	days   int // 0 is all there is
	name   string
	inFull string
}

var spans = []span{{30, "30 d", "30 days"}, {90, "90 d", "90 days"}, {365, "1 year", "1 year"}, {0, "all", "all there is"}}

// kinds are the charts, in the order in which they are asked about.
var kinds = []func(*maker) chart.Chart{
	(*maker).tds, (*maker).rejection, (*maker).litres, (*maker).normalFlow, (*maker).pressure, (*maker).ratio,
}

// maker makes charts of a book.
type maker struct {
	book   *ledger.Book
	series *ledger.Series
	on     model.Date
	th     theme.Theme
	span   span
}

// charts are all of them over a span.
func charts(series *ledger.Series, th theme.Theme, over span) []chart.Chart {
	m := &maker{series.Book(), series, series.On(), th, over}
	out := make([]chart.Chart, len(kinds))
	for i, kind := range kinds {
		out[i] = kind(m)
	}
	return out
}

// make is a chart over the span, with everything but its values.
func (m *maker) make(title string, stages ...model.Stage) chart.Chart {
	from := m.on.AddDays(-m.span.days)
	if m.span.days == 0 {
		from = m.first()
	}
	c := chart.Chart{
		Title: title, From: float64(from), To: float64(m.on),
		Ticks: ticks(from, m.on), Number: axisNumber,
		Empty: "nothing read in this span; s shows a longer one",
	}
	var names []string
	for _, s := range stages {
		letter := []rune(phrase.StageName(s))[0]
		seen := false
		for _, r := range station.Renewals(m.book, s, m.on) {
			if r.On >= from {
				seen = true
				c.Marks = append(c.Marks, chart.Mark{X: float64(r.On), Letter: letter, Name: phrase.StageName(s)})
			}
		}
		if seen {
			names = append(names, string(letter)+" "+strings.ToLower(phrase.StageName(s)))
		}
	}
	if len(names) > 0 {
		c.Aside = strings.Join(names, ", ") + " renewed"
	}
	return c
}

// first is the first day on which anything of the station was written.
func (m *maker) first() model.Date {
	first := m.on.AddDays(-spans[0].days)
	for _, g := range m.book.Gauges() {
		if g.Role == "" {
			continue
		}
		if readings := m.book.Readings(g.ID); len(readings) > 0 {
			first = min(first, readings[0].On)
		}
	}
	if c, ok := m.book.CounterByRole(model.RoleWaterMade); ok {
		if opened, ok := m.book.Tally(c.ID).Opened(m.on); ok {
			first = min(first, opened)
		}
	}
	return first
}

// role is the readings of the gauge with a role, rings for those that count nowhere, from the one before the chart on,
// from which its line comes.
func (m *maker) role(c *chart.Chart, role, name string, stage model.Stage) (chart.Series, bool) {
	g, ok := m.book.GaugeByRole(role)
	s := chart.Series{Label: name, Style: m.th.Tide}
	if !ok {
		return s, false
	}
	from := model.Mark{On: model.Date(c.From)}
	for _, r := range slices.Backward(m.book.ReadingsWithin(g.ID, model.Mark{}, from)) {
		if from = (model.Mark{On: r.On}); r.What.Counts() {
			break
		}
	}
	for _, r := range m.book.ReadingsWithin(g.ID, from, model.EndOf(m.on)) {
		v := parse.Shown(r.What.Value, g.Unit, m.book.Def().Units)
		s.Points = append(s.Points, chart.Point{X: float64(r.On), Y: v, Ring: !r.What.Counts()})
	}
	m.part(&s, stage)
	return s, true
}

// part breaks a line where the part it is of was renewed, and names its last value: as what was, if that part has been taken
// out since or nobody has looked for long.
func (m *maker) part(s *chart.Series, stage model.Stage) {
	var since float64
	if stage != "" {
		for _, r := range station.Renewals(m.book, stage, m.on) {
			s.Breaks = append(s.Breaks, float64(r.On))
			since = max(since, float64(r.On))
		}
	}
	if len(s.Points) == 0 {
		return
	}
	last, word := s.Points[len(s.Points)-1], "now "
	switch {
	case last.X < since || m.on.Sub(model.Date(last.X)) > staleDays:
		word = "was "
	case s.Label != "":
		word = ""
	}
	s.Name = strings.TrimPrefix(s.Label+" ", " ") + word + axisNumber(last.Y)
}

// derived is the values of a derived gauge, all of which are the membrane's.
func (m *maker) derived(id model.ID) chart.Series {
	s := chart.Series{Style: m.th.Tide}
	for _, l := range m.series.Of(id, model.Mark{}, model.EndOf(m.on)) {
		s.Points = append(s.Points, chart.Point{X: float64(l.On), Y: l.Value})
	}
	m.part(&s, model.StageMembrane)
	return s
}

// limit draws the threshold a chore keeps a gauge to.
func (m *maker) limit(c *chart.Chart, gauge model.ID, unit string) {
	if l, ok := station.Threshold(m.book, gauge); ok {
		v := parse.Shown(l.Value, unit, m.book.Def().Units)
		c.Limits = append(c.Limits, chart.Limit{Y: v, Name: "change at " + axisNumber(v)})
	}
}

func (m *maker) tds() chart.Chart {
	c := m.make("TDS, ppm", model.StageMembrane, model.StageResin)
	c.Log, c.Floor = true, 1
	for i, g := range []struct {
		role, name string
		of         model.Stage
	}{
		{model.RoleTDSTap, "tap", ""}, {model.RoleTDSMembrane, "membrane", model.StageMembrane}, {model.RoleTDSProduct, "resin", model.StageResin},
	} {
		if s, ok := m.role(&c, g.role, g.name, g.of); ok {
			s.Style = []lipgloss.Style{m.th.Dim, m.th.Tide, m.th.Title}[i]
			c.Series = append(c.Series, s)
		}
	}
	if g, ok := m.book.GaugeByRole(model.RoleTDSProduct); ok {
		m.limit(&c, g.ID, g.Unit)
	}
	return c
}

func (m *maker) rejection() chart.Chart {
	c := m.make("Rejection, %, warm water "+station.RejectionAt(25, m.book.Def().Units), model.StageMembrane)
	c.Series = []chart.Series{m.derived(model.Rejection)}
	m.limit(&c, model.Rejection, "%")
	return c
}

func (m *maker) normalFlow() chart.Chart {
	c := m.make("Normalised flow, % of the first weeks", model.StageMembrane)
	c.Series = []chart.Series{m.derived(model.NormalisedFlow)}
	m.limit(&c, model.NormalisedFlow, "%")
	return c
}

func (m *maker) ratio() chart.Chart {
	c := m.make("Waste to product, L per L", model.StageMembrane)
	c.Series = []chart.Series{m.derived(model.WasteRatio)}
	m.limit(&c, model.WasteRatio, "")
	return c
}

// workingFloor is the pressure below which makers advise a booster, in bar.
const workingFloor = 2.8

func (m *maker) pressure() chart.Chart {
	u := m.book.Def().Units
	c := m.make("Pressure while running, "+parse.Unit("bar", u), model.StageSediment, model.StageCarbon)
	if s, ok := m.role(&c, model.RolePressureLine, "line", ""); ok {
		c.Series = append(c.Series, s)
	}
	if s, ok := m.role(&c, model.RolePressureMembrane, "membrane", ""); ok {
		s.Style = m.th.Title
		c.Series = append(c.Series, s)
	}
	floor := parse.Shown(workingFloor, "bar", u)
	c.Limits = []chart.Limit{{Y: floor, Name: "floor " + axisNumber(floor)}}
	return c
}

const daysAWeek = 7

// litres is the water made in each week that ends on the weekday of today.
func (m *maker) litres() chart.Chart {
	u := m.book.Def().Units
	title := "Litres made, by the week"
	if u.Volume == "gal" {
		title = "Gallons made, by the week"
	}
	c := m.make(title, model.StageResin)
	counter, ok := m.book.CounterByRole(model.RoleWaterMade)
	if !ok {
		return c
	}
	s := chart.Series{Style: m.th.Tide, Bars: true, BarDays: daysAWeek}
	weeks := (int(c.To)-int(c.From))/daysAWeek + 1
	made := make([]float64, weeks) // by how many weeks ago
	for _, a := range m.book.Amounts(counter.ID) {
		if i := m.on.Sub(a.On) / daysAWeek; a.On <= m.on && i < weeks {
			made[i] += a.Qty
		}
	}
	for i := weeks - 1; i >= 0; i-- {
		end := m.on.AddDays(-daysAWeek * i)
		start := float64(end.AddDays(1 - daysAWeek))
		if start < c.From {
			continue
		}
		v := parse.Shown(made[i], counter.Unit, u)
		s.Points = append(s.Points, chart.Point{X: start, Y: v})
		s.Name = axisNumber(v) + " a week"
	}
	c.Series = []chart.Series{s}
	return c
}

// axisNumber writes a value in few cells.
func axisNumber(v float64) string {
	switch a := math.Abs(v); {
	case a >= 100:
		return fmt.Sprintf("%.0f", v)
	case a >= 10:
		return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0")
	}
	return parse.Number(math.Round(v*100) / 100)
}

// ticks are the dates written under a chart: weeks, halves of months, months or years.
func ticks(from, to model.Date) []chart.Tick {
	var out []chart.Tick
	days := to.Sub(from)
	for d := from; d <= to; d = d.AddDays(1) {
		_, month, day := d.YMD()
		name := ""
		switch {
		case days <= 45 && d.Weekday() == time.Monday:
			name = d.Format("2 Jan")
		case days <= 120 && days > 45 && (day == 1 || day == 15):
			name = d.Format("2 Jan")
		case days > 120 && days <= 400 && day == 1:
			name = d.Format("Jan")
			if month == time.January {
				name = d.Format("2006")
			}
		case days > 400 && day == 1 && (month-1)%3 == 0:
			name = d.Format("Jan")
			if month == time.January {
				name = d.Format("2006")
			}
		}
		if name != "" {
			out = append(out, chart.Tick{X: float64(d), Name: text.Clean(name)})
		}
	}
	return out
}

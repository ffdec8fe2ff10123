// Package water is view 2: the water station's latest values, charts of them over
// time, a card for each stage, what the readings say, and the mixing of salt water.
//
// Start at New. What is known of the water is gathered by model/station and weighed by
// model/water; bars are drawn by ui/tide, charts by ui/chart, sentences made by
// ui/words. Nothing is worked out here but where things stand on the screen.
package water

import (
	"brine/wrasse/model"
	"brine/wrasse/model/station"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/ask"
	"brine/wrasse/ui/chart"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
	"brine/wrasse/ui/words"

	tea "github.com/charmbracelet/bubbletea"
)

// Screen is the Water view.
type Screen struct {
	desk  *desk.Desk
	asked source // what was asked for last
	seen
	mixing mixing

	span  int // index into spans
	chart int // the chart shown where there is room for one only
	large bool
	from  int // first line shown, where not everything fits
}

// source is what the view is made from: a wide book, as charts and first weeks look far back, the desk's round, and the day.
type source struct {
	book  *model.Book
	round *schedule.Round
	on    model.Date
}

// seen is what is seen of a source. It is made in a command: of a long book that takes longer than a key may.
type seen struct {
	source
	series *model.Series
	is     *station.Station // nil before it is made
	drifts []string         // which values have left their first range, in words
	drawn
}

// drawn is the charts of a source over a span.
type drawn struct {
	of     source
	span   span
	charts []chart.Chart
}

// New is the Water view of a desk.
func New(d *desk.Desk) ui.Screen { return &Screen{desk: d, span: 1} }

// Scope is that of Water.
func (s *Screen) Scope() keys.Scope { return keys.Water }

// TextEntry is false: letters are commands.
func (s *Screen) TextEntry() bool { return false }

// Needs is the wide book.
func (s *Screen) Needs() desk.Grade { return desk.Wide }

// Msg takes in a new book or day.
func (s *Screen) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case desk.Fresh:
		return s.renew()
	case desk.Forget:
		s.asked, s.seen = source{}, seen{}
	case seen:
		if msg.source == s.asked {
			s.seen = msg
			return s.redraw()
		}
	case drawn:
		if msg.of == s.source && msg.span == spans[s.span] {
			s.drawn = msg
		}
	}
	return nil
}

// renew works everything out anew, unless it was asked for of this book and day.
func (s *Screen) renew() tea.Cmd {
	of := source{s.desk.Wide(), s.desk.Round, s.desk.Today()}
	if of.book == nil || of == s.asked {
		return nil
	}
	s.asked = of
	over, th := spans[s.span], s.desk.Root.Theme()
	return ui.Guarded("looking at the water", func() (tea.Msg, error) {
		series := of.book.Series(of.on)
		return seen{of, series, station.From(series), words.StationDrift(series, of.round), of.draw(series, th, over)}, nil
	})
}

// redraw makes the charts anew if they are of another span than is to be shown.
func (s *Screen) redraw() tea.Cmd {
	of, series, over, th := s.source, s.series, spans[s.span], s.desk.Root.Theme()
	if s.drawn.span == over {
		return nil
	}
	return ui.Guarded("drawing the charts", func() (tea.Msg, error) { return of.draw(series, th, over), nil })
}

func (of source) draw(series *model.Series, th theme.Theme, over span) drawn {
	return drawn{of, over, charts(series, th, over)}
}

// Close lets esc leave the large chart first.
func (s *Screen) Close() (tea.Cmd, bool) {
	if s.large {
		s.large = false
		return nil, false
	}
	return nil, true
}

// Aside is the likeliest cause, at the right end of the view strip.
func (s *Screen) Aside(room int) string {
	if s.is == nil || len(s.is.Diagnosis.Causes) == 0 {
		return ""
	}
	c := s.is.Diagnosis.Causes[0]
	return text.Longest(room, c.Cause+", "+c.Sure.String(), c.Cause)
}

// Act carries out an action of the view. What is written down does not wait for what is
// drawn.
func (s *Screen) Act(a keys.Action) tea.Cmd {
	switch a {
	case keys.Undo:
		return s.desk.Undo()
	case keys.Redo:
		return s.desk.Redo()
	case keys.Use:
		return ask.Usage(s.desk, "")
	case keys.Read:
		return ask.Readings(s.desk, s.gauges())
	case keys.Mix:
		s.mix()
	default:
		if s.is != nil {
			return s.look(a)
		}
	}
	return nil
}

// look carries out an action that only changes what is seen.
func (s *Screen) look(a keys.Action) tea.Cmd {
	switch a {
	case keys.Advice:
		s.desk.Root.Push(list.NewPage(s.desk, keys.Reading, s.inFull, nil))
	case keys.Span:
		s.span = (s.span + 1) % len(spans)
		s.desk.Root.Say("charts over " + spans[s.span].inFull)
		return s.redraw()
	case keys.Left:
		s.chart = (s.chart + len(kinds) - 1) % len(kinds)
	case keys.Right:
		s.chart = (s.chart + 1) % len(kinds)
	case keys.Open:
		s.large = !s.large
	default:
		w, h := s.desk.Root.Body()
		n := 0
		if s.desk.Root.Theme().Plain {
			n = len(s.inWords(w))
		} else {
			n = len(s.narrow(w, h))
		}
		s.from = ui.Scroll(a, s.from, n, h)
	}
	return nil
}

// gauges are those of the station in the order the water flows, and last what is seen
// without a meter.
func (s *Screen) gauges() []model.ID {
	is := s.is
	if is == nil {
		is = station.Of(s.desk.Book, s.desk.Today())
	}
	var out []model.ID
	for _, v := range is.Values {
		out = append(out, v.Gauge.ID)
	}
	for _, g := range station.Sights(s.desk.Book) {
		out = append(out, g.ID)
	}
	return out
}

// Sizes from which there is room for everything at once.
const (
	wideW, wideH = 110, 24
	gridW        = 170 // and for charts beside one another
)

// Render draws the view.
func (s *Screen) Render(w, h int) string {
	switch {
	case !s.desk.Loaded():
		return text.Block(nil, w, h)
	case s.is == nil:
		return text.Block(s.desk.Reading(w), w, h)
	case s.desk.Root.Theme().Plain:
		lines := s.inWords(w)
		return text.Block(lines[min(s.from, max(len(lines)-h, 0)):], w, h)
	case s.large:
		return text.Block(s.one(w, h), w, h)
	case w >= wideW && h >= wideH:
		return s.wide(w, h)
	}
	lines := s.narrow(w, h)
	from := min(max(s.from, 0), max(len(lines)-h, 0))
	return text.Block(lines[from:], w, h)
}

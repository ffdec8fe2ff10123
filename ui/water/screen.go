// Package water is view 2: the water station's latest values, charts of them over
// time, a card for each stage, what the readings say, and the mixing of salt water.
//
// Start at New. What is known of the water is gathered by model/station and weighed by
// model/water; bars are drawn by ui/lifebar, charts by ui/chart, sentences made by
// ui/phrase. Nothing is worked out here but where things stand on the screen.
package water

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/chart"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/prompt"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// Screen is the Water view.
type Screen struct {
	session *session.Session
	round   *schedule.Round // that everything is seen in
	on      model.Date
	series  *ledger.Series
	is      *station.Station // nil before the book is read
	drifts  []string         // which values have left their first range, in words
	charts  []chart.Chart    // over the span
	mixing  mixing

	span  int // index into spans
	chart int // the chart shown where there is room for one only
	large bool
	from  int // first line shown, where not everything fits
}

// New is the Water view of a session.
func New(d *session.Session) ui.Screen { return &Screen{session: d, span: 1} }

// Scope is that of Water.
func (s *Screen) Scope() keys.Scope { return keys.Water }

// TextEntry is false: letters are commands.
func (s *Screen) TextEntry() bool { return false }

// Msg takes in a new book or day.
func (s *Screen) Msg(msg tea.Msg) tea.Cmd {
	if _, fresh := msg.(session.BookChanged); fresh {
		s.renew()
	}
	return nil
}

// renew works everything out again, unless it is of this round.
func (s *Screen) renew() {
	round, on := s.session.Round, s.session.Today()
	if round == s.round && on == s.on {
		return
	}
	s.round, s.on, s.series = round, on, s.session.Book.Series(on)
	s.is, s.drifts = station.From(s.series), phrase.StationDrift(s.series, round)
	s.redraw()
}

// redraw makes the charts again.
func (s *Screen) redraw() { s.charts = charts(s.series, s.session.Root.Theme(), spans[s.span]) }

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
	return text.Longest(room, c.Said(), c.Cause)
}

// Act carries out an action of the view. What is written down does not wait for what is
// drawn.
func (s *Screen) Act(a keys.Action) tea.Cmd {
	switch a {
	case keys.Undo:
		return s.session.Undo()
	case keys.Redo:
		return s.session.Redo()
	case keys.Use:
		return prompt.Usage(s.session, "")
	case keys.Read:
		return prompt.Readings(s.session, s.gauges())
	case keys.Level:
		return prompt.Level(s.session)
	case keys.Need:
		return prompt.Need(s.session)
	case keys.Mix:
		s.mix()
	case keys.See:
		s.see()
	case keys.Normal:
		s.normal()
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
		s.session.Root.Push(table.NewPage(s.session, keys.Reading, s.inFull, nil))
	case keys.Span:
		s.span = (s.span + 1) % len(spans)
		s.session.Root.Say("charts over " + spans[s.span].inFull)
		s.redraw()
	case keys.Left:
		s.chart = (s.chart + len(kinds) - 1) % len(kinds)
	case keys.Right:
		s.chart = (s.chart + 1) % len(kinds)
	case keys.Open:
		s.large = !s.large
	default:
		w, h := s.session.Root.Body()
		n := 0
		if s.session.Root.Theme().Plain {
			n = len(s.inWords(w))
		} else {
			n = len(s.narrow(w, h))
		}
		s.from = ui.Scroll(a, s.from, n, h)
	}
	return nil
}

// gauges are those of the station in the order the water flows.
func (s *Screen) gauges() []model.ID {
	is := s.is
	if is == nil {
		is = station.Of(s.session.Book, s.session.Today())
	}
	var out []model.ID
	for _, v := range is.Values {
		out = append(out, v.Gauge.ID)
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
	case s.is == nil:
		return text.Block(nil, w, h)
	case s.session.Root.Theme().Plain:
		lines := s.inWords(w)
		return text.Block(lines[min(s.from, max(len(lines)-h, 0)):], w, h)
	case s.large:
		return text.Block(s.one(w, h), w, h)
	case w >= wideW && h >= wideH:
		return s.wide(w, h)
	}
	lines := s.narrow(w, h)
	from := min(max(s.from, 0), max(len(lines)-h, 0))
	if last := from + h - 1; h > 0 && last < len(lines)-2 { // a chart can do without its dates
		lines[last] = s.session.Root.Theme().Dim.Render(text.Longest(w, "(more below: down shows it)", "(more below)"))
	}
	return text.Block(lines[from:], w, h)
}

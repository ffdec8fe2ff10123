// Package theme holds the program's looks: what each kind of text means, and
// how that meaning is drawn. Screens name a meaning (Late, Dim, Key) and never
// a colour.
//
// The terminal's own foreground and background, its attributes, and colours 1
// to 6 of its own palette are all that is used: the owner of a light or a dark
// terminal has already made those readable, and they survive every multiplexer.
// So nothing needs to know the background, and nothing is asked of the terminal.
// A colour is never the only sign of anything: words and marks come first.
package theme

import (
	"io"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// Theme is the whole look. Build it once, with Pick.
type Theme struct {
	Text  lipgloss.Style // ordinary text
	Dim   lipgloss.Style // what may be overlooked: hints, units, column heads
	Title lipgloss.Style // the book's name, headings
	View  lipgloss.Style // the current view in the view strip

	Cursor lipgloss.Style // the selected row, and the cell typed into
	Marked lipgloss.Style // rows marked for one job

	Limit lipgloss.Style // past limit
	Late  lipgloss.Style // overdue
	Soon  lipgloss.Style // due today or this week
	Good  lipgloss.Style // fine, done, saved
	Tide  lipgloss.Style // the filled part of a tide bar with time left

	Fault   lipgloss.Style // an error, a fault of a component
	Caution lipgloss.Style // what can hurt
	Key     lipgloss.Style // a key in the key line or the help
	Rule    lipgloss.Style // lines between parts
	Field   lipgloss.Style // text in a form

	Mark string // stands in the first column of the selected row, in every theme

	// Plain asks for words only, one below the other, as a screen reader wants them: no
	// bars, charts, rules or columns, a fact a line. The styles stay as they are.
	Plain bool
}

// The six palette colours in use. White, black and the bright ones are left
// out: on some palettes each of them is the background.
const (
	red    = lipgloss.Color("1")
	green  = lipgloss.Color("2")
	yellow = lipgloss.Color("3")
	cyan   = lipgloss.Color("6")
)

// Pick chooses the look from the environment. NO_COLOR, if set and not empty,
// drops the colours but keeps bold and reverse, without which a full-screen
// program has no cursor. TERM=dumb drops every sequence. Everything else gets
// the palette: what terminal libraries guess from CI, COLORTERM or an unknown
// TERM would strip attributes too, so none of it is consulted.
func Pick(env func(string) string) Theme {
	switch {
	case env("TERM") == "dumb":
		return mono(paint(termenv.Ascii))
	case env("NO_COLOR") != "":
		return mono(paint(termenv.ANSI))
	}
	return palette(paint(termenv.ANSI))
}

// paint returns a maker of styles with an explicit profile and background, so
// that neither is looked up on a terminal and no package state is involved.
func paint(p termenv.Profile) func() lipgloss.Style {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(p)
	r.SetHasDarkBackground(true)
	return r.NewStyle
}

// mono is the look without colour, and the base of the one with.
func mono(style func() lipgloss.Style) Theme {
	return Theme{
		Text:    style(),
		Dim:     style().Faint(true),
		Title:   style().Bold(true),
		View:    style().Bold(true),
		Cursor:  style().Reverse(true),
		Marked:  style().Bold(true),
		Limit:   style().Bold(true),
		Late:    style().Bold(true),
		Soon:    style(),
		Good:    style(),
		Tide:    style(),
		Fault:   style().Bold(true).Reverse(true),
		Caution: style().Bold(true),
		Key:     style().Bold(true),
		Rule:    style().Faint(true),
		Field:   style().Underline(true),
		Mark:    ">",
	}
}

// palette adds colour to the meanings that gain by it.
func palette(style func() lipgloss.Style) Theme {
	t := mono(style)
	t.Limit = t.Limit.Foreground(red)
	t.Late = style().Foreground(red)
	t.Soon = t.Soon.Foreground(yellow)
	t.Good = t.Good.Foreground(green)
	t.Tide = t.Tide.Foreground(cyan)
	t.Fault = style().Bold(true).Foreground(red)
	t.Caution = t.Caution.Foreground(yellow)
	t.Key = t.Key.Foreground(cyan)
	return t
}

// Over draws s in style even where s already holds styled parts: each part's
// closing reset would otherwise end the outer style too, and a selected row
// would lose its bar after its first coloured word.
func Over(style lipgloss.Style, s string) string {
	const probe, reset = "x", "\x1b[0m"
	open, _, ok := strings.Cut(style.Render(probe), probe)
	if !ok || open == "" || s == "" {
		return s
	}
	return open + strings.ReplaceAll(s, reset, reset+open) + reset
}

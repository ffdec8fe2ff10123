// Package theme holds the program's looks: what each kind of text means, and
// how that meaning is drawn. Screens name a meaning (Late, Dim, Key) and never
// a colour.
//
// As it comes, text is in the terminal's own foreground, plain or bold: no colour of a
// palette can be read on black and on white. Only bars and marks have a hue, of the
// terminal's own palette. The looks "light" and "dark" colour text too, in colours that
// are the same on every terminal and are held to a contrast on their ground by a test.
// Nothing is asked of the terminal. A colour is never the only sign of anything: words
// and marks come first.
package theme

import (
	"cmp"
	"io"
	"runtime"
	"strings"

	"brine/wrasse/ui/text"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// Theme is the whole look. Build it once, with Named.
type Theme struct {
	Text  lipgloss.Style // ordinary text
	Dim   lipgloss.Style // what may be overlooked: hints, units, column heads
	Title lipgloss.Style // the book's name, headings
	View  lipgloss.Style // the current view in the view strip

	Cursor lipgloss.Style // the selected row, and the cell typed into
	Marked lipgloss.Style // rows marked for one job

	Limit lipgloss.Style // past limit
	Late  lipgloss.Style // overdue
	Soon  lipgloss.Style // due today
	Good  lipgloss.Style // fine, done, saved

	Tide lipgloss.Style // the filled part of a bar with time left, a line of a chart
	Past lipgloss.Style // the part of a bar that is late, the mark of what is broken

	Fault   lipgloss.Style // an error, a fault of a component
	Caution lipgloss.Style // what can hurt
	Key     lipgloss.Style // a key in the key line or the help
	Rule    lipgloss.Style // lines between parts
	Field   lipgloss.Style // text in a form

	Mark string // stands in the first column of the selected row, in every theme

	// Plain asks for words only, one below the other, as a screen reader wants them: no
	// bars, charts, rules or columns, a fact a line. The styles stay as they are.
	Plain bool
	// ASCII asks for nothing but ASCII on the screen. Screens draw the same; the root has
	// text.ASCII draw each line of the window again.
	ASCII bool
}

// Names are the looks there are, the first one by itself. "mono" is without colour.
var Names = []string{"colour", "light", "dark", "mono"}

// Glyphs are what may be drawn with, the first one by itself: what the locale says.
var Glyphs = []string{"auto", "unicode", "ascii"}

// Named is the look of a name, drawn with glyphs, where the environment allows it:
// NO_COLOR, if set and not empty, drops the colours but keeps bold and reverse, without
// which a full-screen program has no cursor. TERM=dumb drops every sequence. What terminal
// libraries guess from CI, COLORTERM or an unknown TERM would strip attributes too, so none
// of it is consulted.
func Named(name, glyphs string, env func(string) string) Theme {
	t := mono(paint(termenv.ANSI))
	switch {
	case env("TERM") == "dumb":
		t = mono(paint(termenv.Ascii))
	case env("NO_COLOR") != "" || name == "mono":
	case name == "light":
		t = coloured(paint(termenv.ANSI256), onLight)
	case name == "dark":
		t = coloured(paint(termenv.ANSI256), onDark)
	default:
		t.Tide, t.Past = t.Tide.Foreground(cyan), t.Past.Foreground(red)
	}
	console := env("TERM") == "linux" // its usual fonts have no braille, of which charts are made
	t.ASCII = glyphs == "ascii" || glyphs != "unicode" && (console || !utf8(env))
	return t
}

// utf8 tells whether the locale's characters are written in UTF-8: the first of these
// variables that is set says so, as POSIX has it (Base Definitions, 8.2). Where none is,
// the locale is POSIX's own, which is ASCII; Windows has none of them and speaks UTF-8.
func utf8(env func(string) string) bool {
	locale := cmp.Or(env("LC_ALL"), env("LC_CTYPE"), env("LANG"))
	name := strings.ToLower(strings.ReplaceAll(locale, "-", ""))
	return strings.Contains(name, "utf8") || locale == "" && runtime.GOOS == "windows"
}

// The hues of bars and marks, of the terminal's palette. White, black and the bright ones
// are left out: on some palettes each of them is the background.
const (
	red  = lipgloss.Color("1")
	cyan = lipgloss.Color("6")
)

// hues are colours of text for one kind of ground.
type hues struct{ limit, late, soon, good, tide, key, dim lipgloss.Color }

// These are numbers of the colour cube and the grey ramp that terminals of 256 colours
// have in common, whatever their palette.
var (
	onLight = hues{limit: "88", late: "124", soon: "94", good: "22", tide: "24", key: "24", dim: "240"}
	onDark  = hues{limit: "217", late: "210", soon: "221", good: "114", tide: "80", key: "117", dim: "248"}
)

// coloured is the look with coloured text.
func coloured(style func() lipgloss.Style, h hues) Theme {
	t := mono(style)
	t.Dim = t.Dim.Foreground(h.dim)
	t.Limit = t.Limit.Foreground(h.limit)
	t.Late = style().Foreground(h.late)
	t.Soon = style().Foreground(h.soon)
	t.Good = t.Good.Foreground(h.good)
	t.Tide, t.Past = t.Tide.Foreground(h.tide), t.Past.Foreground(h.late)
	t.Fault = t.Fault.Foreground(h.late)
	t.Caution = t.Caution.Foreground(h.soon)
	t.Key = t.Key.Foreground(h.key)
	t.Rule = style().Foreground(h.dim)
	return t
}

// paint returns a maker of styles with an explicit profile and background, so
// that neither is looked up on a terminal and no package state is involved.
func paint(p termenv.Profile) func() lipgloss.Style {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(p)
	r.SetHasDarkBackground(true)
	return r.NewStyle
}

// mono is the look without colour, and the base of the others. Faint is for lines only:
// how faint text becomes no terminal says, and on some it can't be read.
func mono(style func() lipgloss.Style) Theme {
	return Theme{
		Text:    style(),
		Dim:     style(),
		Title:   style().Bold(true),
		View:    style().Bold(true),
		Cursor:  style().Reverse(true),
		Marked:  style().Bold(true),
		Limit:   style().Bold(true),
		Late:    style().Bold(true),
		Soon:    style().Bold(true),
		Good:    style(),
		Tide:    style(),
		Past:    style().Bold(true),
		Fault:   style().Bold(true),
		Caution: style().Bold(true),
		Key:     style().Bold(true),
		Rule:    style().Faint(true),
		Field:   style().Underline(true),
		Mark:    ">",
	}
}

// Words is a sentence as it is shown: in plain words its units are words too.
func (t Theme) Words(s string) string {
	if t.Plain {
		return text.Spoken(s)
	}
	return s
}

// What lines are drawn with.
const (
	Level   = "─"
	Upright = "│"
)

// Line is a level line of w cells.
func (t Theme) Line(w int) string { return t.Rule.Render(strings.Repeat(Level, max(w, 0))) }

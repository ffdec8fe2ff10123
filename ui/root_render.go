package ui

import (
	"fmt"
	"regexp"
	"strings"

	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"

	"github.com/charmbracelet/lipgloss"
)

// Lines of the frame that do not move.
const (
	viewLine = 1 // the view strip
	bodyLine = 2 // first line of the body

	minFrame = 4 // lines around the body: title, views, status, keys
)

// listSight is the least of the screen below that a sheet leaves in sight; if
// it cannot, it takes the whole body.
const listSight = 5

// View draws the window. Until its size is known there is nothing to draw.
func (r *Root) View() string {
	if r.w <= 0 || r.h <= 0 {
		return ""
	}
	frame, at := r.draw(r.w, r.h)
	r.cursor.Store(uint32(at.X)<<16 | uint32(at.Y))
	return frame
}

// Render draws the whole window in exactly h lines of w cells.
func (r *Root) Render(w, h int) string {
	frame, _ := r.draw(w, h)
	return frame
}

// draw draws the window, and says where in it a screen reader should find the cursor.
func (r *Root) draw(w, h int) (string, Spot) {
	l := r.lay(w, h)
	if l.TooSmall {
		return tooSmall(w, h), Spot{}
	}
	lines := make([]string, 0, h)
	lines = append(lines, r.titleStrip(w), r.viewStrip(w))
	places := r.places(l)
	for _, p := range places {
		switch {
		case p.ruled && r.theme.Plain:
			lines = append(lines, "")
		case p.ruled:
			lines = append(lines, r.theme.Line(w))
		}
		lines = append(lines, strings.Split(text.Block(strings.Split(p.screen.Render(w, p.h), "\n"), w, p.h), "\n")...)
	}
	if !l.Compact || r.status.text != "" {
		lines = append(lines, r.statusLines(w, h)...)
	}
	if !l.Compact || r.status.text == "" {
		lines = append(lines, r.keyLine(w))
	}
	for i, l := range lines {
		if r.theme.Plain {
			l = r.words(l, w)
		}
		if r.theme.ASCII {
			l = text.ASCII(text.Fit(l, w))
		}
		lines[i] = l
	}
	return text.Block(lines, w, h), r.spot(lines, places[len(places)-1])
}

// Spot is a cell of the window, counted from its top left corner.
type Spot struct{ X, Y int }

// Spot is where the cursor stands in the frame that View drew last: on the marked row, or
// in the field being typed into. Any goroutine may ask.
func (r *Root) Spot() Spot {
	at := r.cursor.Load()
	return Spot{X: int(at >> 16), Y: int(at & 0xffff)}
}

// spot finds the first cell of the screen keys go to that is drawn as the cursor. On a
// page without one it is the page's first cell.
func (r *Root) spot(lines []string, top place) Spot {
	const probe = "x"
	mark, _, _ := strings.Cut(r.theme.Cursor.Render(probe), probe)
	for y := top.y; y < min(top.y+top.h, len(lines)) && mark != ""; y++ {
		if before, _, found := strings.Cut(lines[y], mark); found {
			return Spot{X: text.Width(before), Y: y}
		}
	}
	return Spot{Y: top.y}
}

// pauses puts what stands between words into what is read out as a pause.
var pauses = strings.NewReplacer(" · ", ", ")

// words is a line as it is read out: with pauses, and its units in words where that fits, unless something is typed in it.
func (r *Root) words(l string, w int) string {
	l = pauses.Replace(l)
	for _, typed := range []lipgloss.Style{r.theme.Cursor, r.theme.Field} {
		if mark, _, _ := strings.Cut(typed.Render("x"), "x"); mark != "" && strings.Contains(l, mark) {
			return l
		}
	}
	var b strings.Builder
	from := 0
	for _, at := range append(styling.FindAllStringIndex(l, -1), []int{len(l), len(l)}) { // its figures are no amounts
		b.WriteString(text.Spoken(l[from:at[0]]) + l[at[0]:at[1]])
		from = at[1]
	}
	if s := strings.TrimRight(b.String(), " "); text.Width(s) <= w {
		return s
	}
	return l
}

// styling is a sequence that sets a style.
var styling = regexp.MustCompile("\x1b\\[[0-9;]*m")

// tooSmall is the notice in a window nothing fits into. Everything is kept as
// it is until the window grows.
func tooSmall(w, h int) string {
	s := fmt.Sprintf("wrasse needs a window of %d x %d; this one is %d x %d. ctrl+c quits", MinW, MinH, w, h)
	return text.Block(text.Wrap(s, w), w, h)
}

// titleStrip is the first line: the book at the left, the day at the right.
func (r *Root) titleStrip(w int) string {
	if r.cfg.Heading == nil {
		return ""
	}
	left, right := r.cfg.Heading()
	if r.theme.Plain {
		return r.theme.Title.Render(text.Clean(left)) + ", " + text.Clean(right)
	}
	return text.Spread(r.theme.Title.Render(text.Clean(left)), text.Clean(right), w)
}

// viewStrip is the second line: the views, the present one in brackets, and
// what it has to say.
func (r *Root) viewStrip(w int) string {
	if r.theme.Plain {
		return r.viewInWords(w)
	}
	var b strings.Builder
	for _, s := range r.strip(w) {
		b.WriteString(strings.Repeat(" ", max(s.from-text.Width(b.String()), 0)))
		if s.view == r.at {
			b.WriteString(r.theme.View.Render(s.text))
		} else {
			b.WriteString(s.text)
		}
	}
	left := b.String()
	a, ok := r.views[r.at].Screen.(Asider)
	room := w - text.Width(left) - 2
	if !ok || room < 1 {
		return left
	}
	aside := text.Clean(a.Aside(room))
	if text.Width(aside) > room {
		aside = text.Fit(aside, room)
	}
	return text.Spread(left, aside, w)
}

// viewInWords is the present view, and what it has to say.
func (r *Root) viewInWords(w int) string {
	s := fmt.Sprintf("%s, view %d of %d", text.Clean(r.views[r.at].Name), r.at+1, len(r.views))
	if a, ok := r.views[r.at].Screen.(Asider); ok {
		if aside := text.Clean(a.Aside(w - text.Width(s) - 2)); aside != "" {
			s += ": " + aside
		}
	}
	return s
}

// label is a view's name at its place in the strip.
type label struct {
	view, from int
	text       string
}

// strip lays the view names out: all of them if they fit, closer together if
// need be, or else the present one and how many there are.
func (r *Root) strip(w int) []label {
	for gap := 2; gap > 0; gap-- {
		var out []label
		x := 0
		for i, v := range r.views {
			name := text.Clean(v.Name)
			if i == r.at {
				name = "[" + name + "]"
			}
			out = append(out, label{i, x, name})
			x += text.Width(name) + gap
		}
		if x-gap <= w*3/4 || (gap == 1 && x-gap <= w) {
			return out
		}
	}
	name := fmt.Sprintf("[%s] %d of %d", text.Clean(r.views[r.at].Name), r.at+1, len(r.views))
	return []label{{r.at, 0, name}}
}

// viewAt is the view whose name is drawn at column x, or -1.
func (r *Root) viewAt(x int) int {
	if r.theme.Plain {
		return -1 // one view is named only
	}
	for _, s := range r.strip(r.w) {
		if x >= s.from && x < s.from+text.Width(s.text) {
			return s.view
		}
	}
	return -1
}

// place is a screen and the lines of the window it is drawn in.
type place struct {
	screen Screen
	y, h   int
	ruled  bool // a rule stands in the line above it
}

// places shares the body out: the topmost full screen, and below it under rules
// the sheets opened over it. Where a sheet would leave too little in sight, it
// takes everything.
func (r *Root) places(l Layout) []place {
	stack := append([]Screen{r.ground()}, r.pages[r.at]...)
	base := len(stack) - 1
	room := l.Body
	for ; base > 0; base-- {
		s, ok := stack[base].(Sheet)
		if !ok {
			break
		}
		want := s.Height(l.W) + 1
		if room-want < listSight {
			break
		}
		room -= want
	}
	out := []place{{screen: stack[base], y: bodyLine, h: room}}
	y := bodyLine + room
	for _, s := range stack[base+1:] {
		h := s.(Sheet).Height(l.W)
		out = append(out, place{screen: s, y: y + 1, h: h, ruled: true})
		y += h + 1
	}
	return out
}

// lay plans the frame of a window, with room for what the status line has to say.
func (r *Root) lay(w, h int) Layout {
	l := Lay(w, h)
	if !l.TooSmall {
		l.Body -= len(r.statusLines(w, h)) - 1
	}
	return l
}

// statusLines is the last thing said, or else the standing notice. It is one line, but
// a fault that is longer goes on below: what it ends with is what to do about it.
func (r *Root) statusLines(w, h int) []string {
	s := text.Clean(r.status.text)
	switch {
	case s != "" && r.status.fault:
		lines := text.Wrap(s, w)
		if most := max((h-minFrame)/2, 1); len(lines) > most {
			rest := strings.Join(lines[most-1:], " ")
			lines = append(lines[:most-1], text.Fit(rest, w))
		}
		for i, line := range lines {
			lines[i] = r.theme.Fault.Render(line)
		}
		return lines
	case s != "":
		return []string{r.theme.Good.Render(strings.Join(text.Brief(s, w, 1), ""))}
	case r.cfg.Notice != nil:
		s = text.Clean(r.cfg.Notice())
	}
	return []string{strings.Join(text.Brief(s, w, 1), "")}
}

// actionAt is what the key does whose words stand at column x of the key line.
func (r *Root) actionAt(x int) keys.Action {
	from := 0
	for _, h := range keys.Foot(r.top().Scope(), r.w) {
		to := from + len(h.Label) + 1 + len(h.Word)
		if x >= from && x < to {
			return h.Action
		}
		from = to + len(keys.Gap)
	}
	return keys.None
}

// keyLine names the keys most wanted here.
func (r *Root) keyLine(w int) string {
	var parts []string
	for _, h := range keys.Foot(r.top().Scope(), w) {
		parts = append(parts, r.theme.Key.Render(h.Label)+" "+h.Word)
	}
	if r.theme.Plain {
		return strings.Join(parts, ", ") // as wide as the gap
	}
	return strings.Join(parts, keys.Gap)
}

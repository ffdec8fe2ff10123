// Package preview shows what an act would move in the round, before it is written.
// A sheet keeps a Look, has it work in commands while the keeper types, and draws
// what was seen last; an answer overtaken by a newer question is dropped.
package preview

import (
	"fmt"

	"brine/wrasse/ui"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// Preview is a look ahead. Make one with New, for each sheet its own.
type Preview struct {
	session *session.Session
	asked   int // of the latest question
	known   bool
	err     error
	effect  request.Effect
}

// New is a look ahead from the session's book.
func New(d *session.Session) *Preview { return &Preview{session: d} }

// Ready is the message that a look has an answer. Whichever screen it reaches
// delivers it.
type Ready struct {
	look   *Preview
	asked  int
	effect request.Effect
	err    error
}

// Deliver hands the answer to the look that asked, unless it has asked anew.
func (s Ready) Deliver() {
	if s.asked == s.look.asked {
		s.look.known, s.look.effect, s.look.err = true, s.effect, s.err
	}
}

// Ask works out in a command what an act would move.
func (l *Preview) Ask(a session.Act) tea.Cmd {
	l.asked++
	seen := Ready{look: l, asked: l.asked}
	book, round := l.session.Book, l.session.Round
	return func() tea.Msg {
		seen.err = ui.Guard("looking ahead", func() error {
			entries, err := a.Entries(book)
			if err == nil {
				seen.effect, err = request.Foresee(book, round, entries)
			}
			return err
		})
		return seen
	}
}

// Forget drops what was seen and what is still being worked out.
func (l *Preview) Forget() { l.asked++; l.known = false }

// Rest is for an answer that would do nothing: no date moves.
func (l *Preview) Rest() { l.asked++; l.known, l.err, l.effect = true, nil, request.Effect{} }

// Effect is what was seen last; ok is false while nothing was, or when the act can't
// be done.
func (l *Preview) Effect() (e request.Effect, ok bool) { return l.effect, l.known && l.err == nil }

// Lines say what would move, in at most most lines: as the book has the names, so
// that whoever draws them cleans them.
func (l *Preview) Lines(most int) []string {
	switch {
	case !l.known:
		return []string{"looking ahead ..."}
	case l.err != nil:
		return []string{"can't be done: " + l.err.Error()}
	}
	var all []string
	for _, c := range l.effect.Mended {
		all = append(all, c.Name+": no longer broken")
	}
	for _, c := range l.effect.Broken {
		all = append(all, c.Name+": broken")
	}
	for _, s := range l.effect.Shifts {
		all = append(all, request.SayShift(l.effect.Book, s, l.session.Today()))
	}
	switch {
	case len(all) == 0:
		return []string{"no date moves"}
	case len(all) > most:
		return append(all[:most-1:most-1], fmt.Sprintf("and %d more", len(all)-most+1))
	}
	return all
}

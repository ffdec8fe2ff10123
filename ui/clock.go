package ui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// Clock is the program's only source of the present time.
type Clock func() time.Time

// NewDay is sent to every screen when the local date has changed.
type NewDay struct{ Now time.Time }

// midnight is the message of the timer that waits for a new day.
type midnight struct{}

// UntilMidnight is how long the local day of now still lasts: 23 or 25 hours
// from its start where the clocks change. It is always positive.
func UntilMidnight(now time.Time) time.Duration {
	y, m, d := now.Date()
	next := time.Date(y, m, d+1, 0, 0, 0, 0, now.Location())
	// Where the clocks go forward at midnight there is no 0:00, and time.Date
	// may answer with 23:00 of the old day.
	for sameDay(next, now) {
		next = next.Add(time.Hour)
	}
	return next.Sub(now)
}

// sameDay reports whether two times have the same date where they are.
func sameDay(a, b time.Time) bool {
	ay, am, ad := a.Date()
	by, bm, bd := b.Date()
	return ay == by && am == bm && ad == bd
}

// waitMidnight is the one timer of a program at rest.
func (r *Root) waitMidnight() tea.Cmd {
	return r.after(UntilMidnight(r.Now()), func(time.Time) tea.Msg { return midnight{} })
}

// checkDay tells every screen if the date has changed since last looked. Every
// message asks it, a key as well as the news that the file was written: the timer
// for midnight stands still while the machine sleeps, and clocks are set.
func (r *Root) checkDay() tea.Cmd {
	now := r.Now()
	if sameDay(now, r.day) {
		return nil
	}
	r.day = now
	return r.broadcast(NewDay{now})
}

package session

import (
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// Timer is a countdown. It runs whatever screen is shown, until it has ended and been
// taken away.
type Timer struct {
	Key  string // tells timers apart
	Name string // what is waited for
	Ends time.Time
	Rang bool // it has ended
}

// second is the message of the one timer the program keeps while countdowns run.
type second struct{}

// tick makes that timer, unless it runs already or no countdown does.
func (d *Session) tick() tea.Cmd {
	if d.timing || !d.ticking() {
		return nil
	}
	d.timing = true
	return d.Root.After(time.Second, func(time.Time) tea.Msg { return second{} })
}

// StartTimer begins a countdown; one with the same key begins anew.
func (d *Session) StartTimer(key, name string, length time.Duration) tea.Cmd {
	d.StopTimer(key)
	d.timers = append(d.timers, Timer{Key: key, Name: name, Ends: d.Root.Now().Add(length)})
	return d.tick()
}

// StopTimer takes a countdown away, ended or not.
func (d *Session) StopTimer(key string) {
	d.timers = slices.DeleteFunc(slices.Clone(d.timers), func(t Timer) bool { return t.Key == key })
}

// Timer is the countdown with a key.
func (d *Session) Timer(key string) (Timer, bool) {
	for _, t := range d.timers {
		if t.Key == key {
			return t, true
		}
	}
	return Timer{}, false
}

// Left is how long a countdown still runs, rounded up to whole seconds; 0 once it
// has ended.
func (d *Session) Left(t Timer) time.Duration {
	left := t.Ends.Sub(d.Root.Now())
	if t.Rang || left <= 0 {
		return 0
	}
	return (left + time.Second - 1).Truncate(time.Second)
}

// ticking reports whether a countdown runs.
func (d *Session) ticking() bool {
	return slices.ContainsFunc(d.timers, func(t Timer) bool { return !t.Rang })
}

// passed rings what has ended, and waits for the next second while anything runs.
func (d *Session) passed() tea.Cmd {
	var cmds []tea.Cmd
	timers := slices.Clone(d.timers)
	for i := range timers {
		if t := &timers[i]; !t.Rang && !d.Root.Now().Before(t.Ends) {
			t.Rang = true
			d.Root.Say(t.Name + ": the time is up")
			cmds = append(cmds, d.ring())
		}
	}
	d.timers, d.timing = timers, false
	return tea.Batch(append(cmds, d.tick())...)
}

// ring sounds the bell.
func (d *Session) ring() tea.Cmd {
	bell := d.Bell
	if bell == nil {
		return nil
	}
	return func() tea.Msg {
		bell()
		return nil
	}
}

// Timers says what runs and when it ends, for the status line: "soak, 12:40 left,
// until 13:40". Empty when nothing runs.
func (d *Session) Timers() string {
	var parts []string
	for _, t := range d.timers {
		switch {
		case t.Rang:
		case d.Root.Theme().Plain: // what changes every second would be read out every second
			parts = append(parts, fmt.Sprintf("%s runs until %s", t.Name, t.Ends.Format("15:04")))
		default:
			parts = append(parts, fmt.Sprintf("%s: %s left, until %s", t.Name, Clock(d.Left(t)), t.Ends.Format("15:04")))
		}
	}
	return strings.Join(parts, " · ")
}

// Linger is what to ask before quitting while a countdown runs, or "".
func (d *Session) Linger() string {
	for _, t := range d.timers {
		if !t.Rang {
			return fmt.Sprintf("%s runs until %s, and nothing will ring. Quit all the same?", t.Name, t.Ends.Format("15:04"))
		}
	}
	return ""
}

// Clock is a length of time as a countdown shows it: "4:05", "1:04:05".
func Clock(left time.Duration) string {
	s := int(left / time.Second)
	if s >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

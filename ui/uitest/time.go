package uitest

import (
	"slices"
	"sync"
	"sync/atomic"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// clock is the time of day of a window, and the timers that run in it. A timer counts the
// time that the machine is awake, as the system's do, and so knows nothing of Leap.
type clock struct {
	mu     sync.Mutex // commands ask the time too
	now    time.Time
	awake  time.Duration
	timers []timer
}

type timer struct {
	due  time.Duration
	fire func(time.Time) tea.Msg
}

// Now is the present time in the window.
func (c *clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.now
}

// Leap moves the clock on, or back, and no timer fires: the machine was asleep, or its
// clock was set.
func (c *clock) Leap(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = c.now.Add(d)
}

// Timers is how many timers run.
func (c *clock) Timers() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return len(c.timers)
}

// After makes a timer, as tea.Tick does.
func (c *clock) After(d time.Duration, fire func(time.Time) tea.Msg) tea.Cmd {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.timers = append(c.timers, timer{c.awake + d, fire})
	return nil
}

// next lets time pass until the next timer is due, but no longer than until end, and
// takes that timer away.
func (c *clock) next(end time.Duration) (fire func(time.Time) tea.Msg, now time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	first := -1
	for i, t := range c.timers {
		if t.due <= end && (first < 0 || t.due < c.timers[first].due) {
			first = i
		}
	}
	if first >= 0 {
		end, fire = c.timers[first].due, c.timers[first].fire
		c.timers = slices.Delete(c.timers, first, first+1)
	}
	c.now, c.awake = c.now.Add(end-c.awake), end
	return fire, c.now
}

// Pass lets time pass on a machine that is awake: every timer fires when it is due.
func (s *Window) Pass(d time.Duration) {
	end := s.awake + d
	for fire, now := s.next(end); fire != nil; fire, now = s.next(end) {
		s.Send(fire(now))
	}
}

// flight is the commands that run beside the window.
type flight struct {
	answers chan tea.Msg // of commands that have ended; nil as long as they run at once
	running atomic.Int32 // commands whose answer has not been taken in
}

func (f *flight) apart() bool { return f.answers != nil }

// Apart runs each command in a goroutine of its own from now on. What it answers waits
// for Next. The store must be one that several goroutines may use, which Store is not.
func (s *Window) Apart() {
	if s.Store != nil {
		s.t.Fatal("a Store is for one goroutine; play on a store of the test's own")
	}
	s.answers = make(chan tea.Msg)
}

// start runs a command, and those in the batch that it may return.
func (f *flight) start(cmd tea.Cmd) {
	f.running.Add(1)
	go func() {
		msg := cmd()
		if cmds := batch(msg); cmds != nil {
			msg = nil
			for _, c := range cmds {
				if c != nil {
					f.start(c)
				}
			}
		}
		f.answers <- msg
	}()
}

// patience bounds the wait for a command; only a test that fails reaches it.
const patience = 30 * time.Second

// Next waits until a command answers and takes that in. It reports false when none runs.
func (s *Window) Next() bool {
	s.t.Helper()
	for s.running.Load() > 0 {
		select {
		case msg := <-s.answers:
			s.running.Add(-1)
			if msg != nil {
				s.take(msg)
				return true
			}
		case <-time.After(patience):
			s.t.Fatalf("%d commands have not answered", s.running.Load())
		}
	}
	return false
}

// Settle takes in what commands answer until none runs.
func (s *Window) Settle() {
	s.t.Helper()
	for s.Next() {
	}
}

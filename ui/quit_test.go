package ui

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/ui/form"

	tea "github.com/charmbracelet/bubbletea"
)

// waiter is a root whose disk doesn't answer, and whose timers a test fires.
type waiter struct {
	*sample
	timers map[time.Duration]func(time.Time) tea.Msg
	ran    []string
	did    []string
}

func newWaiter(t *testing.T) *waiter {
	w := &waiter{timers: map[time.Duration]func(time.Time) tea.Msg{}}
	w.sample = newSample(t, func(c *Config) {
		c.After = func(d time.Duration, f func(time.Time) tea.Msg) tea.Cmd {
			w.timers[d] = f
			return nil
		}
	})
	return w
}

// job is a write that ends with an error, or well.
func (w *waiter) job(op string, err error) Job {
	return Job{Op: op, Run: func() error { w.ran = append(w.ran, op); return err }, Done: func(err error) tea.Cmd {
		if err == nil {
			w.did = append(w.did, op)
		}
		return nil
	}}
}

// writes asks for writes, the first of which stays on its way.
func (w *waiter) writes(jobs ...Job) {
	w.hold = true
	for _, j := range jobs {
		w.run(w.root.Write(j))
	}
	w.hold = false
}

func (w *waiter) fire(d time.Duration) {
	w.t.Helper()
	if w.timers[d] == nil {
		w.t.Fatalf("no timer of %v runs", d)
	}
	w.send(w.timers[d](w.clock.now))
}

// A quit says what it waits for, and can then be had at once.
func TestQuittingAgainLeavesWithoutASave(t *testing.T) {
	w := newWaiter(t)
	hung := w.job("ticking DI resin", nil)
	hung.Run = func() error { select {} }
	w.writes(hung, w.job("flagging the pump", nil))
	w.stays("qq")
	w.fire(sayAfter)
	w.sees("still saving: ticking DI resin, flagging the pump; q again leaves without it")
	w.stays("j")
	w.quits("q")
	err := w.root.Finish(nil)
	if want := "ticking DI resin: perhaps not saved"; err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "flagging the pump: not saved") {
		t.Errorf("it says %v", err)
	}
}

// Without another key it ends all the same, from a form too.
func TestQuittingIsBounded(t *testing.T) {
	w := newWaiter(t)
	w.root.Push(NewFormSheet(w.root, form.Spec{Fields: []form.Field{{Name: "note", Label: "note"}}}, func(form.Values) Job { return w.job("logging", nil) }))
	w.hold = true
	w.keys("a<enter>")
	w.hold = false
	w.keys("q<esc>")
	w.sees("still saving; the form closes when it is done")
	w.keys("<ctrl+c>")
	w.fire(sayAfter)
	w.sees("still saving: logging; ctrl+c again leaves without it")
	w.stays("")
	w.fire(leaveAfter)
	w.quits("")
}

// A quit that a failure has called off leaves no timer that ends a later one.
func TestAQuitCalledOffStaysSo(t *testing.T) {
	w := newWaiter(t)
	w.writes(w.job("ticking", errors.New("in use")))
	w.keys("q")
	first := w.timers[leaveAfter]
	w.release()
	w.send(first(w.clock.now))
	w.writes(w.job("ticking again", nil))
	w.keys("q")
	w.send(first(w.clock.now))
	w.stays("")
	w.release()
	w.quits("")
}

// Whatever ends the program, what was asked for is written, in order.
func TestFinish(t *testing.T) {
	w := newWaiter(t)
	w.writes(w.job("a", nil), w.job("b", errors.New("disk full")), w.job("c", nil))
	err := w.root.Finish(nil)
	if err == nil || err.Error() != "b: disk full" || !slices.Equal(w.did, []string{"a", "c"}) {
		t.Errorf("%v, done: %v", err, w.did)
	}
	w.held[0]() // a command that is begun late writes nothing twice
	if !slices.Equal(w.ran, []string{"a", "b", "c"}) {
		t.Errorf("ran %v", w.ran)
	}
}

func TestFinishIsBounded(t *testing.T) {
	w := newWaiter(t)
	w.root.patience = time.Millisecond
	hung := w.job("ticking", nil)
	hung.Run = func() error { select {} }
	w.writes(hung, w.job("flagging", nil))
	err := w.root.Finish(nil)
	if err == nil || !strings.Contains(err.Error(), "ticking: perhaps not saved") || !strings.Contains(err.Error(), "flagging: not saved") {
		t.Errorf("it says %v", err)
	}
}

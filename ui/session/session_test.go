package session

import (
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"

	tea "github.com/charmbracelet/bubbletea"
)

// timed is a session whose clock a test moves by hand.
type timed struct {
	*Session
	now time.Time
	due func(time.Time) tea.Msg
}

func newTimed() *timed {
	d := &timed{Session: New(NewMemory(func() (*ledger.Book, error) { return new(ledger.Book), nil })), now: time.Date(2026, 11, 25, 7, 30, 0, 0, time.UTC)}
	d.Root = ui.NewRoot(ui.Config{
		Clock: func() time.Time { return d.now },
		Views: func(*ui.Root) []ui.View { return nil },
		After: func(_ time.Duration, f func(time.Time) tea.Msg) tea.Cmd {
			d.due = f
			return nil
		},
	})
	return d
}

// pass lets time go by and the timer fire.
func (d *timed) pass(t *testing.T, by time.Duration) tea.Cmd {
	t.Helper()
	d.now = d.now.Add(by)
	if d.due == nil {
		t.Fatal("no timer runs")
	}
	due := d.due
	d.due = nil
	return d.Msg(due(d.now))
}

func TestCountdownsShareOneTimerAndRingOnce(t *testing.T) {
	d := newTimed()
	rings := 0
	d.Bell = func() { rings++ }
	d.StartTimer("a", "soak", 10*time.Minute)
	first := d.due
	d.due = nil
	d.StartTimer("b", "flush", 20*time.Minute)
	if d.due != nil {
		t.Error("a second countdown made a second timer")
	}
	d.due = first
	if got, want := d.Timers(), "soak: 10:00 left, until 07:40 · flush: 20:00 left, until 07:50"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	run(d.pass(t, 10*time.Minute))
	if rings != 1 || strings.Contains(d.Timers(), "soak") {
		t.Errorf("%d rings, %q", rings, d.Timers())
	}
	if a, ok := d.Timer("a"); !ok || !a.Rang || d.Left(a) != 0 {
		t.Errorf("%+v", a)
	}
	run(d.pass(t, time.Second))
	if rings != 1 {
		t.Error("it rings again")
	}
	run(d.pass(t, 10*time.Minute))
	if rings != 2 || d.due != nil || d.Linger() != "" {
		t.Errorf("%d rings, a timer runs: %v, %q", rings, d.due != nil, d.Linger())
	}
}

func TestStoppedCountdownStaysSilent(t *testing.T) {
	d := newTimed()
	d.Bell = func() { t.Error("it rang") }
	d.StartTimer("a", "soak", time.Minute)
	d.StopTimer("a")
	run(d.pass(t, 2*time.Minute))
	if d.due != nil {
		t.Error("a timer runs for nothing")
	}
}

// run runs a command and what it batches.
func run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	if batch, ok := cmd().(tea.BatchMsg); ok {
		for _, c := range batch {
			run(c)
		}
	}
}

func TestClock(t *testing.T) {
	for d, want := range map[time.Duration]string{0: "0:00", 5 * time.Second: "0:05", 61 * time.Second: "1:01", 45 * time.Minute: "45:00", 3661 * time.Second: "1:01:01"} {
		if got := Clock(d); got != want {
			t.Errorf("%v: %q, want %q", d, got, want)
		}
	}
}

func TestGoingOverToAnotherStore(t *testing.T) {
	d := newTimed()
	old := d.Load()
	one := model.NewEntry(model.NewDate(2026, 11, 1), model.BookDef{Name: "other", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}})
	one.Seq = 1
	other, err := ledger.Fold([]model.Entry{one})
	if err != nil {
		t.Fatal(err)
	}
	d.Use(NewMemory(func() (*ledger.Book, error) { return other, nil }))
	d.Msg(d.Load()())
	if d.Book.Def().Name != "other" {
		t.Errorf("the book is %q", d.Book.Def().Name)
	}
	d.Msg(old())
	if d.Book.Def().Name != "other" {
		t.Error("a late answer of the old store was taken")
	}
}

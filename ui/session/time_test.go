package session_test

import (
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"
	"brine/wrasse/ui/checklist"
	"brine/wrasse/ui/round"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/uitest"
)

// gated is the demo in memory, on a disk that is done with a write when the test says so.
type gated struct {
	*session.Memory
	gate chan struct{}
	used *int
}

func (g gated) Used() { *g.used++ }

func newGated(t *testing.T) gated {
	book := uitest.Demo(t)
	return gated{session.NewMemory(func() (*ledger.Book, error) { return book, nil }), make(chan struct{}), new(int)}
}

func (g gated) Write(build func(*ledger.Book) ([]model.Entry, error)) (*ledger.Book, model.Seq, error) {
	book, act, err := g.Memory.Write(build)
	<-g.gate
	return book, act, err
}

func view(d *session.Session) ui.Screen { return round.New(d, checklist.NewChecks()) }

// On a machine that slept over midnight no timer has fired. The first key shows today's
// round.
func TestTheRoundIsTodaysAfterASleep(t *testing.T) {
	s := uitest.Open(t, uitest.Demo(t), view, 80, 24)
	for _, c := range []struct {
		leap time.Duration
		on   model.Date
	}{
		{10 * time.Hour, uitest.Today},
		{10 * time.Hour, uitest.Today + 1},
		{50 * time.Hour, uitest.Today + 3},
		{-50 * time.Hour, uitest.Today + 1}, // the clock was set wrong, and was set back
	} {
		s.Leap(c.leap)
		s.Keys("j")
		if got := s.Session.Round.On; got != c.on {
			t.Errorf("at %v the round is that of %s, want %s", s.Now(), got, c.on)
		}
	}
}

func TestTheRoundTurnsAtMidnightOnAMachineThatIsAwake(t *testing.T) {
	s := uitest.Open(t, uitest.Demo(t), view, 80, 24)
	s.Pass(16*time.Hour + 29*time.Minute)
	if got := s.Session.Round.On; got != uitest.Today {
		t.Errorf("at %v the round is that of %s", s.Now(), got)
	}
	s.Pass(24 * time.Hour)
	if got := s.Session.Round.On; got != uitest.Today+1 || s.Timers() != 1 {
		t.Errorf("at %v the round is that of %s, and %d timers run", s.Now(), got, s.Timers())
	}
}

// A write that was asked for yesterday and ends today does not bring yesterday's round
// back.
func TestMidnightDuringAWrite(t *testing.T) {
	store := newGated(t)
	s := uitest.OpenOn(t, store, view, 80, 24)
	last := s.Session.Book.Last()
	s.Pass(16*time.Hour + 29*time.Minute + 59*time.Second)
	s.Apart()
	s.Keys("dl")
	s.Pass(2 * time.Second)
	for s.Session.Round.On != uitest.Today+1 && s.Next() {
	}
	close(store.gate)
	for s.Next() {
		if got := s.Session.Round.On; got != uitest.Today+1 {
			t.Fatalf("at %v the round is that of %s", s.Now(), got)
		}
	}
	if got := s.Session.Book.Last(); got != last+1 {
		t.Errorf("the book ends with entry %d, want %d", got, last+1)
	}
	s.Sees("ticked")
}

// However often a countdown is stopped and started again, one timer runs.
func TestCountdownsHaveOneTimer(t *testing.T) {
	s := uitest.Open(t, uitest.Demo(t), view, 80, 24)
	midnight := s.Timers()
	for range 5 {
		s.Session.StartTimer("a", "soak", time.Hour)
		s.Session.StopTimer("a")
	}
	s.Session.StartTimer("a", "soak", time.Minute)
	for range 3 {
		s.Pass(time.Second)
		if got := s.Timers() - midnight; got != 1 {
			t.Fatalf("%d timers run for one countdown", got)
		}
	}
	s.Pass(time.Minute)
	if got := s.Timers() - midnight; got != 0 {
		t.Errorf("%d timers run for no countdown", got)
	}
	if a, ok := s.Session.Timer("a"); !ok || !a.Rang {
		t.Errorf("it has not rung: %+v", a)
	}
}

// A store that has to look for what others wrote is told of every key.
func TestTheStoreIsToldOfKeys(t *testing.T) {
	store := newGated(t)
	s := uitest.OpenOn(t, store, view, 80, 24)
	before := *store.used
	s.Keys("j")
	if *store.used == before {
		t.Error("it is not told of a key")
	}
	before = *store.used
	s.Leap(time.Hour)
	if *store.used != before {
		t.Error("it is told of a window at rest")
	}
}

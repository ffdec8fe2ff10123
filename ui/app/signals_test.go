//go:build unix

package app

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"brine/wrasse/ui/termtest"
)

// Every signal that ends a program gives the terminal back and has everything written that
// was asked for.
func TestSignalsEndAWindowInGoodOrder(t *testing.T) {
	t.Parallel()
	for _, sig := range []syscall.Signal{syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT, syscall.SIGQUIT, syscall.SIGABRT} {
		t.Run(sig.String(), func(t *testing.T) {
			s := faultyInTerminal(t, "slow")
			s.WaitFor("> DI resin")
			s.Send("d<enter>jd<enter>jd<enter>")
			s.WaitFor("> Mixing pump")
			s.Signal(sig)
			if code := s.Wait(); code != 0 {
				t.Errorf("exit code %d", code)
			}
			asBefore(t, s)
			if !strings.Contains(s.Raw(), "acts written: 3") {
				t.Errorf("not all is written:\n%s", s.Screen())
			}
		})
	}
}

// A terminal that goes away leaves nothing unwritten either.
func TestAClosedTerminalLosesNothing(t *testing.T) {
	t.Parallel()
	report := filepath.Join(t.TempDir(), "report")
	s := faultyInTerminal(t, "slow", report)
	s.WaitFor("> DI resin")
	s.Send("d<enter>jd<enter>jd<enter>")
	s.WaitFor("> Mixing pump")
	s.HangUp()
	s.Wait()
	if said, err := os.ReadFile(report); err != nil || string(said) != "acts written: 3\n" {
		t.Errorf("it says %q, %v", said, err)
	}
}

// A disk that never answers doesn't hold a window for ever, and what may be lost is said
// where it is read.
func TestQuittingOnADiskThatHangs(t *testing.T) {
	t.Parallel()
	start := func() *termtest.Terminal {
		s := faultyInTerminal(t, "hang")
		s.WaitFor("> DI resin")
		s.Send("d")
		s.WaitFor("as found")
		s.Send("l")
		s.WaitGone("as found")
		return s
	}
	says := func(s *termtest.Terminal) {
		t.Helper()
		if code := s.Wait(); code != 1 {
			t.Errorf("exit code %d", code)
		}
		asBefore(t, s)
		if after := s.Raw()[strings.LastIndex(s.Raw(), "\x1b[?1049l"):]; !strings.Contains(after, "ticking DI resin: renew resin: perhaps not saved") {
			t.Errorf("what may be lost is not said:\n%s", after)
		}
	}
	s := start()
	s.Send("q")
	s.WaitFor("still saving: ticking DI resin: renew resin; q again leaves without it")
	s.Send("q")
	says(s)
	if testing.Short() {
		t.Skip("waits as long as a keeper would")
	}
	s = start()
	s.Send("q")
	says(s)
	s = start()
	s.Signal(syscall.SIGTERM)
	says(s)
}

package app

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"brine/wrasse/ui/termtest"
)

// Suspended from outside, the terminal is the shell's; continued, it is the window's, and
// the round is that of the day.
func TestSuspendedFromOutside(t *testing.T) {
	t.Parallel()
	state := func(s *termtest.Terminal) string {
		stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", s.Pid()))
		if err != nil {
			t.Fatal(err)
		}
		return strings.Fields(string(stat[strings.LastIndexByte(string(stat), ')')+1:]))[0]
	}
	woken := filepath.Join(t.TempDir(), "woken")
	s := faultyInTerminal(t, "asleep", woken)
	s.WaitFor("> DI resin")
	if s.Cooked() {
		t.Fatal("a window reads lines, so this shows nothing")
	}
	for range 2 {
		s.Signal(syscall.SIGTSTP)
		s.Until("the process is stopped", func(string) bool { return state(s) == "T" })
		asBefore(t, s)
		if !s.Cooked() {
			t.Error("the terminal is left raw")
		}
		s.Signal(syscall.SIGCONT)
		s.WaitFor("> DI resin")
		s.Until("the terminal is the window's", func(string) bool { return s.AltScreen() && !s.Cooked() })
	}
	s.Signal(syscall.SIGTSTP)
	s.Until("the process is stopped", func(string) bool { return state(s) == "T" })
	if err := os.WriteFile(woken, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	s.Signal(syscall.SIGCONT)
	s.WaitFor("Thu 26 Nov 2026")
	s.Send("q")
	if code := s.Wait(); code != 0 {
		t.Errorf("exit code %d", code)
	}
	asBefore(t, s)
}

package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A laptop that is shut in the evening and opened in the morning: no timer has gone by, and
// the first key shows the round of today.
func TestALaptopAsleepOverMidnight(t *testing.T) {
	t.Parallel()
	woken := filepath.Join(t.TempDir(), "woken")
	s := faultyInTerminal(t, "asleep", woken)
	s.WaitFor("Wed 25 Nov 2026", "limit +3 d", "> DI resin")
	if err := os.WriteFile(woken, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(s.Screen(), "Wed 25 Nov 2026") {
		t.Error("the day turned without a key, so this shows nothing")
	}
	s.Send("j")
	s.WaitFor("Thu 26 Nov 2026", "limit +4 d", "> Carbon block")
}

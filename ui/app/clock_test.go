//go:build unix

package app

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"brine/wrasse/ui/termtest"
)

// A window says that its clock is behind the book, once: an act is answered as ever.
func TestAWindowWhoseClockIsBehind(t *testing.T) {
	t.Parallel()
	bin := termtest.Build(t, "../..")
	book := filepath.Join(t.TempDir(), "reef.db")
	load := exec.Command(bin, "import", "-", "--book", book)
	load.Stdin = strings.NewReader(`{"kind":"wrasse-book","version":1}
{"on":"2024-05-01","kind":"book","name":"Test reef","units":{"volume":"L","temperature":"C","pressure":"bar"}}
{"on":"2024-05-01","kind":"counter","id":"water-made","name":"Water made","unit":"L","style":"amount","role":"water-made"}
{"at":"2190-01-01T00:00:00Z","on":"2024-05-01","kind":"note","text":"written by a clock that was ahead"}
`)
	if out, err := load.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	s := inTerminal(t, "--book", book)
	reads(s, "Test reef", "the clock says", "the last entry was written on 2190-01-01")
	s.Send("<esc>")
	s.Until("the note is gone", func(screen string) bool { return !strings.Contains(screen, "the clock says") })
	logLitres(s)
	s.WaitFor("Water made, 41.5 L")
	s.Send("q")
	if code := s.Wait(); code != 0 {
		t.Errorf("exit code %d", code)
	}
}

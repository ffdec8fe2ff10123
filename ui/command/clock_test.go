package command_test

import (
	"bytes"
	"io"
	"strings"
	"testing"
	"time"

	"brine/wrasse/ui/command"
	"brine/wrasse/ui/config"
	"brine/wrasse/ui/uitest"
)

// By a clock that shows no date of a book no day can be told: what asks for today says so in
// one line, and what is told the day answers.
func TestImpossibleClock(t *testing.T) {
	for _, year := range []int{1960, 2250} {
		now := time.Date(year, 11, 28, 9, 0, 0, 0, time.UTC)
		for line, want := range map[string]int{
			"round": 1, "use water 5": 1, "water": 1, "year": 1, "away 3d": 1, "export ics": 1, "": 1, "demo": 1,
			"round --on 2026-11-25": 11, "export csv": 0,
		} {
			var stdout, stderr bytes.Buffer
			code := command.Run(command.Env{
				Stdin: strings.NewReader(""), Stdout: &stdout, Stderr: &stderr,
				Getenv:     func(string) string { return "" },
				Now:        func() time.Time { return now },
				Terminal:   func() bool { return true },
				Open:       func(string) command.Store { return shelved{uitest.Demo(t)} },
				WriteTable: func(io.Writer, [][]string) error { return nil },
				Screens:    func(string, config.Config) error { t.Errorf("%d: the screens are shown", year); return nil },
				Demo:       func(config.Config) error { t.Errorf("%d: the demo is shown", year); return nil },
			}, append(strings.Fields(line), "--no-config"))
			if said := stderr.String(); code != want || code == 1 && (strings.Count(said, "\n") != 1 || !strings.Contains(said, "set the clock")) {
				t.Errorf("%d: wrasse %s: exit code %d, %s", year, line, code, said)
			}
		}
	}
}

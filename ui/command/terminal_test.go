package command_test

import (
	"strings"
	"testing"

	"brine/wrasse/ui/termtest"
)

// A command says what it has to say and leaves the terminal alone: it asks nothing, and
// so waits for no answer, also where it could.
func TestCommandsLeaveTheTerminalAlone(t *testing.T) {
	for _, args := range [][]string{
		{"--version"}, {"--help"}, {"round", "--book", "none.db"}, {"round", "--colour"}, {"tick", "--help"},
	} {
		for _, mute := range []bool{true, false} {
			term := termtest.Start(t, termtest.Options{Bin: program, Args: args, Dir: t.TempDir(), Mute: mute})
			term.Wait()
			if raw := term.Raw(); len(raw) == 0 || strings.ContainsRune(raw, '\x1b') {
				t.Errorf("wrasse %v (mute %t) wrote %q", args, mute, raw)
			}
		}
	}
}

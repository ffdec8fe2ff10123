package app

import (
	"testing"

	"brine/wrasse/ui/termtest"
)

func TestMain(m *testing.M) { termtest.Main(m) }

// inTerminal starts the program.
func inTerminal(t *testing.T, args ...string) *termtest.Terminal {
	t.Helper()
	return termtest.Start(t, termtest.Options{Bin: termtest.Build(t, "../.."), Args: args})
}

// faultyInTerminal starts the program with faults made on purpose.
func faultyInTerminal(t *testing.T, args ...string) *termtest.Terminal {
	t.Helper()
	return termtest.Start(t, termtest.Options{Bin: termtest.Build(t, "testdata/faulty"), Args: args})
}

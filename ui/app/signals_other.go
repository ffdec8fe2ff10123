//go:build !unix

package app

import (
	"os"
	"syscall"
)

// A closed window comes as SIGTERM here, and nothing suspends a program.
var (
	ending     = []os.Signal{os.Interrupt, syscall.SIGTERM}
	suspending []os.Signal
)

func hasShell() bool { return false }

func stop() error { return nil }

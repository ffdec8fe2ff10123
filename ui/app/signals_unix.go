//go:build unix

package app

import (
	"os"
	"os/signal"
	"syscall"
)

var (
	ending     = []os.Signal{os.Interrupt, syscall.SIGHUP, syscall.SIGTERM, syscall.SIGQUIT, syscall.SIGABRT}
	suspending = []os.Signal{syscall.SIGTSTP}
)

// stop stops the process until it is continued. The signal that came can't do that any
// more, as it is taken; this one can't be.
func stop() error {
	continued := make(chan os.Signal, 1)
	signal.Notify(continued, syscall.SIGCONT)
	defer signal.Stop(continued)
	if err := syscall.Kill(os.Getpid(), syscall.SIGSTOP); err != nil {
		return err
	}
	<-continued
	return nil
}

//go:build unix

package app

import (
	"os"
	"os/signal"
	"syscall"

	"golang.org/x/sys/unix"
)

var (
	ending     = []os.Signal{os.Interrupt, syscall.SIGHUP, syscall.SIGTERM, syscall.SIGQUIT, syscall.SIGABRT}
	suspending = []os.Signal{syscall.SIGTSTP}
)

// hasShell tells whether whoever started the program has this terminal too, and so can
// continue it: POSIX calls its process group no orphan then.
func hasShell() bool {
	own, err := unix.Getsid(0)
	parent, err2 := unix.Getsid(os.Getppid())
	return err == nil && err2 == nil && own == parent
}

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

package termtest

import "golang.org/x/sys/unix"

// Cooked reports whether the terminal gives a program lines and shows what is typed, as a
// shell leaves it.
func (s *Terminal) Cooked() bool {
	s.t.Helper()
	mode, err := unix.IoctlGetTermios(int(s.tty.Fd()), unix.TCGETS)
	if err != nil {
		s.t.Fatalf("asking for the terminal's mode: %v", err)
	}
	const lines = unix.ICANON | unix.ECHO
	return mode.Lflag&lines == lines
}

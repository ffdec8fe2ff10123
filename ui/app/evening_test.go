package app

import (
	"strings"
	"testing"

	"brine/wrasse/ui/termtest"
)

// begin answers the questions of a new book with its name alone.
func begin(s *termtest.Terminal, name string) {
	s.Send(name + "\r")
	s.WaitFor("> volumes in")
	s.Send(strings.Repeat("\r", 7))
	s.WaitFor("What do you know of it?")
	s.Send(strings.Repeat("\r", 11))
	s.WaitFor(name + " is begun. Five keys")
	s.Send("\r")
	s.WaitGone("Five keys")
}

// The first evening of somebody who knows nothing but a name, on a real terminal, in both systems of units: a round is up
// after so few keys. At a key a second that is under a minute, with as much again to read.
func TestFirstEveningByKeys(t *testing.T) {
	t.Parallel()
	for name, units := range map[string]string{"L, °C, bar": "\r\r\r", "gal, °F, psi": "g\rf\rp\r"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			keys := 0
			s := inTerminal(t, "--no-config", "--book", t.TempDir()+"/book.db")
			send := func(typed string) {
				keys += len(typed)
				s.Send(typed)
			}
			s.WaitFor("name of the book")
			send("Reef\r")
			s.WaitFor("> volumes in")
			send(units)
			s.WaitFor("> RO/DI unit")
			send("\r\r\r\r")
			s.WaitFor("What do you know of it?")
			send(strings.Repeat("\r", 11))
			s.WaitFor("Reef is begun. Five keys")
			send("\r")
			s.WaitFor("not known when last done, so 7 days ago is assumed", "risk", "caution")
			if keys > 27 {
				t.Errorf("%d keys", keys)
			}
			s.Send("3")
			s.Send("\x1b[F") // the last row is the book
			s.WaitFor(name + "; care usual")
		})
	}
}

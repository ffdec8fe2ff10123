package app

import (
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"brine/wrasse/ui/termtest"

	tea "github.com/charmbracelet/bubbletea"
)

// asBefore fails the test unless the terminal was given back: its main screen, its
// cursor, no mouse reports and no bracketed paste.
func asBefore(t *testing.T, s *termtest.Terminal) {
	t.Helper()
	if s.AltScreen() {
		t.Error("the screen is not given back")
	}
	raw := s.Raw()
	for mode, name := range map[string]string{"?1049": "the alternate screen", "?2004": "bracketed paste", "?1002": "mouse reports", "?1006": "mouse reports"} {
		if strings.LastIndex(raw, "\x1b["+mode+"h") > strings.LastIndex(raw, "\x1b["+mode+"l") {
			t.Errorf("%s is left on", name)
		}
	}
	if strings.LastIndex(raw, "\x1b[?25l") > strings.LastIndex(raw, "\x1b[?25h") {
		t.Error("the cursor is left hidden")
	}
}

// A fault of our own gives the terminal back and says what it was, wherever it is.
func TestTerminalIsGivenBackAfterAPanic(t *testing.T) {
	t.Parallel()

	s := faultyInTerminal(t, "update")
	s.WaitFor("> DI resin")
	s.Send("df")
	if code := s.Wait(); code != 1 {
		t.Errorf("exit code %d, want 1", code)
	}
	asBefore(t, s)
	if raw := s.Raw(); !strings.Contains(raw, "a fault in the event loop") {
		t.Errorf("what went wrong is not said:\n%s", s.Screen())
	}

	// One beside the event loop is shown, and the program goes on; its trace comes last.
	s = faultyInTerminal(t, "command")
	s.WaitFor("> DI resin")
	s.Send("df")
	s.WaitFor("ticking DI resin: renew resin: the program has a fault here")
	s.Send("j")
	s.WaitFor("> Carbon block")
	s.Send("q")
	if code := s.Wait(); code != 0 {
		t.Errorf("exit code %d, want 0", code)
	}
	asBefore(t, s)
	if !strings.Contains(s.Raw()[strings.LastIndex(s.Raw(), "\x1b[?1049l"):], "faulty.Write") {
		t.Errorf("no trace after the screen was given back:\n%s", s.Screen())
	}
}

// Whatever bytes a terminal sends, whole sequences and torn ones, the program lives, and
// quitting gives the terminal back.
func TestTerminalIsGivenBackAfterGarbage(t *testing.T) {
	t.Parallel()
	s := inTerminal(t, "demo", "--mouse")
	s.WaitFor("> DI resin")
	dice := rand.New(rand.NewPCG(3, 5))
	pieces := []string{"\x1b[A", "\x1b[B", "\x1b[", "\x1bO", "\x1b[<0;10;8M", "\x1b[<65;3;9M", "\x1b[M !!", "\x1b[I", "\x1b[O", "\x1b[200~q\x1b[201~", "\x1b[201~",
		"\x1b]11;rgb:0000/0000/0000\x07", "\x1b[24;80R", "\x9b", "\xff\xfe", "\xc3", "\x00", "\x07", "\x1a", "\r", "\t", "\x1b", "jjk", "2", "3", "d", "l", "u40", "f", "é", "貝", "/pump", "?", "z"}
	for i := range 60 {
		var b strings.Builder
		for range 12 {
			b.WriteString(pieces[dice.IntN(len(pieces))])
		}
		s.Send(b.String())
		if i%10 == 0 {
			s.Resize(30+dice.IntN(120), 8+dice.IntN(40))
		}
	}
	s.Paste("\x1b[2Jq\x03")
	s.Resize(100, 30)
	s.WaitFor("Library reef (demo)")
	s.Send("<ctrl+c>")
	if code := s.Wait(); code != 0 {
		t.Errorf("exit code %d", code)
	}
	asBefore(t, s)
}

// The mouse works when it is asked for, and only then.
func TestMouse(t *testing.T) {
	t.Parallel()
	s := inTerminal(t, "demo")
	s.WaitFor("> DI resin")
	s.Send("q")
	s.Wait()
	if strings.Contains(s.Raw(), "\x1b[?1002h") || strings.Contains(s.Raw(), "\x1b[?1003h") {
		t.Error("the mouse is taken unasked, and text can't be selected")
	}

	s = inTerminal(t, "demo", "--mouse")
	s.WaitFor("> DI resin")
	press := func(text string) {
		t.Helper()
		for y, line := range s.Lines() {
			if before, _, ok := strings.Cut(line, text); ok {
				s.Send(click(len([]rune(before)), y))
				return
			}
		}
		t.Fatalf("%q is nowhere:\n%s", text, s.Screen())
	}
	press("Carbon block")
	s.WaitFor("> Carbon block")
	s.Send("\x1b[<65;10;10M") // the wheel, a line down
	s.WaitFor("> Mixing pump")
	s.Send("\x1b[<64;10;10M") // and up
	s.WaitFor("> Carbon block")
	press("Shelf")
	s.WaitFor("[Shelf]", "on hand")
	press("Citric acid")
	s.WaitFor("> Citric acid")
	press("add") // a word of the key line
	s.WaitFor("A new spare", "esc back")
	press("back")
	s.WaitGone("A new spare")
	s.Send("q")
	s.Wait()
	asBefore(t, s)
}

// click is a press of the left button at a place counted from 0, as an xterm tells it.
func click(x, y int) string { return "\x1b[<0;" + strconv.Itoa(x+1) + ";" + strconv.Itoa(y+1) + "M" }

// Back from a suspension the mouse is asked for again, where it was.
func TestMouseAfterSuspension(t *testing.T) {
	for _, mouse := range []bool{false, true} {
		p := openWith(t, empty(), 80, 24, Options{Mouse: mouse})
		asked := false
		for _, msg := range p.collect(tea.ResumeMsg{}) {
			asked = asked || msg == tea.EnableMouseCellMotion()
		}
		if asked != mouse {
			t.Errorf("mouse %v, and asked for after a suspension: %v", mouse, asked)
		}
	}
}

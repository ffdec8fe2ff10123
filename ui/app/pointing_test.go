package app

import (
	"os"
	"strings"
	"testing"

	"github.com/charmbracelet/x/vt"
)

// In plain words the terminal's cursor is shown, and stands on the marked row or in the
// field that is typed in, wherever a keeper goes; on a page without a cursor at its top.
func TestPlainCursorStandsWhereOneReads(t *testing.T) {
	pages := map[string]bool{"the year ahead": true, "the year behind": true, "the keys": true, "the readings in full": true,
		"water": true, "water over a year": true, "a spare": true, "a placing": true, "a rebuilt placing": true, "an entry": true}
	typed := map[string]bool{"a filter": true, "the time box": true, "a search of the keys": true}
	for name, keys := range ways {
		t.Run(name, func(t *testing.T) {
			p := plainly(t, 80, 24)
			p.keys(keys...)
			x, y := onEmulator(t, p)
			line := strings.Split(p.Screen(), "\n")[y]
			switch {
			case pages[name]:
				if x != 0 || y != 2 {
					t.Errorf("the cursor stands at %d, %d, not at the top of the page:\n%s", x, y, p.Screen())
				}
			case typed[name]:
				if x == 0 {
					t.Errorf("the cursor stands before the field: %q", line)
				}
			case !strings.HasPrefix(line, ">"):
				t.Errorf("the cursor stands in %q:\n%s", line, p.Screen())
			}
		})
	}
}

// onEmulator draws a window as the framework does and tells where the cursor is left.
func onEmulator(t *testing.T, p *window) (x, y int) {
	t.Helper()
	screen := vt.NewEmulator(80, 24)
	in, out, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	frame := "\x1b[?25l\x1b[H" + strings.ReplaceAll(p.Root.View(), "\n", "\r\n") + "\x1b[24;1H"
	done := make(chan error, 1)
	go func() {
		_, err := (&pointing{File: out, at: p.Root.Spot}).Write([]byte(frame))
		out.Close()
		done <- err
	}()
	drawn := make([]byte, 1<<20)
	n := 0
	for {
		k, err := in.Read(drawn[n:])
		n += k
		if err != nil {
			break
		}
	}
	if err := <-done; err != nil {
		t.Fatal(err)
	}
	_, _ = screen.Write(drawn[:n])
	if screen.CursorHidden() {
		t.Error("the cursor is hidden")
	}
	at := screen.CursorPosition()
	return at.X, at.Y
}

// On a real terminal too, through moves, a form, what is typed and a resize, and in no
// other mode; leaving, the cursor is the shell's again.
func TestPlainCursorOnATerminal(t *testing.T) {
	t.Parallel()
	s := inTerminal(t, "demo", "--plain")
	at := func(text string) {
		t.Helper()
		s.Until("the cursor stands at "+text, func(string) bool {
			x, y, shown := s.Cursor()
			lines := s.Lines()
			return shown && x == 0 && y < len(lines) && strings.HasPrefix(lines[y], text)
		})
	}
	at("> DI resin")
	s.Send("j")
	at("> Carbon block")
	s.Send("u")
	s.Until("the cursor stands in the empty field", func(string) bool {
		x, y, shown := s.Cursor()
		return shown && s.Lines()[y] == "> amount:" && x == len("> amount: ")
	})
	s.Send("40")
	s.Until("the cursor stands behind what is typed", func(string) bool {
		x, y, shown := s.Cursor()
		line := s.Lines()[y]
		return shown && strings.HasPrefix(line, "> ") && strings.Contains(line, "40") && x == strings.Index(line, "40")+2
	})
	s.Resize(100, 30)
	s.Until("it is drawn again", func(string) bool {
		x, y, _ := s.Cursor()
		line := s.Lines()[y]
		return x > 0 && x == strings.Index(line, "40")+2
	})
	s.Send("<ctrl+c>")
	s.Wait()
	asBefore(t, s)
	s = inTerminal(t, "demo")
	s.WaitFor("> DI resin")
	if _, _, shown := s.Cursor(); shown {
		t.Error("the cursor is shown where nobody asked for it")
	}
}

package app

import (
	"regexp"
	"strings"
	"testing"

	"brine/wrasse/ui/termtest"
)

// TestTheThreeMoments sets a book up by keys alone, on a real terminal, and performs
// what a keeper does every day: look, tick, flag. It finds both again after reopening,
// and neither after taking it back.
func TestTheThreeMoments(t *testing.T) {
	t.Parallel()
	book := t.TempDir() + "/book.db"
	run := func() *termtest.Terminal {
		return inTerminal(t, "--book", book)
	}

	s := run()
	s.WaitFor("A new book", "name of the book")
	begin(s, "Home reef")
	s.WaitFor("Home reef", "today")
	top := topRow(t, s)

	s.Send("dp")
	s.WaitFor("ticked " + top)
	if topRow(t, s) == top {
		t.Errorf("%s is ticked and still on top:\n%s", top, s.Screen())
	}
	second := topRow(t, s)
	s.Send("ft<enter>")
	s.WaitFor("flagged " + second + ", too tight")
	s.Send("q")
	if code := s.Wait(); code != 0 {
		t.Fatalf("exit code %d", code)
	}

	s = run()
	s.WaitFor("Home reef", "today")
	if got := topRow(t, s); got != second {
		t.Errorf("after reopening the top row is %s, want %s:\n%s", got, second, s.Screen())
	}
	if !flagged(s, second) {
		t.Errorf("the flag of %s is not shown:\n%s", second, s.Screen())
	}
	s.Send("j") // past one that is done by reading
	s.WaitFor("> RO/DI unit: read total chlorine")
	third := nextRow(t, s)
	s.Send("jdp")
	s.WaitFor("ticked " + third)
	s.Send("fd<enter>")
	s.WaitFor("must drain")
	s.Send("zz")
	s.WaitFor("took back: ticked " + third)
	s.WaitFor("  " + third)
	if flagged(s, third) {
		t.Errorf("the flag is still shown:\n%s", s.Screen())
	}
	s.Send("z")
	s.WaitFor("this window has nothing to take back")
	s.Send("q")
	s.Wait()

	s = run()
	s.WaitFor("> "+second, "  "+third)
	if !flagged(s, second) || flagged(s, third) {
		t.Errorf("only %s is flagged:\n%s", second, s.Screen())
	}
}

// flagged tells whether the row of a component has a flag beside its reach.
func flagged(s *termtest.Terminal, component string) bool {
	return regexp.MustCompile(`(?m)^[> ] ` + regexp.QuoteMeta(component) + `.* [1-5]f `).MatchString(s.Screen())
}

// topRow is the component the cursor stands on when the round opens.
func topRow(t *testing.T, s *termtest.Terminal) string {
	t.Helper()
	s.Until("the cursor stands on a row", func(screen string) bool { return strings.Contains(screen, "\n>") })
	for _, l := range s.Lines() {
		if strings.HasPrefix(l, ">") {
			return component(l)
		}
	}
	t.Fatalf("no cursor:\n%s", s.Screen())
	return ""
}

// nextRow is the component below it.
func nextRow(t *testing.T, s *termtest.Terminal) string {
	t.Helper()
	lines := s.Lines()
	for i, l := range lines {
		if strings.HasPrefix(l, ">") && i+1 < len(lines) {
			return component(lines[i+1])
		}
	}
	t.Fatalf("no cursor:\n%s", s.Screen())
	return ""
}

// component is what a row names first.
func component(line string) string {
	name, _, _ := strings.Cut(strings.TrimSpace(line[2:]), ": ")
	if cut := strings.Index(name, "…"); cut >= 0 {
		name = name[:cut]
	}
	return name
}

func TestBurstAndFirstFrameOnAMuteTerminal(t *testing.T) {
	t.Parallel()
	bin := termtest.Build(t, "../..")
	s := termtest.Start(t, termtest.Options{Bin: bin, Args: []string{"demo"}, Mute: true})
	s.WaitFor("Library reef (demo)", "overdue, worst first", "> DI resin")
	s.Send("jjdl")
	s.WaitFor("ticked Mixing pump: clean impeller, found light")
	s.Resize(120, 40)
	s.WaitFor("│ ", "enter steps")
	s.Send("q")
	if code := s.Wait(); code != 0 || s.AltScreen() {
		t.Errorf("exit code %d, the screen given back: %v", code, !s.AltScreen())
	}
}

package termtest

import (
	"strings"
	"syscall"
	"testing"
)

func TestHarness(t *testing.T) {
	bin := Build(t, "testdata/bare")

	t.Run("keys and resizes", func(t *testing.T) {
		s := Start(t, Options{Bin: bin, W: 60, H: 10})
		s.WaitFor("ready at 60 x 10")
		if !s.AltScreen() {
			t.Error("the program is not on the alternate screen")
		}
		if got := len(s.Lines()); got != 10 {
			t.Errorf("%d lines, want 10", got)
		}
		s.Send("jjd<down><enter>水")
		s.WaitFor("keys: jjd down enter 水")
		s.Paste("two words")
		s.WaitFor("[two words]")
		s.Resize(100, 30)
		s.WaitFor("ready at 100 x 30")
		s.WaitGone("60 x 10")
		s.Send("q")
		if code := s.Wait(); code != 0 {
			t.Errorf("exit code %d", code)
		}
		if s.AltScreen() {
			t.Error("the screen was not given back")
		}
	})

	t.Run("a signal", func(t *testing.T) {
		s := Start(t, Options{Bin: bin})
		s.WaitFor("ready at 80 x 24")
		s.Signal(syscall.SIGTERM)
		if code := s.Wait(); code != 0 {
			t.Errorf("exit code %d", code)
		}
	})

	t.Run("left running", func(t *testing.T) {
		Start(t, Options{Bin: bin}).WaitFor("ready")
	})
}

// The bare program has no start-up guard, so it asks the terminal at once. An
// emulator that answers lets it go on; a mute one holds it up, which is what
// Mute is for.
func TestQuestionsAreAnsweredUnlessMute(t *testing.T) {
	bin := Build(t, "testdata/bare")
	const question = "\x1b]11;?"
	s := Start(t, Options{Bin: bin})
	s.WaitFor("ready")
	if !strings.Contains(s.Raw(), question) {
		t.Fatalf("the bare program asks nothing, so this shows nothing: %q", s.Raw())
	}
	s = Start(t, Options{Bin: bin, Mute: true})
	s.Until("the question is out", func(string) bool { return strings.Contains(s.Raw(), question) })
	if strings.Contains(s.Raw(), "ready") {
		t.Error("a mute terminal answered")
	}
}

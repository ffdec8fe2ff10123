package app

import (
	"errors"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"brine/wrasse/ui/termtest"
)

// typedInto is a keyboard that a terminal sends something to at once, and what the program
// reads of it.
func typedInto(t *testing.T, sent string) (*keyboard, string) {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	go func() {
		_, _ = io.WriteString(w, sent)
		w.Close()
	}()
	k := &keyboard{File: r}
	var got strings.Builder
	for {
		buf := make([]byte, 256) // as long as the framework's
		n, err := k.Read(buf)
		got.Write(buf[:n])
		if errors.Is(err, io.EOF) {
			return k, got.String()
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

func TestKeyboard(t *testing.T) {
	words, lines := strings.Repeat("dl ", 3000), strings.Repeat("dl\r", 99)
	marked := func(text string) string { return "\x1b[200~" + text + "\x1b[201~" }
	long := strings.Repeat("dl ", 30_000)
	for name, c := range map[string]struct {
		sent, want string
		keys       int
	}{
		"a key":                         {"d", "d", 1},
		"a burst":                       {"jjdl", "jjdl", 3},
		"a key held down":               {strings.Repeat("j", 200), strings.Repeat("j", 200), 1},
		"text and enter":                {"Home reef\r", "Home reef\r", 9},
		"lines":                         {"clean the sump\rdl\r", "clean the sump dl\r", 18},
		"arrows and a key":              {"\x1b[B\x1b[B\x1bOA\x1b[1;5Cd", "\x1b[B\x1b[B\x1bOA\x1b[1;5Cd", 1},
		"the mouse":                     {"\x1b[<65;10;10M\x1b[<65;10;10M", "\x1b[<65;10;10M\x1b[<65;10;10M", 0},
		"ctrl+c after too much":         {words + "\x03", words[:mostTyped] + "\x03", 9001},
		"esc and a letter":              {"\x1bd", "\x1bd", 1},
		"a marked paste":                {marked("clean\rthe sump") + "d", marked("clean\rthe sump") + "d", 1},
		"more than one read":            {lines + "dl\r", strings.ReplaceAll(lines, "\r", " ") + "dl\r", 300},
		"more than a field takes":       {words, words[:mostTyped], 9000},
		"a marked one that is too long": {marked(long), marked(long[:mostPasted]), 0},
	} {
		if k, got := typedInto(t, c.sent); got != c.want || k.atOnce() != c.keys {
			t.Errorf("%s: %d keys at once, want %d; it reads %d bytes %.40q, want %d", name, k.atOnce(), c.keys, len(got), got, len(c.want))
		}
	}
}

// Keys that come one by one are not counted together, however many they are.
func TestKeyboardCountsWhatComesAtOnce(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	defer w.Close()
	k := &keyboard{File: r}
	for i := range 40 {
		if _, err := w.WriteString("dl"[i%2 : i%2+1]); err != nil {
			t.Fatal(err)
		}
		k.at = k.at.Add(-together) // as long ago as between two keys
		if _, err := k.Read(make([]byte, 256)); err != nil {
			t.Fatal(err)
		}
		if k.atOnce() != 1 {
			t.Fatalf("at key %d they are %d at once", i, k.atOnce())
		}
	}
}

// Text that a terminal does not mark as pasted acts on nothing; in a field it is text.
func TestUnmarkedPastes(t *testing.T) {
	t.Parallel()
	s := faultyInTerminal(t, "none")
	s.WaitFor("> DI resin")
	s.Send("Sump: dl found heavy.\rdl\rThen clean the skimmer, df\r")
	s.WaitFor("pasted text does not act", "[Round]", "> DI resin")
	time.Sleep(2 * lingering) // nobody is faster after a paste
	s.Send("/")
	s.WaitFor("esc clear")
	s.Send("one line\rand another")
	s.WaitFor("one line and another")
	s.Send("<ctrl+c>")
	s.Wait()
	if !strings.Contains(s.Raw(), "acts written: 0") {
		t.Errorf("a paste was acted on:\n%s", s.Screen())
	}
}

// However much is pasted into a field, the window goes on.
func TestAHugePaste(t *testing.T) {
	t.Parallel()
	text := strings.Repeat("long words ", 3_000_000/len("long words "))
	for name, send := range map[string]func(*termtest.Terminal){
		"marked":   func(s *termtest.Terminal) { s.Paste(text) },
		"unmarked": func(s *termtest.Terminal) { s.Send(text) },
	} {
		s := faultyInTerminal(t, "none")
		s.WaitFor("> DI resin")
		s.Send("u")
		s.WaitFor("Log usage", "amount")
		begun := time.Now()
		send(s)
		s.WaitFor("words long")
		s.Send("<ctrl+c>")
		s.Wait()
		if took := time.Since(begun); took > termtest.Patience/2 {
			t.Errorf("%s: the window stood still for %v", name, took)
		}
	}
}

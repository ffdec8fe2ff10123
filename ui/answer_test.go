package ui

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/ui/form"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

func TestChoiceWithConfirm(t *testing.T) {
	s := newSample(t, nil)
	picked := -1
	ask := func() {
		c := NewChoice(s.root, "why is it hard to reach", []Answer{
			{Letter: 'b', Label: "behind something"}, {Letter: 'h', Label: "too high", Note: "over 2 m"},
		}, func(i int) tea.Cmd { picked = i; return nil })
		c.Confirm = true
		s.root.Push(c)
	}
	ask()
	s.sees("Round body", "why is it hard to reach", "> b  behind something", "over 2 m")
	s.keys("hx")
	s.sees("> h  too high")
	if picked >= 0 {
		t.Fatal("a letter answered without enter")
	}
	s.keys("<up><enter>")
	if picked != 0 {
		t.Errorf("picked %d, want 0", picked)
	}
	picked = -1
	ask()
	s.keys("<esc>")
	s.misses("hard to reach")
	if picked >= 0 {
		t.Error("esc answered")
	}
}

func TestWritesKeepTheirOrderAndQuitWaits(t *testing.T) {
	s := newSample(t, nil)
	var ran []int
	s.hold = true
	for i := range 3 {
		cmd := s.root.Write(Job{Op: "writing", Run: func() error { ran = append(ran, i); return nil }})
		if (cmd != nil) != (i == 0) {
			t.Errorf("write %d starts before the one ahead of it has ended", i)
		}
		s.run(cmd)
	}
	s.stays("q")
	s.release()
	if !slices.Equal(ran, []int{0, 1, 2}) {
		t.Errorf("ran %v", ran)
	}
	s.quits("")
}

func TestFailedWriteCallsQuitOffAndIsShown(t *testing.T) {
	s := newSample(t, nil)
	s.hold = true
	s.run(s.root.Write(Job{Op: "ticking DI resin", Run: func() error { return errors.New("book.db: in use by another program") }}))
	s.keys("q")
	s.release()
	s.stays("")
	s.sees("ticking DI resin: book.db: in use by another program")
	s.quits("q")
}

func TestPanicInACommandIsKeptForMain(t *testing.T) {
	s := newSample(t, nil)
	s.run(s.root.Write(Job{Op: "ticking", Run: func() error { panic("no such chore") }}))
	s.root.Fail(Guard("loading", func() error { panic("no such book") }))
	s.sees("loading: the program has a fault here: no such book")
	if got := s.root.Panics(); len(got) != 2 || !strings.Contains(string(got[0].Stack), "answer_test.go") {
		t.Errorf("panics kept: %v", got)
	}
}

func TestFaultOutranksAndStaysForAMoment(t *testing.T) {
	s := newSample(t, nil)
	id := s.root.Say("ticked; z undoes")
	s.sees("ticked; z undoes")
	s.root.Fail(errors.New("disk full"))
	s.root.Unsay(id)
	if s.root.Say("something else") != 0 {
		t.Error("a success covered a fault")
	}
	s.keys("jk")
	s.sees("disk full")
	s.keys("<esc>")
	s.misses("disk full")
	s.root.Fail(errors.New("disk full"))
	s.clock.now = s.clock.now.Add(2 * time.Second)
	s.keys("j")
	s.misses("disk full")
	id = s.root.Say("saved")
	s.root.Unsay(id)
	s.misses("saved")
}

func TestFormSheet(t *testing.T) {
	s := newSample(t, nil)
	var got form.Values
	fail, closed := errors.New("in use by another program"), false
	open := func() {
		s.root.Push(NewFormSheet(s.root, form.Spec{
			Title:  "water made",
			Fields: []form.Field{{Name: "amount", Label: "litres"}},
		}, func(v form.Values) Job {
			return Job{Op: "logging litres", Run: func() error {
				if fail != nil {
					return fail
				}
				got = v
				return nil
			}, Done: func(error) tea.Cmd { closed = true; return nil }}
		}))
	}
	open()
	s.keys("40<enter>")
	s.sees("Round body", "water made", "40", "not saved: logging litres: in use by another program")
	if closed {
		t.Error("a failed save counts as done")
	}
	fail = nil
	s.keys("5<enter>")
	s.misses("water made")
	if got["amount"] != "405" || !closed {
		t.Errorf("saved %v, closed %v", got, closed)
	}
	open()
	s.keys("7<esc>")
	s.sees("leave without saving?")
	s.keys("y")
	s.misses("water made")
	open()
	s.keys("<esc>")
	s.misses("water made")
}

// A fault longer than the line goes on below it, at the cost of the screen and not of
// what it says to do; in a window too low for all of it, it is cut with a mark.
func TestLongFaultIsReadToItsEnd(t *testing.T) {
	s := newSample(t, nil)
	long := "ticking DI resin: nothing was written to /home/kit/.local/share/wrasse/book.db: no space left on device; " +
		"make room on the disk or mend the folder, and try again"
	s.root.Fail(errors.New(long))
	shown := strings.Join(strings.Fields(s.screen()), " ")
	if !strings.Contains(shown, long) {
		t.Errorf("the fault is cut:\n%s", s.screen())
	}
	s.sees("Round body")
	for h := MinH; h < 30; h++ {
		for _, w := range []int{MinW, 60, 80, 200} {
			lines := strings.Split(s.root.Render(w, h), "\n")
			if len(lines) != h {
				t.Fatalf("%d x %d: %d lines", w, h, len(lines))
			}
			if all := strings.Join(lines, " "); !strings.Contains(all, "Round body") || !strings.Contains(all, "ticking DI resin") {
				t.Fatalf("%d x %d: body and fault are not both there:\n%s", w, h, strings.Join(lines, "\n"))
			}
		}
	}
	s.root.Fail(errors.New(strings.Repeat("very long ", 300)))
	if lines := strings.Split(s.root.Render(MinW, MinH), "\n"); len(lines) != MinH || !strings.Contains(s.root.Render(MinW, MinH), text.Ellipsis) {
		t.Errorf("a fault of any length: %d lines", len(lines))
	}
}
